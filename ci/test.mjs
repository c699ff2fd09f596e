// Everything that ci/test does after the set-up: two builds and all that can be checked with them.
// While WebAssembly is being built on what the compiler leaves free, the native tests run.

import { existsSync, mkdirSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { Tally, run, tail } from './tally.mjs';

const top = dirname(dirname(fileURLToPath(import.meta.url)));
const fast = process.argv.includes('--fast');
const third = process.env.KP_THIRD ?? join(top, 'build', 'third');
const tally = new Tally();
const began = Date.now();
const minutes = () => `${((Date.now() - began) / 60000).toFixed(1)} min`;

/// Configures and builds a preset, or one target of it. True if that went well; if not, it counts as
/// one failure.
async function build(preset, target = 'all') {
  const configure = ['cmake', '--preset', preset, `-DKP_THIRD=${third}`];
  const compile = ['cmake', '--build', '--preset', preset, '--target', target, '--', '-k', '0'];
  for (const command of [configure, compile]) {
    const { output, ended } = await run(command, { cwd: top, seconds: 3600 });
    mkdirSync(join(top, 'build'), { recursive: true });
    writeFileSync(join(top, 'build', `${preset}-build.log`), output);
    if (ended.code !== 0) {
      tally.add(`build of ${preset}, ${target}`, compiler_words(output), ended);
      return false;
    }
  }
  console.log(`        built: ${preset}, ${target}, after ${minutes()}`);
  return true;
}

/// What a build printed without the lines of commands that went well.
function compiler_words(output) {
  return output.split('\n').filter((line) => !/^\[\d+\/\d+\] /.test(line)).join('\n');
}

/// The tests that a build tree knows, as ctest would start them.
async function listed(preset) {
  const folder = join(top, 'build', preset);
  const { output, ended } = await run(['ctest', '--test-dir', folder, '--show-only=json-v1']);
  if (ended.code !== 0) {
    tally.add(`list of the tests of ${preset}`, output, ended);
    return [];
  }
  return JSON.parse(output.slice(output.indexOf('{'))).tests.map((test) => {
    const property = (name) => (test.properties ?? []).find((p) => p.name === name)?.value;
    return {
      name: `${preset} ${test.name}`,
      command: test.command,
      cwd: property('WORKING_DIRECTORY') ?? folder,
      seconds: property('TIMEOUT') ?? 2400,   // while the other build takes its share of the machine
      env: Object.fromEntries((property('ENVIRONMENT') ?? []).map((pair) => {
        const at = pair.indexOf('=');
        return [pair.slice(0, at), pair.slice(at + 1)];
      })),
    };
  });
}

/// Runs tests, `wide` of them at a time.
async function run_all(tests, wide = 1) {
  const left = [...tests];
  const one_after_another = async () => {
    for (let test = left.shift(); test; test = left.shift()) {
      const { output, ended } = test.command
        ? await run(test.command, test)
        : { output: 'the program was not built\n', ended: { code: 127 } };
      tally.add(test.name, output, ended);
    }
  };
  await Promise.all(Array.from({ length: wide }, one_after_another));
}

/// Each shipped pack through the checker that a pack's author uses.
async function check_packs() {
  const program = join(top, 'build', 'native', 'kickplate');
  const packs = join(top, 'assets', 'packs');
  const found = existsSync(packs)
    ? readdirSync(packs).filter((name) => existsSync(join(packs, name, 'pack.json'))) : [];
  if (found.length === 0) tally.skip('packs', 'assets/packs holds none');
  await run_all(found.map((name) => ({
    name: `pack ${name}`, command: [program, 'check', join(packs, name, 'pack.json')], cwd: top,
  })));
}

/// The published schema, by a full validator, against the packs that the reader's tests use.
async function check_schema() {
  await run_all([{
    name: 'schema', command: [process.execPath, join(top, 'tests', 'pack', 'schema.mjs')],
    cwd: top, env: { KP_THIRD: third }, seconds: 120,
  }]);
}

/// The page in a real browser. Pictures that the scripts take land in build/shots.
async function browse() {
  const folder = join(top, 'tests', 'web');
  const scripts = existsSync(folder)
    ? readdirSync(folder).filter((name) => name.endsWith('_test.mjs')).sort() : [];
  if (scripts.length === 0) tally.skip('browser', 'tests/web holds no script');
  const env = {
    KP_SITE: join(top, 'build', 'web', 'site'),
    KP_THIRD: third,
    KP_SHOTS: join(top, 'build', 'shots'),
  };
  mkdirSync(env.KP_SHOTS, { recursive: true });
  await run_all(scripts.map((name) => ({
    name: `browser ${name.replace(/_test\.mjs$/, '')}`,
    command: [process.execPath, join(folder, name)], cwd: top, env, seconds: 1800,
  })));
}

/// Names and wording that must not stand in the project; the tool is not part of it.
async function check_wording() {
  const tool = join(top, '..', 'shared', 'tools', 'wording');
  if (!existsSync(tool)) return tally.skip('wording', `${relative(top, tool)} is not here`);
  const { output, ended } = await run([tool, top], { cwd: top });
  const clean = ended.code === 0 && output.trim() === '';
  tally.add('wording', output, { ...ended, code: clean ? 0 : ended.code || 1 });
}

async function native_part() {
  await run_all(await listed('native'));
  if (!fast) {
    await check_packs();
    await check_schema();
  }
}

/// The browser has the machine to itself: beside a compiler its disk can be late by many seconds.
async function web_part() {
  if (!await build('web', 'pages')) return;
  await browse();
  if (await build('web')) await run_all(await listed('web'));
}

rmSync(join(top, 'build', 'shots'), { recursive: true, force: true });
const native_built = await build('native');
const parts = [];
if (native_built) parts.push(native_part());
if (!fast) parts.push(web_part(), check_wording());
await Promise.all(parts);

console.log('');
if (tally.failures.length > 0) console.log(`Failed: ${tally.failures.join('; ')}`);
console.log(`This took ${minutes()}.`);
console.log(tally.line());
process.exit(tally.failed > 0 ? 1 : 0);
