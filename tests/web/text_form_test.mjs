// Without WebGL the page is text, and the same job is done in it. (AX-02 of the public faults
// collected for this project.)

import { join } from 'node:path';
import { serve } from '../../web/serve.mjs';
import { browser_options, check, chromium, finish, no_picture_options, Person, shots, site } from './person.mjs';
import { at_a_hold, holds, open, Reader, steps } from './reader.mjs';
import { hands_in } from './records.mjs';
import { stage_of, taste, work_until } from './technician.mjs';

const server = await serve(site);
const address = `http://localhost:${server.address().port}/`;

/// What was recorded, without what differs from job to job: times, ids, salted sums.
function facts(records) {
  return records.filter((one) => one.kind !== 'screen').map((one) => {
    const text = JSON.stringify({ kind: one.kind, data: one.data });
    return text.replace(/\d{4}-\d\d-\d\dT[\d:.]+Z?/g, 'T')
      .replace(/\b\d{8}-[0-9a-f]{4}\b/g, 'J').replace(/"[0-9a-f]{32,}"/g, '"H"').replace(/"(at|until|utcMs|monoMs|life|job|id)":("[^"]*"|-?\d+)/g, '"$1":0');
  });
}

async function looks(person, name) {
  const found = await person.page.evaluate(() => {
    const rgb = (text) => text.match(/[\d.]+/g).slice(0, 3).map(Number);
    const light = (c) => rgb(c).map((v) => v / 255).map((v) => (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4))
      .reduce((sum, v, i) => sum + v * [0.2126, 0.7152, 0.0722][i], 0);
    const behind = (one) => {
      for (let at = one; at; at = at.parentElement) {
        const color = getComputedStyle(at).backgroundColor;
        if (!/, 0\)$|transparent/.test(color)) return color;
      }
      return 'rgb(255, 255, 255)';
    };
    const all = [...document.querySelectorAll('#mirror *')].filter((one) => one.textContent.trim() && one.children.length === 0);
    const ratio = (one) => {
      const [a, b] = [light(getComputedStyle(one).color), light(behind(one))].sort((x, y) => y - x);
      return (a + 0.05) / (b + 0.05);
    };
    const pressed = [...document.querySelectorAll('#mirror button')].map((one) => one.getBoundingClientRect());
    return {
      on: document.documentElement.classList.contains('text-only'),
      size: Math.min(...all.filter((one) => one.tagName === 'P').map((one) => parseFloat(getComputedStyle(one).fontSize))),
      pale: all.map((one) => [ratio(one), one.textContent]).filter(([r]) => r < 4.5),
      least: Math.min(...pressed.map((box) => Math.min(box.height, box.width))),
      wide: document.getElementById('mirror').scrollWidth - document.getElementById('mirror').clientWidth,
    };
  });
  check(`${name}: the text form is on`, found.on);
  check(`${name}: words are 17 px or more`, found.size >= 17, found.size);
  check(`${name}: contrast is 4.5 to 1 or more`, found.pale.length === 0, JSON.stringify(found.pale));   // WCAG 2.1, 1.4.3
  check(`${name}: buttons are 48 px or more`, found.least >= 48, found.least);
  check(`${name}: nothing stands out at the side`, found.wide <= 0, found.wide);
}

async function whole_job_as_text() {
  const blind = await chromium.launch(no_picture_options);
  const person = await open(blind, Reader, address);
  check('this browser has no WebGL', await person.page.evaluate(() => !document.createElement('canvas').getContext('webgl2')));
  await looks(person, 'start');
  await person.page.screenshot({ path: join(shots, 'text-start.png') });
  await person.press('button', 'New job');
  await work_until(person, (words) => stage_of(words) === 2 && /Hold: /.test(words), taste);
  await person.see(holds, 'a card that is held');
  await looks(person, 'make safe');
  await person.page.screenshot({ path: join(shots, 'text-make-safe.png') });
  const before = await steps(person);
  await person.look();
  await person.tap(holds(await person.items()));
  await person.look();
  check('a short press asks again and records nothing', await steps(person) === before && /Press again: /.test(await person.words()));
  await person.press_again();
  await person.see((items) => !items.some((one) => /^Press again: /.test(one.name)), 'the second press to be taken');
  await person.settled();
  check('two separate presses confirm once', await steps(person) === before + 1, `${before}, ${await steps(person)}`);
  let pictured = false;
  await work_until(person, (words) => stage_of(words) === 3, { ...taste, after: async (what) => {
    if (pictured || what !== 'Next reading') return;
    pictured = true;
    await person.settled();
    await looks(person, 'prove dead');
    await person.page.screenshot({ path: join(shots, 'text-prove.png') });
  } });
  const safe = facts(await person.records());
  await work_until(person, (words) => stage_of(words) === 8, taste, 700);
  await person.page.screenshot({ path: join(shots, 'text-bill.png') });
  await work_until(person, (words) => /Hand over/.test(words), taste, 40);
  const records = await person.records();
  check('a whole job goes through as text, signed on a real pad',
    records.some((one) => one.kind === 'signed' && one.data.strokes?.length > 8), records.map((one) => one.kind).slice(-8));
  check('every hands-in step names the proof it stood on',
    hands_in(records).every((one) => one.data.standsOn?.length > 0));
  check('nothing was said on the console', person.errors.filter((one) => !/WebGL/i.test(one)).length === 0, person.errors);
  await blind.close();
  return safe;
}

async function same_facts_as_with_a_picture(safe) {
  const browser = await chromium.launch(browser_options);
  const person = await open(browser, Person, address);
  await person.press('button', 'New job');
  await work_until(person, (words) => stage_of(words) === 3, taste);
  const pictured = facts(await person.records());
  check('the facts up to Find are those that the picture gives', JSON.stringify(pictured) === JSON.stringify(safe),
    pictured.map((one, i) => (one === safe[i] ? '' : `${one}\n${safe[i]}`)).filter(Boolean).join('\n'));
  await browser.close();
}

async function night() {
  const blind = await chromium.launch(no_picture_options);
  const person = await at_a_hold(blind, Reader, address, 'dark');
  await looks(person, 'night');
  await person.page.screenshot({ path: join(shots, 'text-make-safe-night.png') });
  await blind.close();
}

let safe = [];
const parts = [
  ['as text at night', night],
  ['whole job as text', async () => { safe = await whole_job_as_text(); }],
  ['same facts', () => same_facts_as_with_a_picture(safe)],
];
for (const [name, part] of parts) {
  try {
    await part();
  } catch (error) {
    check(`${name} goes through`, false, error.stack);
  }
}
server.close();
finish();
