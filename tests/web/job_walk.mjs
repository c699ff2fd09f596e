// Run by hand: node tests/web/job_walk.mjs. The whole job in a browser, by role and name: on a phone with touch, from the start page to the
// papers, put away and opened again in every stage; and the demo job on the shop PC. Screenshots of
// each stage land beside the build.

import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { serve } from '../../web/serve.mjs';
import { browser_options, check, chromium, desk, finish, Person, phone, shots, site } from './person.mjs';
import { do_one_thing, work_until } from './technician.mjs';

const taste = { choices: ['Pump module', 'Dishes wet', 'Heater open'] };
const server = await serve(site);
const address = `http://localhost:${server.address().port}/`;
const browser = await chromium.launch(browser_options);
const stage_of = (words) => Number(words.match(/Stage (\d) of 8/)?.[1] ?? 0);

async function idle_frames(page, ms) {
  const before = await page.evaluate(() => window.kickplate.framesDrawn);
  await page.waitForTimeout(ms);
  return await page.evaluate(() => window.kickplate.framesDrawn) - before;
}

async function on_the_phone() {
  const context = await browser.newContext({ ...phone, acceptDownloads: true });
  const page = await context.newPage();
  const person = new Person(page);
  const papers = [];
  page.on('download', (download) => papers.push(download));
  await person.open(address);
  const start = await person.words();
  check('phone: the first screen defers to local codes and licensed practice', /local codes/i.test(start), start);
  await person.press('button', 'New job');

  let last = 0;
  const opened_again = [];
  const path = await work_until(person, (words) => stage_of(words) === 8, {
    ...taste,
    after: async () => {
      const stage = stage_of(await person.words());
      if (stage === last || stage === 0) return;
      last = stage;
      await page.waitForTimeout(400);
      await page.screenshot({ path: join(shots, `phone-stage-${stage}.png`) });
      // In the middle of the stage the page is thrown away.
      const before = (await person.records()).length;
      await page.reload();
      await person.see((items) => items.some((one) => /^Job |^A1$/.test(one.name)) || items.length > 3, 'the page again');
      const job = (await person.see((items) => items.some((one) => one.role === 'button' && /A1|Job 2/.test(one.name)),
        'the job in the list')).find((one) => one.role === 'button' && /A1|Job 2/.test(one.name));
      await person.tap(job);
      await person.see((items) => items.some((one) => new RegExp(`Stage ${stage} of 8`).test(one.name)), `stage ${stage} again`);
      opened_again.push({ stage, kept: (await person.records()).length >= before });
    },
  });
  check('phone: led from plate to bill', stage_of(await person.words()) === 8, path.slice(-4));
  check('phone: put away in each stage and opened again, nothing is lost',
    opened_again.length >= 7 && opened_again.every((one) => one.kept), JSON.stringify(opened_again));
  await work_until(person, (words) => papers.length >= 2 && !/Sign here/.test(words), taste, 40);
  await page.waitForTimeout(300);
  await page.screenshot({ path: join(shots, 'phone-bill.png') });
  const bytes = await Promise.all(papers.slice(0, 2).map(async (paper) => readFileSync(await paper.path())));
  check('phone: invoice and record are handed over as PDF', bytes.every((one) => one.subarray(0, 5).toString() === '%PDF-'),
    papers.map((one) => one.suggestedFilename()));
  const records = await person.records();
  check('phone: the records are numbered without a gap', records.every((one, index) => one.n === index + 1), records.length);
  const hands = records.filter((one) => one.kind === 'step-done');
  check('phone: every hands-in step names the proof it stood on',
    hands.length > 40 && hands.every((one) => one.data.standsOn?.length > 0), hands.length);
  check('phone: nothing was said on the console', person.errors.length === 0, person.errors);
  check('phone: with the job ended the picture stands still', await idle_frames(page, 3_000) <= 1);
  await context.close();
}

async function on_the_desk() {
  const context = await browser.newContext(desk);
  const page = await context.newPage();
  const person = new Person(page, { touch: false });
  await person.open(`${address}?demo=1`);
  await person.see((items) => items.some((one) => one.name === 'Quote agreed'), 'the quote');
  await work_until(person, (words) => stage_of(words) === 3, taste);
  await page.screenshot({ path: join(shots, 'desk-find.png') });
  await work_until(person, (words) => stage_of(words) === 4, taste);
  for (let step = 0; step < 6; ++step) {
    await do_one_thing(person, taste);
    await page.waitForTimeout(400);
  }
  await page.screenshot({ path: join(shots, 'desk-open.png') });
  const frames = await idle_frames(page, 5_000);
  check('desk: the running clock costs one picture a second', frames >= 3 && frames <= 7, frames);

  // The machine is left alone: the proof is void, and no hands-in step can be confirmed.
  await person.press('button', 'Pause');
  await person.press('button', 'I leave the machine');
  const words = (await person.see((items) => items.some((one) => /NOT PROVED|LIVE/.test(one.name)), 'the strip')).map((one) => one.name).join(' | ');
  check('desk: left alone, the strip says that it is not proved', /NOT PROVED|LIVE/.test(words), words);
  const steps = (await person.records()).filter((one) => one.kind === 'step-done').length;
  const after = await person.words();
  check('desk: instead of the step the card asks to make it safe again', !/Hold: .*(undone|out|pulled|off)\b/.test(after), after);
  check('desk: no step was recorded after that', (await person.records()).filter((one) => one.kind === 'step-done').length === steps);
  check('desk: nothing was said on the console', person.errors.length === 0, person.errors);
  await context.close();
}

try {
  await on_the_phone();
} catch (error) {
  check('phone: the job goes through', false, error.stack);
}
try {
  await on_the_desk();
} catch (error) {
  check('desk: the job goes through', false, error.stack);
}
await browser.close();
server.close();
finish();
