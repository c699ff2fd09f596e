// Puts the site together: page, scripts in one file, program, content in one file, service worker
// with the hash of each file, and .br and .gz beside what compresses.
//   node web/site.mjs --source TREE --program FOLDER --out FOLDER

import { createHash } from 'node:crypto';
import { copyFileSync, existsSync, mkdirSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { join, relative, sep } from 'node:path';
import { brotliCompressSync, constants, gzipSync } from 'node:zlib';

const option = (name) => process.argv[process.argv.indexOf(name) + 1];
const source = option('--source');
const program = option('--program');
const out = option('--out');

const hash = (bytes) => createHash('sha256').update(bytes).digest('hex');

function files_below(folder, wanted) {
  if (!existsSync(folder)) return [];
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && wanted(entry.name))
    .map((entry) => join(entry.parentPath ?? entry.path, entry.name)).sort();
}

/// "@ name size", a line end, the bytes, a line end.
function content() {
  const assets = join(source, 'assets');
  const wanted = ['packs', 'demo', 'strings', 'parts'].flatMap((folder) =>
    files_below(join(assets, folder), (name) => /\.(json|svg)$/.test(name)));
  return Buffer.concat(wanted.flatMap((file) => {
    const text = readFileSync(file, 'utf8');
    // A shipped pack has no faults whose line a person would look for: its blanks stay at home.
    const bytes = Buffer.from(file.endsWith('.json') ? JSON.stringify(JSON.parse(text))
      : text.replace(/<!--[^]*?-->/g, '').replace(/>\s+</g, '><').trim());
    const name = relative(assets, file).split(sep).join('/');
    return [Buffer.from(`@ ${name} ${bytes.length}\n`), bytes, Buffer.from('\n')];
  }));
}

const scripts = ['notice', 'loop', 'share', 'fields', 'form', 'touch', 'mirror', 'input', 'surface', 'page'];
const page = Buffer.from(scripts.map((name) =>
  readFileSync(join(source, 'web', `${name}.js`), 'utf8').replace(/^\s*\/\/.*\n/gm, '')
    .replace(/^ +/gm, '')).join('\n'));

const made = new Map([
  ['page-all.js', page],
  ['content.txt', content()],
  ['kickplate.js', readFileSync(join(program, 'kickplate.js'))],
  ['kickplate.wasm', readFileSync(join(program, 'kickplate.wasm'))],
]);
for (const name of ['style.css', 'manifest.webmanifest', 'icon.svg', 'icon-180.png', 'icon-512.png', 'index.html']) {
  const file = join(source, 'web', name);
  if (existsSync(file)) made.set(name, readFileSync(file));
}
const build = hash(Buffer.concat([...made.values()])).slice(0, 12);
made.set('index.html', Buffer.from(made.get('index.html').toString().replaceAll('@BUILD@', build)));

const hashes = Object.fromEntries([...made].map(([name, bytes]) => [name, hash(bytes)]));
made.set('sw.js', Buffer.from(readFileSync(join(source, 'web', 'sw.js'), 'utf8')
  .replace('@BUILD@ and @FILES@ come', 'Both lists come')
  .replaceAll('@BUILD@', build).replaceAll('@FILES@', JSON.stringify(hashes))));

mkdirSync(out, { recursive: true });
const sizes = {};
for (const [name, bytes] of made) {
  const file = join(out, name);
  writeFileSync(file, bytes);
  for (const ending of ['.br', '.gz']) rmSync(file + ending, { force: true });
  if (/\.(png)$/.test(name)) {
    sizes[name] = { bytes: bytes.length, gz: bytes.length, br: bytes.length };
    continue;
  }
  const br = brotliCompressSync(bytes, { params: {
    [constants.BROTLI_PARAM_QUALITY]: 11, [constants.BROTLI_PARAM_SIZE_HINT]: bytes.length,
    [constants.BROTLI_PARAM_LGWIN]: 22 } });
  const gz = gzipSync(bytes, { level: 9 });
  writeFileSync(`${file}.br`, br);
  writeFileSync(`${file}.gz`, gz);
  sizes[name] = { bytes: bytes.length, gz: gz.length, br: br.length };
}
// What a first visit loads: the icons are fetched when the tool is installed.
const first = ['index.html', 'style.css', 'page-all.js', 'kickplate.js', 'kickplate.wasm', 'content.txt'];
const sum = (kind) => first.reduce((total, name) => total + sizes[name][kind], 0);
const report = { build, first_load: { bytes: sum('bytes'), gz: sum('gz'), br: sum('br') }, files: sizes };
writeFileSync(join(out, '..', 'sizes.json'), `${JSON.stringify(report, null, 2)}\n`);
console.log(`first load ${sum('br')} bytes in Brotli, ${sum('gz')} in gzip; build ${build}`);
