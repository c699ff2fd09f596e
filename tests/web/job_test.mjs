// The whole job in a browser on a phone, by role and name, from the start page to the papers. In
// every stage the browser is killed without warning and opened again: nothing is lost.

import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { serve } from '../../web/serve.mjs';
import { browser_options, check, finish, idle_frames, on_phone, Person, shots, site } from './person.mjs';
import { Victim } from './store_host.mjs';
import { hands_in } from './records.mjs';
import { stage_of, taste, work_until } from './technician.mjs';

// Where the kill comes in the stage: after its third thing, but in Find when a reading is kept (a
// test that is only chosen goes with the browser) and in Swap before its only step.
const kFind = 3;
const kSwap = 5;
const server = await serve(site);
const address = `http://localhost:${server.address().port}/`;
const victim = new Victim(browser_options.args);
const errors = [];
const papers = [];

async function start() {
  const context = await victim.start();
  const page = await context.newPage();
  await on_phone(page);
  const person = new Person(page);
  await person.open(address);
  return person;
}

/// The heading of the card: what there is to do now.
function card_of(items) {
  return items.filter((one) => one.role === 'heading' && one.level === 1).map((one) => one.name).pop() ?? '';
}

async function kill_and_open_again(person, stage) {
  await person.settled();
  const before = await person.records();
  const card = card_of(await person.items());
  errors.push(...person.errors);
  await victim.kill();
  const again = await start();
  again.did = person.did;
  // Named by its number until the customer is known, then by the customer.
  const is_job = (one) => one.role === 'button' && /^(Job \d|A1)/.test(one.name);
  const jobs = await again.see((items) => items.some(is_job), 'the job in the list');
  await again.tap(jobs.find(is_job));
  const items = await again.see((all) => all.some((one) => one.name.startsWith(`Stage ${stage} of 8`)), `stage ${stage} again`);
  const after = await again.records();
  const same = before.every((one, index) => JSON.stringify(one) === JSON.stringify(after[index]));
  check(`killed in stage ${stage} and opened again: every record is there`, same && before.length > 0, `${before.length}, ${after.length}`);
  check(`killed in stage ${stage} and opened again: the same thing is to be done`, card_of(items) === card,
    `"${card}" became "${card_of(items)}"`);
  return again;
}

try {
  let person = await start();
  const words = await person.words();
  check('the first screen defers to local codes and licensed practice', /local codes/i.test(words), words);
  await person.begin_job();
  const killed = [];
  let things = 0;   // done in this stage
  let stage = 0;
  let kept = 0;     // records
  // Waiting for a slow machine is no thing done: only those are counted.
  const until = Date.now() + 25 * 60_000;
  let idle = 0;
  for (let done = 0; done < 600 && stage < 8 && Date.now() < until;) {
    const [what] = await work_until(person, () => false, taste, 1);
    if (what) done += 1;
    idle = what ? 0 : idle + 1;
    if (idle > 300) throw new Error(`nothing to do here: ${await person.words()}`);
    await person.settled();
    const now = stage_of(await person.words());
    const records = (await person.records()).length;
    const recorded = records > kept;
    kept = records;
    if (now !== stage) await person.page.screenshot({ path: join(shots, `phone-stage-${now}.png`) });
    things = now === stage ? things + 1 : 0;
    stage = now;
    const middle = stage === kFind ? what === 'Keep the reading' : stage === kSwap || things >= 2;
    if (recorded && middle && stage > 0 && !killed.includes(stage)) {
      killed.push(stage);
      person = await kill_and_open_again(person, stage);
      kept = (await person.records()).length;
    }
  }
  check('led from plate to bill', stage === 8, await person.words());
  check('killed in each stage before the bill', killed.join() === '1,2,3,4,5,6,7', killed.join());
  person = await kill_and_open_again(person, 8);
  // The papers come as offers above the picture, each with its own button.
  const saves = person.page.getByRole('button', { name: 'Save' });
  for (let left = 40; left > 0 && await saves.count() < 2; --left) {
    await work_until(person, () => false, taste, 1);
    await person.look();
  }
  for (let paper = 0; paper < await saves.count(); ++paper) {
    const saved = person.page.waitForEvent('download');
    await saves.nth(paper).click();
    papers.push(await saved);
  }
  await person.page.screenshot({ path: join(shots, 'phone-bill.png') });
  const bytes = await Promise.all(papers.map(async (paper) => readFileSync(await paper.path())));
  check('invoice and record are handed over as PDF', bytes.length >= 2 && bytes.every((one) => one.subarray(0, 5).toString() === '%PDF-'),
    papers.map((one) => one.suggestedFilename()));
  // A download says nothing of what became of it: it is recorded as offered, and only now.
  const left = async () => (await person.records()).filter((one) => one.kind === 'handed-over');
  for (let tries = 40; tries > 0 && (await left()).length < papers.length; --tries) await person.look();
  const offered = await left();
  check('what was saved is recorded as offered, no more', offered.length === papers.length && offered.every((one) => !one.data.completed), offered.map((one) => one.data));
  const records = await person.records();
  check('the records are numbered without a gap', records.every((one, index) => one.n === index + 1), records.length);
  const steps = hands_in(records);
  check('every hands-in step names the proof it stood on', steps.length > 40 && steps.every((one) => one.data.standsOn?.length > 0), steps.length);
  console.log(`# by stage, what the hands did: ${JSON.stringify(person.did)}`);
  errors.push(...person.errors);
  check('nothing was said on the console', errors.length === 0, errors);
  check('with the job ended the picture stands still', await idle_frames(person.page, 10_000) <= 1);
} catch (error) {
  check('the job goes through', false, error.stack);
}
await victim.remove();
server.close();
finish();
