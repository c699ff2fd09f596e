// The browser's store in a real browser: the contract that every store keeps, and what phones do to
// a page: full disks, cut connections. (Second windows: store_windows_test.mjs. A killed browser:
// store_kill_test.mjs and store_tear_test.mjs.)

import { failures, launch, must, open, serve, test } from './store_host.mjs';

const [server, browser] = [await serve(), await launch()];

/// A page of a fresh context, with the database `name`.
async function fresh(what, name, before) {
  const context = await browser.newContext();
  return { context, ...await open(context, server.address, what, name, before) };
}

async function contract(before) {
  const { context, printed, line } = await fresh('contract', 'contract', before);
  await line(/^done \d+/, { seconds: 120 });
  const bad = printed.filter((text) => !/^(ok|done) /.test(text));
  must(bad.length === 0, bad.slice(0, 5).join('\n'));
  must(printed.length > 300, `only ${printed.length} answers`);
  await context.close();
}

await test('the contract of a store holds in the browser', () => contract());

await test('it holds without locks of the browser', () => contract(() => {
  Object.defineProperty(Navigator.prototype, 'locks', { value: undefined });
}));

await test('each transaction is asked to be on the disk before it is complete', async () => {
  const { context, page, line, write } = await fresh('hold', 'strict', () => {
    window.durabilities = [];
    const { transaction } = IDBDatabase.prototype;
    IDBDatabase.prototype.transaction = function (...words) {
      const made = transaction.apply(this, words);
      if (made.mode === 'readwrite') window.durabilities.push(made.durability);
      return made;
    };
  });
  await line(/^lines 0 whole/);
  must(await write() === 'durable 1', 'not written');
  const seen = await page.evaluate(() => window.durabilities);
  must(seen.length > 0 && seen.every((each) => each === 'strict'), `durability was ${seen}`);
  await context.close();
});

await test('a full disk is told, nothing is lost, and it goes on when there is room', async () => {
  // A browser remembers for a while how much room there was, so the disk is small from the start.
  const context = await browser.newContext();
  const blank = await context.newPage();
  await blank.goto(`${server.address}favicon.ico`);
  const devtools = await context.newCDPSession(blank);
  const { origin } = new URL(server.address);
  await devtools.send('Storage.overrideQuotaForOrigin', { origin, quotaSize: 200000 });
  const { page, printed, line, write } = await open(context, server.address, 'hold', 'full');
  await line(/^lines 0 whole/);
  must(await write() === 'durable 1', 'a short line did not fit');
  const told = await write(1000000);
  must(told.startsWith('failed full there is no room left to save.'), told);
  await devtools.send('Storage.overrideQuotaForOrigin', { origin });
  must(await write(1000000) === 'durable 2', 'it did not go on');
  const from = printed.length;
  await page.reload();
  await line(/^lines 2 whole/, { from });
  await context.close();
});

await test('a connection that the browser cuts is opened again', async () => {
  const { context, page, line, write } = await fresh('hold', 'cut', () => {
    window.bases = [];
    const { open: open_base } = IDBFactory.prototype;
    IDBFactory.prototype.open = function (...words) {
      const opening = open_base.apply(this, words);
      opening.addEventListener('success', () => window.bases.push(opening.result));
      return opening;
    };
  });
  await line(/^lines 0 whole/);
  for (let round = 1; round <= 3; ++round) {
    await page.evaluate(() => window.bases.forEach((base) => base.close()));
    must(await write() === `durable ${round}`, 'not written');
  }
  // Each time two: the lines and their copy.
  must(await page.evaluate(() => window.bases.length) === 8, 'it was not opened again');
  await context.close();
});

await test('a page that is put aside in the middle of a write loses nothing and goes on later', async () => {
  const { context, page, printed, line, write } = await fresh('hold', 'aside');
  await line(/^lines 0 whole/);
  for (const [number, event] of ['pagehide', 'pageshow', 'pagehide'].entries()) {
    const from = printed.length;
    await page.evaluate((name) => {
      Module._store_page_write(0);
      setTimeout(() => { window.dispatchEvent(new PageTransitionEvent(name, { persisted: true })); }, 0);
    }, event);
    must(await line(/^(durable|failed)/, { from }) === `durable ${number + 1}`, `not written around ${event}`);
  }
  must(await write() === 'durable 4', 'it did not go on');
  await context.close();
});

await test('a transaction that breaks off, or whose end is not told, is made good, once', async () => {
  const { context, page, printed, line, write } = await fresh('hold', 'break', () => {
    window.breaks = 0;
    window.swallows = 0;
    const { add } = IDBObjectStore.prototype;
    IDBObjectStore.prototype.add = function (...words) {
      const request = add.apply(this, words);
      if (window.breaks-- > 0) request.addEventListener('success', () => this.transaction.abort());
      return request;
    };
    Object.defineProperty(IDBTransaction.prototype, 'oncomplete', {
      set(told) { if (this.mode !== 'readwrite' || window.swallows-- <= 0) this.addEventListener('complete', told); },
    });
  });
  await line(/^lines 0 whole/);
  await page.evaluate(() => { window.breaks = 2; });
  must(await write() === 'durable 1', 'not written after two breaks');
  await page.evaluate(() => { window.breaks = 3; });
  const told = await write();
  must(told.startsWith('failed refused this device does not save'), told);
  await page.evaluate(() => { window.breaks = 0; window.swallows = 1; });
  must(await write() === 'durable 2', 'not told after a lost answer');
  const from = printed.length;
  await page.reload();
  await line(/^lines 2 whole/, { from });
  await context.close();
});

await test('a browser whose store never answers is told of within four seconds', async () => {
  const { context, line } = await fresh('hold', 'dead', () => { IDBFactory.prototype.open = () => ({}); });
  await line(/^acquire done/);
  const began = Date.now();
  const told = await line(/^failed /);
  must(told.startsWith('failed refused this device does not save: the browser does not answer'), told);
  must(Date.now() - began < 4000, `it took ${Date.now() - began} ms`);
  await context.close();
});

await test('a browser that refuses to keep anything is told of', async () => {
  const refusing = () => { IDBFactory.prototype.open = () => { throw new DOMException('mutation is not allowed', 'InvalidStateError'); }; };
  const { context, line } = await fresh('hold', 'private', refusing);
  const told = await line(/^failed /);
  must(told.startsWith('failed refused this device does not save: mutation is not allowed'), told);
  await context.close();
});

await test('another program version is not kept waiting by our connection', async () => {
  const { context, page, line, write } = await fresh('hold', 'newer');
  await line(/^lines 0 whole/);
  await write();
  const opened = await page.evaluate(() => new Promise((done) => {
    Object.assign(indexedDB.open('newer', 2), { onblocked: () => done('blocked'), onsuccess: () => done('open') });
  }));
  must(opened === 'open', `the newer one was ${opened}`);
  const told = await write();
  must(told.startsWith('failed refused'), told);
  await context.close();
});

await browser.close();
await server.close();
process.exit(failures() > 0 ? 1 : 0);
