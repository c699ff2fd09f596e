// Several windows of one browser on one job: one of them writes, another may take it over, and a
// window that is loaded again does not stand in its own way; a reader follows the writer.

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

await test('a window that reads hears of each line, sees how far the writer is, and that it lives or is gone', async () => {
  const first = await fresh('hold', 'follow');
  await first.line(/^lines 0 whole/);
  const second = await open(first.context, server.address, 'hold', 'follow');
  await second.line(/^acquire held/);
  const look = async () => {
    const from = second.printed.length;
    await second.page.evaluate(() => { Module._store_page_look(); });
    return second.line(/^look /, { from });
  };
  for (let round = 1; round <= 3; ++round) {
    const from = second.printed.length;
    must(await first.write() === `durable ${round}`, 'not written');
    await second.line(/^grown$/, { from });
    const seen = await look();
    must(seen.startsWith(`look ${round} elsewhere`), seen);
  }
  must(!first.printed.includes('grown'), 'the writer was told of its own lines');
  const before = await look();
  must(await look() === before, 'the sign changed without a sign of life');
  await first.page.evaluate(() => { Module._store_page_sign(); });
  let after = before;
  for (let tries = 0; after === before && tries < 100; ++tries) after = await look();
  must(after !== before, 'the sign of life was not heard');
  await first.page.close();
  let gone = after;
  for (let tries = 0; gone !== 'look 3 nobody' && tries < 100; ++tries) gone = await look();
  must(gone === 'look 3 nobody', gone);
  await first.context.close();
});

await browser.close();
await server.close();
process.exit(failures() > 0 ? 1 : 0);
