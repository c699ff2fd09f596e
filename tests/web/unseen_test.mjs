// What cannot be seen cannot be confirmed: a lost picture, a dark page; and a page that is busy
// judges a touch by the touch's own time. (UI-09 and AX-06 of the public faults collected for this
// project.) What is seen by ear alone is told in full.

import { join } from 'node:path';
import { serve } from '../../web/serve.mjs';
import { browser_options, check, chromium, finish, on_phone, Person, phone, set_hidden, shots, site } from './person.mjs';
import { at_a_hold, holds, steps } from './reader.mjs';
import { taste, work_until } from './technician.mjs';

const server = await serve(site);
const address = `http://localhost:${server.address().port}/`;
const browser = await chromium.launch(browser_options);

async function lost_picture() {
  const person = await at_a_hold(browser, Person, address);
  const { page } = person;
  const hold = holds(await person.items());
  const at = [hold.x + hold.width / 2, hold.y + hold.height / 2];
  const before = await steps(person);
  await person.down(...at);   // a finger that is down when the picture goes
  await page.waitForTimeout(300);
  await page.evaluate(() => {
    window.lost = document.getElementById('canvas').getContext('webgl2').getExtension('WEBGL_lose_context');
    window.lost.loseContext();
  });
  await page.waitForTimeout(700);
  await person.up();
  check('the text form comes on when the picture is lost',
    await page.evaluate(() => document.documentElement.classList.contains('text-only')));
  await page.screenshot({ path: join(shots, 'text-lost-picture.png') });
  // A finger on what was the picture, wherever the browser may still send it.
  await page.evaluate(async ([x, y]) => {
    const canvas = document.getElementById('canvas');
    const told = (type) => canvas.dispatchEvent(new PointerEvent(type, { bubbles: true, cancelable: true, pointerId: 7, pointerType: 'touch', clientX: x, clientY: y }));
    told('pointerdown');
    await new Promise((go) => { setTimeout(go, 900); });
    told('pointerup');
  }, at);
  await page.waitForTimeout(300);
  check('a hold on the blank place confirms nothing', await steps(person) === before, await steps(person));
  await page.evaluate(() => window.lost.restoreContext());
  await page.waitForFunction(() => !document.documentElement.classList.contains('text-only'), null, { timeout: 10_000 });
  await person.look();
  await page.screenshot({ path: join(shots, 'text-picture-back.png') });
  await person.hold(holds(await person.items()));
  await person.settled();
  check('the picture comes back and is held again', await steps(person) > before, await steps(person));
  await page.context().close();
}

async function dark_page() {
  const person = await at_a_hold(browser, Person, address);
  const hold = holds(await person.items());
  const at = [hold.x + hold.width / 2, hold.y + hold.height / 2];
  const before = await steps(person);
  await person.down(...at);
  await person.page.waitForTimeout(400);
  await set_hidden(person.page, true);
  await person.page.waitForTimeout(500);
  await person.up();
  await person.down(...at);
  await person.page.waitForTimeout(900);
  await person.up();
  await person.down(...at);
  await person.page.waitForTimeout(400);
  await set_hidden(person.page, false);
  await person.page.waitForTimeout(500);
  await person.up();
  await person.settled();
  check('a dark page confirms nothing, before, across and after', await steps(person) === before, await steps(person));
  await person.hold(holds(await person.items()));
  await person.settled();
  check('seen again, it is held as ever', await steps(person) > before, await steps(person));
  await person.page.context().close();
}

