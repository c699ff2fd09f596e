// A browser that is killed without warning while the store writes: whatever was told durable until
// then is there afterwards, in order, and holds together by its sums. (What a kill can do to the
// browser's own files is made on purpose in store_tear_test.mjs.)

import { failures, must, open, serve, test, Victim } from './store_host.mjs';

const server = await serve();

await test('killed at once after lines were told durable, all of them are there', async () => {
  const victim = new Victim();
  let least = 0;
  try {
    for (let round = 1; round <= 5; ++round) {
      const context = await victim.start();
      const { line, printed } = await open(context, server.address, 'write', 'kill');
      const there = Number((await line(/^lines \d+ whole/)).split(' ')[1]);
      must(there >= least, `round ${round}: ${least} lines were told durable, ${there} are there`);
      await line(new RegExp(`^durable ${there + round}$`));
      await victim.kill();
      least = Math.max(...printed.filter((text) => /^durable /.test(text)).map((text) => Number(text.split(' ')[1])));
    }
    const context = await victim.start();
    const { line } = await open(context, server.address, 'hold', 'kill');
    await line(/^acquire done/);
    const there = Number((await line(/^lines \d+ whole/)).split(' ')[1]);
    must(there >= least && least >= 15, `${least} lines were told durable, ${there} are there`);
    await victim.kill();
  } finally {
    await victim.remove();
  }
});

await server.close();
process.exit(failures() > 0 ? 1 : 0);
