// Several windows of one browser on one job: one of them writes, another may take it over, and a
// window that is loaded again does not stand in its own way.

import { failures, launch, must, open, serve, test } from './store_host.mjs';

const [server, browser] = [await serve(), await launch()];

/// A page of a fresh context, with the database `name`.
async function fresh(what, name) {
  const context = await browser.newContext();
  return { context, ...await open(context, server.address, what, name) };
}

await test('a second window reads and does not write, until the first one is closed', async () => {
  const first = await fresh('hold', 'windows');
  await first.line(/^lines 0 whole/);
  await first.write();
  const second = await open(first.context, server.address, 'hold', 'windows');
  await second.line(/^acquire held/);
  await second.line(/^lines 1 whole/);
  must(/^failed not-acquired/.test(await second.write()), 'the second window wrote');
  must(await first.write() === 'durable 2', 'the first window could not go on');
  await first.page.close();
  const third = await open(first.context, server.address, 'hold', 'windows');
  await third.line(/^acquire done/);
  await third.line(/^lines 2 whole/);
  must(await third.write() === 'durable 3', 'the next window could not go on');
  await first.context.close();
});

await test('a second window takes the job over; the first one hears of it and writes no more', async () => {
  const first = await fresh('hold', 'over');
  await first.line(/^lines 0 whole/);
  await first.write();
  const second = await open(first.context, server.address, 'hold', 'over');
  await second.line(/^lines 1 whole/);
  // Both at once: the first one in the middle of writing, as fast as it can.
  await first.page.evaluate(() => { Module._store_page_write_on(1000000); });
  await first.line(/^durable 5$/);
  await second.page.evaluate(() => { Module._store_page_take_over(); });
  await second.line(/^take-over done/);
  await first.line(/^lost kill/);
  const told = await first.line(/^failed /);
  must(told.startsWith('failed not-acquired'), told);
  const last = first.printed.filter((text) => /^durable /.test(text)).length;
  const there = Number((await second.line(/^again \d+ whole/)).split(' ')[1]);
  must(there === last, `${last} lines were told durable, ${there} are there`);
  must(await second.write() === `durable ${there + 1}`, 'the second window could not go on');
  must(/^failed not-acquired/.test(await first.write()), 'the first window wrote');
  await first.page.evaluate(() => { Module._store_page_take_over(); });
  await first.line(/^take-over done/);
  await first.line(new RegExp(`^again ${there + 1} whole`));
  await second.line(/^lost kill/);
  must(await first.write() === `durable ${there + 2}`, 'the first window could not take it back');
  await first.context.close();
});

await test('a page that is loaded again has its job back', async () => {
  const { context, page, printed, line, write } = await fresh('hold', 'again');
  await line(/^lines 0 whole/);
  for (let round = 1; round <= 5; ++round) {
    must(await write() === `durable ${round}`, 'not written');
    const from = printed.length;
    await page.reload();
    must(await line(/^acquire /, { from }) === 'acquire done', `round ${round}`);
    await line(new RegExp(`^lines ${round} whole`), { from });
  }
  await context.close();
});

await browser.close();
await server.close();
process.exit(failures() > 0 ? 1 : 0);