async function busy_page() {
  const person = await at_a_hold(browser, Person, address);
  const hold = holds(await person.items());
  const x = hold.x + hold.width / 2;
  const y = hold.y + hold.height / 2;
  const before = await steps(person);
  const jam = (ms) => person.page.evaluate((long) => { const end = performance.now() + long; while (performance.now() < end); }, ms);
  await person.down(x, y);
  const jammed = jam(1_500);
  await new Promise((go) => { setTimeout(go, 250); });
  await Promise.all([person.up(), jammed]);
  await person.settled();
  check('a short touch of a page that is busy for long stays a short one', await steps(person) === before, await steps(person));
  await person.look();
  await person.down(x, y);
  const again = jam(600);
  await new Promise((go) => { setTimeout(go, 900); });
  await Promise.all([person.up(), again]);
  await person.settled();
  check('a full hold of a busy page counts once', await steps(person) === before + 1, await steps(person));
  await person.page.context().close();
}

/// The device's clock is put back by 3 h 45: what was proved has no age any more (S6 of the walk).
async function clock_set_back() {
  const person = await at_a_hold(browser, Person, address);
  const { page } = person;
  await work_until(person, (words) => /DEAD/.test(words), taste);
  check('the supply is proved dead', /DEAD/.test(await person.words()), await person.words());
  const before = await steps(person);
  await page.evaluate(() => {
    const now = Date.now;
    Date.now = () => now() - 225 * 60_000;
    window.kickplate.loop.wake();
  });
  await person.see((items) => items.find((one) => one.role === 'heading' && /^Set the clock right/.test(one.name)), 'the card that doubts the clock');
  const words = await person.words();
  check('with the clock set back nothing is called dead', /LIVE/.test(words) && !/DEAD/.test(words), words);
  check('and nothing is recorded by itself', await steps(person) === before, await steps(person));
  await page.screenshot({ path: join(shots, 'phone-clock-back.png') });
  await person.look();
  await person.hold(holds(await person.items()));
  await person.settled();
  const after = await person.words();
  check('confirmed, the power is live and is made safe anew', /LIVE/.test(after) && !/DEAD/.test(after) &&
    !/Set the clock right/.test(after), after);
  await page.context().close();
}

async function told_to_a_reader() {
  const context = await browser.newContext(phone);
  const page = await context.newPage();
  await page.addInitScript(() => {
    window.told = [];
    document.addEventListener('DOMContentLoaded', () => {
      for (const id of ['alert', 'say']) {
        new MutationObserver((changes) => changes.forEach((one) => one.addedNodes.forEach((node) => window.told.push(`${id}: ${node.textContent}`))))
          .observe(document.getElementById(id), { childList: true });
      }
    });
  });
  await on_phone(page);
  const person = new Person(page);
  await person.open(`${address}?demo=1`);
  await person.demo();
  const sentence = (await person.items()).filter((one) => one.role === 'heading' && one.level === 1).pop().name;
  await work_until(person, (words) => /NOT PROVED/.test(words), taste);
  await person.settled();
  const told = await page.evaluate(() => window.told);
  const at = (words) => told.findIndex((one) => one.includes(words));
  const times = (words) => told.filter((one) => one.includes(words)).length;
  check('the strip and the caution interrupt, danger first, and the sentence follows',
    at('alert: LIVE. Power') >= 0 && at('alert: DANGER. ') > at('alert: LIVE. Power') &&
    at('alert: DANGER. ') < at(`say: ${sentence}`), told.join('\n'));
  check('what did not change is told once', times('LIVE. Power, taken as live') === 1, told.join('\n'));
  check('a change of the strip is told', times('say: NOT HELD. Power, parted') === 1, told.join('\n'));
  check('the live regions add, they do not overwrite', await page.evaluate(() =>
    ['alert', 'say'].every((id) => document.getElementById(id).getAttribute('aria-atomic') === 'false')));
  await context.close();
}

const parts = [['lost picture', lost_picture], ['dark page', dark_page], ['busy page', busy_page],
  ['clock set back', clock_set_back],
  ['told to a reader', told_to_a_reader]];
for (const [name, part] of parts) {
  try {
    await part();
  } catch (error) {
    check(`${name} goes through`, false, error.stack);
  }
}
await browser.close();
server.close();
finish();
