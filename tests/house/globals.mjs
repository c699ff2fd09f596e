// Finds variables that outlive a call and can change: at namespace scope, static in a class, static
// in a function. It reads braces and statements, not C++, so it is a heuristic; it has to be good
// enough that nobody has to write code in a strange way to please it.

import { is_cpp, room_of } from './tree.mjs';

const kNotAVariable = /^(__extension__\s+)?(using|typedef|namespace|template|static_assert|friend|return|extern|public|private|protected|goto|case|default|requires|concept|else|break|continue|throw|delete|new)\b/;
const kTypeWord = /\b(class|struct|union)\b/;
const kFixed = /\b(const|constexpr|consteval)\b/;

/// What a '{' opens, judged by the words before it since the last statement.
function opens(head, outer) {
  const words = head.replace(/\b(alignas|decltype|noexcept)\s*\([^()]*\)/g, ' ').trim();
  if (/^(inline\s+)?namespace\b/.test(words) || /^extern\s*"/.test(words)) return 'namespace';
  if (/^(\[\[[^\]]*\]\]\s*)*(typedef\s+)?enum\b/.test(words)) return 'enum';
  const plain = words.replace(/^template\s*<.*?>\s*(?=(class|struct|union)\b)/s, '');
  if (kTypeWord.test(plain) && !/[()=]/.test(plain)) return 'type';
  if (outer === 'code' || outer === 'enum' || outer === 'value') return outer === 'code' ? 'code' : 'value';
  // At namespace or class scope: a parameter list makes it a function, anything else is a value.
  const before_value = words.replace(/=.*$/s, '');
  if (/\)\s*(const|noexcept|override|final|mutable|->.*|:.*|&|\s)*$/s.test(words) && /\(/.test(before_value)) {
    return 'code';
  }
  if (/\boperator\b/.test(words)) return 'code';
  return 'value';
}

function is_mutable_variable(statement, scope) {
  const words = statement.replace(/\[\[[^\]]*\]\]/g, ' ').trim();
  if (words === '' || words.startsWith('#') || kNotAVariable.test(words)) return false;
  const is_static = /^(inline\s+|thread_local\s+)*(static|thread_local)\b/.test(words);
  if (scope === 'code' && !is_static) return false;
  if (scope === 'type' && !/^(inline\s+)?static\b/.test(words)) return false;
  const head = words.split(/[={]/)[0];
  if (kFixed.test(head)) return /\bconst\b[^*]*\*\s*(?!const\b)\w+\s*$/.test(head) && !/constexpr/.test(head);
  if (/^(class|struct|union|enum)\b[^{]*$/.test(words)) return false;
  if (/\boperator\b/.test(head)) return false;
  // A parameter list before any value: a function, except for a static in a body.
  if (/\(/.test(head) && scope !== 'code') return false;
  return /[\w>*&\]]\s+[*&]*\w+(\s*\[[^\]]*\])*\s*(\(.*)?$/s.test(head.trim());
}

/// Yields { line, words } for each such variable in code whose comments and strings are blank.
export function* mutable_variables(code) {
  const scopes = ['namespace'];
  let text = '';
  let begun = 1;
  let line = 1;
  let round = 0;
  const fresh = () => { text = ''; };
  for (let i = 0; i < code.length; ++i) {
    const c = code[i];
    if (c === '#' && text.trim() === '') {
      // A line for the preprocessor, with the lines that go on from it.
      while (i < code.length && (code[i] !== '\n' || code[i - 1] === '\\')) {
        if (code[i] === '\n') line += 1;
        i += 1;
      }
      line += 1;
      continue;
    }
    if (c === '\n') line += 1;
    if (text.trim() === '' && /\S/.test(c)) begun = line;
    if (c === '(') round += 1;
    if (c === ')') round -= 1;
    const scope = scopes.at(-1);
    if (c === '{') {
      const kind = round > 0 ? (scope === 'code' ? 'code' : 'value') : opens(text, scope);
      scopes.push(kind);
      if (kind === 'namespace' || kind === 'type' || kind === 'enum') fresh();
      else if (kind === 'code' && scope !== 'code') fresh();
      else if (scope === 'code' && round === 0 && !/^\s*(static|thread_local)\b/.test(text)) fresh();
      else text += c;
      continue;
    }
    if (c === '}') {
      const kind = scopes.length > 1 ? scopes.pop() : 'namespace';
      const outer = scopes.at(-1);
      if (kind === 'code' && round === 0 && (outer === 'namespace' || outer === 'type' || outer === 'code')) {
        if (!/^\s*(static|thread_local)\b.*[={]/s.test(text) || outer !== 'code') fresh();
      }
      continue;
    }
    if (c === ';' && round === 0) {
      if (scope !== 'value' && scope !== 'enum' && is_mutable_variable(text, scope)) {
        yield { line: begun, words: text.trim().replace(/\s+/g, ' ').split(/[={(]/)[0].trim() };
      }
      fresh();
      continue;
    }
    if (c === ':' && scope === 'type' && /^\s*(public|private|protected)$/.test(text)) {
      fresh();
      continue;
    }
    if (scope !== 'value' && scope !== 'enum') text += c;
  }
}

export const global_rules = [{
  name: 'no variables that outlive a call and can change, outside platform',
  * find(files) {
    for (const { path, code } of files) {
      const room = room_of(path);
      if (!is_cpp(path) || !room || room.startsWith('platform/')) continue;
      for (const { line, words } of mutable_variables(code)) {
        yield {
          path, line, what: `${words} can change and belongs to nobody`,
          why: 'two jobs, two tests or two threads would share it, and a replay would not repeat it',
          remedy: 'make it constexpr or const, or a member of the state that is passed in',
        };
      }
    }
  },
}];
