// The demo job on the shop PC's screen: what is refused, what a machine left alone costs, and what
// the clock and the picture do while nothing happens.

import { join } from 'node:path';
import { serve } from '../../web/serve.mjs';
import { browser_options, check, chromium, desk, finish, idle_frames, Person, set_hidden, shots, site } from './person.mjs';
import { do_one_thing, stage_of, taste, work_until } from './technician.mjs';

const server = await serve(site);
const address = `http://localhost:${server.address().port}/`;
const browser = await chromium.launch(browser_options);

async function steps_of(person) {
  return (await person.records()).filter((one) => one.kind === 'step-done').length;
}

/// The job's clock on the screen, in seconds.
async function clock_of(person) {
  const clock = (await person.items()).find((one) => /^Clock, \d+:\d\d:\d\d$/.test(one.name));
  return clock ? clock.name.match(/\d+/g).reduce((sum, part) => sum * 60 + Number(part), 0) : -1;
}

async function refused_and_left_alone() {
  const context = await browser.newContext(desk);
  const page = await context.newPage();
  const person = new Person(page, { touch: false });
  await person.open(`${address}?demo=1`);
  await person.demo();
  await work_until(person, (words) => stage_of(words) === 3, taste);
  await page.screenshot({ path: join(shots, 'desk-find.png') });
  await person.settled();
  if (!(await person.items()).some((one) => one.name === 'Show place')) await person.press('button', 'Not now');
  await person.press('button', 'Show place');
  const views = (await person.see((all) => all.some((one) => one.name.startsWith('Exploded view: ')), 'the machine'))
    .map((one) => one.name).filter((name) => name.startsWith('Exploded view: '));
  check('the places of the probes are lit on the machine', /Probe A: Heater, leg A.*Probe B: Heater, leg B/.test(views.join()), views);
  await person.settled();
  await page.screenshot({ path: join(shots, 'desk-find-place.png') });
  await person.press('button', 'Show circuit');
  await person.find('button', 'Show place');
  await work_until(person, (words) => stage_of(words) === 4, taste);
  for (let step = 0; step < 6; ++step) await do_one_thing(person, taste);
  await person.settled();
  await page.screenshot({ path: join(shots, 'desk-open.png') });
  const frames = await idle_frames(page, 10_000);
  check('the running clock costs one picture a second at most', frames <= 11, frames);

  await person.look();
  await person.press('button', 'Pause');
  await person.look();
  await person.press('button', 'I leave the machine');
  // One's own lock keeps the supply dead; the bare terminals are read again.
  const items = await person.see((all) => all.some((one) => /known live point/.test(one.name)), 'the reading');
  const steps = await steps_of(person);
  const names = items.map((one) => one.name).join(' | ');
  check('instead of the step the card asks to make it safe again', !/Hold: .*(undone|out|pulled|off)\b/.test(names), names);
  check('no step was recorded after that', await steps_of(person) === steps);
  check('the card says why', /Proof given up \d\d:\d\d( \| |: )the machine was left/.test(names), names);
  check('nothing was said on the console', person.errors.length === 0, person.errors);
  await context.close();
}

// A person who goes straight for a step that reaches in, with nothing isolated.
async function straight_for_a_step() {
  const context = await browser.newContext(desk);
  const page = await context.newPage();
  const person = new Person(page, { touch: false });
  await person.open(`${address}?demo=1`);
  await person.demo();
  await work_until(person, (words) => stage_of(words) === 2, taste);
  await person.press('progressbar', /^Stage 2/).catch(() => {});
  const rail = (await person.items()).find((one) => one.role === 'button' && /^(4 )?Open/.test(one.name));
  if (rail) await person.tap(rail);
  await person.settled();
  const hold = (await person.items()).find((one) => one.role === 'button' && one.name.startsWith('Hold:'));
  if (hold) await person.hold(hold);
  await person.settled();
  const words = await person.words();
  check('a step that reaches in cannot be confirmed before isolation', await steps_of(person) === 0, words);
  await context.close();
}

// An hour in the background, and the wall clock and the monotonic clock agree that it was one.
async function hour_in_the_background() {
  const context = await browser.newContext(desk);
  const page = await context.newPage();
  await page.clock.install({ time: new Date('2026-03-10T09:00:00Z') });
  const person = new Person(page, { touch: false });
  await person.open(`${address}?demo=1`);
  await person.demo();
  await page.clock.runFor(3_000);
  const before = await clock_of(person);
  await set_hidden(page, true);
  await page.clock.fastForward('01:00:00');
  await set_hidden(page, false);
  // What may have been work and what not is asked for before it is billed.
  const asked = async () => /Nothing was recorded for 1 h 00\. How much of it was work\?/.test(await person.words());
  for (let left = 20; left > 0 && !await asked(); --left) await page.clock.runFor(1_000);
  const gone = await clock_of(person) - before;
  check('an hour in the background is asked for, and is not counted in silence', await asked() && before >= 0 && gone >= 0 && gone < 30,
    `${before}, then ${gone} s more: ${await person.words()}`);
  let away = [];
  for (let left = 50; left > 0 && away.length < 2; --left) {
    await page.clock.runFor(100);
    away = (await person.records()).filter((one) => one.kind === 'screen');
  }
  check('the record says when the screen was away and when it came back',
    away.length === 2 && away[0].data.hidden === true && away[1].data.hidden !== true, JSON.stringify(away));
  await context.close();
}

for (const part of [refused_and_left_alone, straight_for_a_step, hour_in_the_background]) {
  try {
    await part();
  } catch (error) {
    check(`${part.name.replaceAll('_', ' ')} goes through`, false, error.stack);
  }
}
await browser.close();
server.close();
finish();
