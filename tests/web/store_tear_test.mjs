// A browser that is killed in the middle of a record of its own files. Chromium keeps IndexedDB in
// LevelDB, whose log is records of a head of 7 bytes (sum 4, length 2, type 1) and a body, in blocks
// of 32768 bytes (LevelDB, doc/log_format.md). It writes head and body in two calls; a kill between
// them is rare, so it is made here: the body of the last record, which was not told durable yet, is
// cut off after a kill. The browser opens such a log, writes on behind the torn record, and throws
// everything away at the start after that. (Seen once by chance in store_kill: 30 lines were told
// durable, 0 were there.)

import { readdirSync, readFileSync, truncateSync } from 'node:fs';
import { join } from 'node:path';
import { failures, must, open, serve, test, Victim } from './store_host.mjs';

const [kBlock, kHead] = [32768, 7];
const server = await serve();

/// The newest log of the first folder `*.leveldb` of IndexedDB under `folder`.
function log_under(folder) {
  const inside = readdirSync(folder, { recursive: true }).map(String);
  const log = inside.filter((name) => /leveldb\/\d+\.log$/.test(name)).sort().at(-1);
  return log && join(folder, log);
}

/// Cuts the body of the last record off. The record holds nothing that was told durable: after a
/// line's own records come two or more that only count.
function tear(log) {
  const bytes = readFileSync(log);
  let [at, last] = [0, -1];
  while (at + kHead <= bytes.length && bytes[at + 6] !== 0) {
    last = at;
    at += kHead + bytes.readUInt16LE(at + 4);
    if (kBlock - at % kBlock < kHead) at += kBlock - at % kBlock;
  }
  must(last >= 0, `${log} holds no record`);
  truncateSync(log, last + kHead);
}

/// What the browser itself says about its files, on the console.
const listen = () => {
  const { open: open_base } = IDBFactory.prototype;
  IDBFactory.prototype.open = function (...words) {
    const opening = open_base.apply(this, words);
    opening.addEventListener('upgradeneeded', (event) => console.log(`made, loss ${event.dataLoss}`));
    return opening;
  };
};

/// One life of a browser: opens, says what is there, writes `more` lines, is killed.
async function live(victim, more) {
  const { line, printed } = await open(await victim.start(), server.address, more > 0 ? 'write' : 'hold', 'tear', listen);
  const there = Number((await line(/^lines \d+ whole/)).split(' ')[1]);
  const copies = (await line(/^copies/)).split(' ')[1];
  if (more > 0) await line(new RegExp(`^durable ${there + more}$`));
  await victim.kill();
  const told = printed.filter((text) => /^durable /.test(text)).map((text) => Number(text.split(' ')[1]));
  return { there, told: Math.max(there, ...told), copies, lost: printed.includes('made, loss total') };
}

const kPlaces = {
  first: (profile) => log_under(join(profile, 'Default', 'IndexedDB')),
  copy: (profile) => log_under(join(profile, 'Default', 'WebStorage')),
};

for (const torn of [['first', null], ['copy', null], ['first', 'copy'], ['copy', 'first', 'copy']]) {
  await test(`torn by a kill: ${torn.map((place) => place ?? 'none').join(', ')}; every line told durable is there`, async () => {
    const victim = new Victim();
    try {
      let told = 0;
      let lost = false;
      for (const place of [...torn, null]) {
        const life = await live(victim, 4);
        must(life.there >= told, `${told} lines were told durable, ${life.there} are there`);
        must(life.copies === '2', `${life.copies} copies`);
        told = life.told;
        lost ||= life.lost;
        if (place) tear(kPlaces[place](victim.profile));
      }
      const life = await live(victim, 0);
      must(life.there >= told, `${told} lines were told durable, ${life.there} are there`);
      // Without this the test would show nothing: the browser did throw one of the two away.
      must(lost || life.lost, 'the browser lost nothing, so nothing had to be made good');
    } finally {
      await victim.remove();
    }
  });
}

await server.close();
process.exit(failures() > 0 ? 1 : 0);
