// Sizes, places and completeness: what a reader can rely on without looking.

import { hits, is_cpp, room_of } from './tree.mjs';

const kTop = ['CMakeLists.txt', 'CMakePresets.json', 'README.md', 'DEVELOPERS.md', 'src', 'web', 'assets', 'tests', 'ci'];

/// Longest allowed file: [pattern of the path, lines, what it is].
const kSizes = [
  [/^src\/.*\.hpp$/, 200, 'a header'],
  [/^tests\/.*\.hpp$/, 400, 'a header of the tests, which holds code'],
  [/^(src|tests)\/.*\.cpp$/, 400, 'a source'],
  [/^(web|tests|ci)\/.*\.m?js$/, 199, 'a script'],
];

// Spelled in two pieces, so that this file does not find itself.
const kMachinePath = new RegExp(`(^|[\\s"'=(:])/(${['work', 'tmp', 'home', 'root', 'Users', 'mnt'].join('|')})/[\\w.]|[A-Z]:\\\\\\\\?Users`);

export const shape_rules = [
  {
    name: 'the top of the tree holds only what the design names',
    * find(files) {
      const seen = new Set();
      for (const { path } of files) {
        const name = path.split('/')[0];
        if (kTop.includes(name) || name.startsWith('.') || seen.has(name)) continue;
        seen.add(name);
        yield {
          path: name, line: 1, what: `${name} stands at the top`,
          why: 'the top is the map: who opens the project must know each name in it',
          remedy: 'move it into src, web, assets, tests or ci',
        };
      }
    },
  },
  {
    name: 'files are short enough to be read at once',
    * find(files) {
      for (const { path, lines } of files) {
        for (const [pattern, most, kind] of kSizes) {
          if (!pattern.test(path) || lines.length <= most || /\/\/ table:/.test(lines[0] ?? '')) continue;
          yield {
            path, line: most + 1, what: `${lines.length} lines, ${kind} has at most ${most}`,
            why: 'a file has one subject and is read in one go',
            remedy: 'split it by subject; a table of data says "// table: of what" in its first line',
          };
        }
      }
    },
  },
  {
    name: 'headers are guarded by #pragma once',
    * find(files) {
      for (const { path, code } of files) {
        if (!/^(src|tests)\/.*\.hpp$/.test(path) || /^\s*#\s*pragma\s+once/m.test(code)) continue;
        yield {
          path, line: 1, what: 'no #pragma once',
          why: 'a header that is included twice must be harmless', remedy: 'put it in the first line',
        };
      }
    },
  },
  {
    name: 'no using namespace in headers',
    * find(files) {
      for (const { path, code } of files) {
        if (!/^src\/.*\.hpp$/.test(path)) continue;
        for (const { line, word } of hits(code, /\busing\s+namespace\s+[\w:]+/)) {
          yield {
            path, line, what: word, why: 'it changes the meaning of names in every file that includes it',
            remedy: 'name what is used',
          };
        }
      }
    },
  },
  {
    name: 'every room with sources has tests',
    * find(files) {
      const has = (folder) => files.some(({ path }) => path.startsWith(`tests/${folder}/`)
        && /_test\.(cpp|mjs)$/.test(path));
      const rooms = new Map();
      for (const { path } of files) {
        if (path.endsWith('.cpp') && room_of(path) && !rooms.has(room_of(path))) rooms.set(room_of(path), path);
      }
      for (const [room, path] of rooms) {
        // The web platform runs nowhere but in a page.
        if (has(room) || (room === 'platform/web' && has('web'))) continue;
        yield {
          path, line: 1, what: `src/${room} has no tests in tests/${room}`,
          why: 'what is not tested is not known to work',
          remedy: `write tests/${room}/<subject>_test.cpp`,
        };
      }
    },
  },
  {
    name: 'every source and every test is in the build',
    * find(files, { built }) {
      if (!built) return;
      for (const { path, code } of files) {
        if (!path.endsWith('.cpp') || built.has(path)) continue;
        const is_test = /^tests\//.test(path) && /\b(TEST_CASE|SUBCASE|TEST_CASE_TEMPLATE)\w*\s*\(/.test(code);
        const is_source = /^src\//.test(path) && room_of(path) !== 'platform/web';
        if (!is_test && !is_source) continue;
        yield {
          path, line: 1, what: 'no target compiles it',
          why: 'a test that is not built passes for ever',
          remedy: is_test ? 'name it <subject>_test.cpp in a folder that mirrors src' : 'give its room a kp_layer line in CMakeLists.txt',
        };
      }
    },
  },
  {
    name: 'no test is commented out or switched off',
    * find(files) {
      for (const { path, text, code } of files) {
        if (!/^tests\/.*\.cpp$/.test(path)) continue;
        for (const { line } of hits(text, /^\s*(\/\/|\/\*)\s*(TEST_CASE|CHECK|REQUIRE)\w*\s*\(/)) {
          yield {
            path, line, what: 'a check stands in a comment', why: 'nobody sees that it is missing',
            remedy: 'mend it, or delete it',
          };
        }
        for (const { line, word } of hits(code, /doctest::(skip\(\s*(true)?\s*\)|may_fail|should_fail)|^\s*#\s*if\s+0\b/)) {
          yield {
            path, line, what: `${word} switches a check off`, why: 'a test that cannot fail tests nothing',
            remedy: 'mend what it tests; skip only by a condition on the outside, and say so',
          };
        }
      }
    },
  },
  {
    name: 'no paths of one machine',
    * find(files) {
      for (const { path, text } of files) {
        for (const { line, word } of hits(text, kMachinePath)) {
          yield {
            path, line, what: `${word} is a path of one machine`,
            why: 'a clone in another place must build and pass',
            remedy: 'start from the source or the build folder, or take the path as an argument',
          };
        }
      }
    },
  },
];
