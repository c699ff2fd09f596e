// Holds assets/schema/pack.schema.json, with a full validator (npm package ajv), against the same
// packs that the reader's tests use. Run: node tests/pack/schema.mjs
// Prints "ok NAME" or "not ok NAME" for each pack; the exit code is 1 when a verdict was wrong.
import { createRequire } from 'node:module';
import { readFileSync, readdirSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const top = join(dirname(fileURLToPath(import.meta.url)), '..', '..');
const third = process.env.KP_THIRD ?? join(top, 'build', 'third');
const require = createRequire(join(third, 'node', 'package.json'));
const Ajv = require('ajv/dist/2020.js').default;

const read = (path) => JSON.parse(readFileSync(join(top, path), 'utf8'));
const packs = (folder) => readdirSync(join(top, folder))
  .filter((name) => name.endsWith('.json')).sort().map((name) => join(folder, name));

// strictRequired is off: the members that only a removable part needs are declared one level up.
const ajv = new Ajv({ strict: true, strictRequired: false, allErrors: true });
const fits = ajv.compile(read('assets/schema/pack.schema.json'));

const golden = 'tests/golden/packs';
const shipped = readdirSync(join(top, 'assets/packs')).map((id) => `assets/packs/${id}/pack.json`);
const expected = [
  ...[`${golden}/tiny.json`, ...packs(`${golden}/good`), ...shipped].map((path) => [path, true]),
  // What only names or sense can tell is right in shape.
  ...[...packs(`${golden}/names`), ...packs(`${golden}/broken`)].map((path) => [path, true]),
  ...packs(`${golden}/shape`).map((path) => [path, false]),
];

let wrong = 0;
for (const [path, good] of expected) {
  const right = fits(read(path)) === good;
  console.log(`${right ? 'ok' : 'not ok'} the schema ${good ? 'accepts' : 'refuses'} ${path}`);
  if (!right) {
    wrong += 1;
    for (const error of fits.errors ?? []) console.log(`  ${error.instancePath} ${error.message}`);
  }
}
process.exit(wrong > 0 ? 1 : 0);
