// Words that may stand only in some rooms: what one platform lacks, what the core must not know,
// and what the compilers of both targets do not share.

import { hits, is_cpp, room_of } from './tree.mjs';

const kAnywhere = () => false;
const in_rooms = (...rooms) => (room) => rooms.includes(room);
const in_platform = (room) => room.startsWith('platform/');

// Headers of POSIX that a portable source could be tempted to use.
const kPosix = /#\s*include\s*<(unistd|fcntl|pthread|dirent|poll|pwd|signal|termios|dlfcn|semaphore|spawn|netdb|sys\/\w+|netinet\/\w+|arpa\/\w+)\.h>/;

/// `may(room, path)` says where the word is at home; it is searched for in src only.
const kWords = [
  {
    name: 'the web platform is known only to platform/web',
    word: /__EMSCRIPTEN__|\bEMSCRIPTEN\b|\bemscripten(\.h|\/|_\w+)|\bEM_(JS|ASM\w*|ASYNC_JS|BOOL)\b/,
    may: in_rooms('platform/web'),
    why: 'a branch on the platform inside a function is tested on one platform only',
    remedy: 'put it behind an interface of port, with a whole file for each platform',
  },
  {
    name: 'windows and POSIX are known only to platform/native and cli',
    word: new RegExp(`${kPosix.source}|\\bglfw[A-Z]\\w+|\\bGLFW_?\\w*`),
    may: in_rooms('platform/native', 'cli'),
    why: 'the same source must build as WebAssembly',
    remedy: 'put it behind an interface of port',
  },
  {
    name: 'files and threads are known only to platform/native and cli',
    word: /std::filesystem\b|#\s*include\s*<(filesystem|thread|mutex|condition_variable|future|fstream)>|std::(thread|mutex|async|[io]?fstream)\b|\b(fopen|freopen|tmpfile)\s*\(/,
    may: in_rooms('platform/native', 'cli'),
    why: 'the core is pure: bytes and names come in as arguments, and the page has no threads',
    remedy: 'take the bytes as an argument',
  },
  {
    name: 'no clock and no chance below platform',
    word: /\b(system_clock|steady_clock|high_resolution_clock|random_device)\b|\bstd::(time|clock|rand|getenv)\s*\(|(?<![\w:.>])((time|localtime|localtime_r|gettimeofday)\s*\(\s*(NULL|nullptr|0\)|&)|(s?rand|getenv)\s*\()/,
    may: in_platform,
    why: 'the same journal must give the same state on every day and on every machine',
    remedy: 'take the time, the id or the seed as an argument',
  },
  {
    name: 'no exceptions outside data/parse.cpp, cli and platform',
    word: /\bthrow\b|\btry\s*\{|\bcatch\s*\(/,
    may: (room, path) => in_platform(room) || room === 'cli' || path === 'src/data/parse.cpp',
    why: 'the program is built without exceptions, so a throw ends it',
    remedy: 'return Result<T>, or Findings where all faults are wanted',
  },
  {
    name: 'no iostream, locale, regex, format, ranges or source_location',
    word: /#\s*include\s*<(iostream|ostream|istream|sstream|iomanip|locale|codecvt|regex|format|ranges|source_location)>|std::(cout|cerr|clog|cin|locale|regex|format|ranges|views|source_location|stringstream|ostringstream|istringstream|setlocale)\b/,
    may: (room) => room === 'cli' || room === 'platform/native',
    why: 'streams and locales double the size of the page and change with the machine; the rest is missing from one compiler',
    remedy: 'use base/text.hpp, printf into a buffer, std::sort and std::find_if',
    never: /#\s*include\s*<(regex|format|ranges|source_location)>|std::(regex|format|ranges|views|source_location)\b/,
  },
  {
    name: 'no numbers through from_chars or to_chars of double, no bit_cast',
    word: /std::bit_cast\b|std::jthread\b|std::(from|to)_chars\s*\([^;]*\b(double|float)\b/,
    may: kAnywhere,
    why: 'the compiler for the web lacks them',
    remedy: 'use base/text.hpp for numbers, std::memcpy for bits',
  },
];

export const word_rules = kWords.map(({ name, word, may, why, remedy, never }) => ({
  name,
  * find(files) {
    for (const { path, bare, code } of files) {
      const room = room_of(path);
      if (!is_cpp(path) || !room) continue;
      const wanted = may(room, path) ? never : word;
      if (!wanted) continue;
      const seen = new Set();
      // Includes stand in quotes now and then, so they are looked for before strings are blanked.
      const includes = bare.replace(/^(?!\s*#\s*include).*$/gm, '');
      for (const text of [code, includes]) {
        for (const { line, word: found } of hits(text, wanted)) {
          if (seen.has(line)) continue;
          seen.add(line);
          yield { path, line, what: `${found} in ${room}`, why, remedy };
        }
      }
    }
  },
}));
