// The project's files, read once, and C++ with its comments and strings blanked out so that a rule
// does not trip over prose. Blanking keeps every line where it was.

import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { join, relative, sep } from 'node:path';

const kSkipped = new Set(['build', 'node_modules', '.git', '.cache']);
const kText = /\.(cpp|hpp|c|h|mjs|js|css|html|json|md|cmake|txt|svg|webmanifest|sh)$|\/(setup|start|test|run)$/;

/// Blanks comments (keep_strings) and also the insides of strings and characters.
export function blank(text, keep_strings = false) {
  let out = '';
  let i = 0;
  const hide = (end) => {
    out += text.slice(i, end).replace(/[^\n]/g, ' ');
    i = end;
  };
  while (i < text.length) {
    const two = text.slice(i, i + 2);
    if (two === '//') {
      const end = text.indexOf('\n', i);
      hide(end < 0 ? text.length : end);
    } else if (two === '/*') {
      const end = text.indexOf('*/', i + 2);
      hide(end < 0 ? text.length : end + 2);
    } else if (two === 'R"' && !/\w/.test(text[i - 1] ?? ' ')) {
      const mark = /^R"([^(]*)\(/.exec(text.slice(i, i + 24))?.[1] ?? '';
      const end = text.indexOf(`)${mark}"`, i);
      const stop = end < 0 ? text.length : end + mark.length + 2;
      if (keep_strings) { out += text.slice(i, stop); i = stop; } else hide(stop);
    } else if (text[i] === '"' || (text[i] === "'" && !/\w/.test(text[i - 1] ?? ' '))) {
      const quote = text[i];
      let end = i + 1;
      while (end < text.length && text[end] !== quote && text[end] !== '\n') {
        end += text[end] === '\\' ? 2 : 1;
      }
      if (keep_strings) {
        out += text.slice(i, end + 1);
        i = end + 1;
      } else {
        out += quote;
        i += 1;
        hide(end);
        if (text[i] === quote) { out += quote; i += 1; }
      }
    } else {
      out += text[i];
      i += 1;
    }
  }
  return out;
}

/// Every text file below `top`: { path, text, lines } with `code` (no comments, no strings) and
/// `bare` (no comments) for C++. Paths use '/'.
export function read_tree(top) {
  const files = [];
  const walk = (folder) => {
    for (const name of readdirSync(folder).sort()) {
      if (kSkipped.has(name)) continue;
      const full = join(folder, name);
      if (statSync(full).isDirectory()) {
        walk(full);
        continue;
      }
      const path = relative(top, full).split(sep).join('/');
      const file = { path, text: '', lines: [], code: '', bare: '' };
      if (kText.test(`/${path}`)) {
        file.text = readFileSync(full, 'utf8');
        file.lines = file.text.replace(/\n$/, '').split('\n');
        if (/\.(cpp|hpp|c|h)$/.test(path)) {
          file.code = blank(file.text);
          file.bare = blank(file.text, true);
        }
      }
      files.push(file);
    }
  };
  walk(top);
  return files;
}

/// What stands at the top of the tree.
export function top_names(top) {
  return readdirSync(top).filter((name) => existsSync(join(top, name)) && !kSkipped.has(name));
}

/// src/<room>/..., or src/platform/<kind>/... : the room as the table of arrows names it.
export function room_of(path) {
  const words = path.split('/');
  if (words[0] !== 'src' || words.length < 3) return '';
  return words[1] === 'platform' ? words.slice(1, 3).join('/') : words[1];
}

export const is_cpp = (path) => /\.(cpp|hpp)$/.test(path);

/// Line numbers (from 1) at which `pattern` is found in `text`, with what was found.
export function* hits(text, pattern) {
  const lines = text.split('\n');
  for (let i = 0; i < lines.length; ++i) {
    const found = pattern.exec(lines[i]);
    if (found) yield { line: i + 1, word: found[0].trim(), groups: found };
  }
}
