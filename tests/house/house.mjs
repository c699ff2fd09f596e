// The house test: the rules of DEVELOPERS.md that a machine can check.
//   node tests/house/house.mjs [--root FOLDER] [--built compile_commands.json]
// Each finding says where, what, why and what to do. With --built it also knows what was compiled.

import { existsSync, readFileSync } from 'node:fs';
import { dirname, relative, resolve, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import { arrow_rules } from './arrows.mjs';
import { global_rules } from './globals.mjs';
import { shape_rules } from './shape.mjs';
import { read_tree } from './tree.mjs';
import { word_rules } from './words.mjs';

export const rules = [...arrow_rules, ...word_rules, ...global_rules, ...shape_rules];

/// The sources that a build compiles, as paths from the top of the tree.
export function built_files(top, commands) {
  return new Set(commands.map(({ directory, file }) => relative(top, resolve(directory, file)).split(sep).join('/')));
}

/// All findings of one rule, each a { path, line, what, why, remedy }.
export const findings = (rule, files, facts) => [...rule.find(files, facts)];

export const finding_text = ({ path, line, what, why, remedy }) => `${path}:${line}: ${what}. Because ${why}. Remedy: ${remedy}.`;

function main(words) {
  const value = (name) => (words.includes(name) ? words[words.indexOf(name) + 1] : undefined);
  const top = resolve(value('--root') ?? dirname(dirname(dirname(fileURLToPath(import.meta.url)))));
  const commands = value('--built');
  if (commands && !existsSync(commands)) {
    console.log(`not ok house: ${commands} is missing`);
    return 1;
  }
  const facts = { built: commands ? built_files(top, JSON.parse(readFileSync(commands, 'utf8'))) : null };
  const files = read_tree(top);
  let bad = 0;
  for (const rule of rules) {
    const found = findings(rule, files, facts);
    console.log(`${found.length ? 'not ok' : 'ok'} ${rule.name}`);
    for (const finding of found) console.log(finding_text(finding));
    bad += found.length;
  }
  if (bad > 0) console.log(`${bad} findings`);
  return bad > 0 ? 1 : 0;
}

if (process.argv[1] && resolve(process.argv[1]) === fileURLToPath(import.meta.url)) {
  process.exitCode = main(process.argv.slice(2));
}
