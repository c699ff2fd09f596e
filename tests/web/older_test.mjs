// A job that a program of format 1 left in this browser: it is read in its own words, shown as live,
// and gone on with in a new job that names its tip. Nothing is added to the old one.

import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { serve } from '../../web/serve.mjs';
import { browser_options, check, chromium, finish, Person, shots, site, top } from './person.mjs';
import { open } from './reader.mjs';

const lines = readFileSync(join(top, 'tests/golden/journals/format-1/open.jsonl'), 'utf8').trim().split('\n');
const old = JSON.parse(lines[0]).data.job;
const server = await serve(site);
const address = `http://localhost:${server.address().port}/`;
const browser = await chromium.launch(browser_options);

/// Lays a journal into the page's database as its store would have.
async function lay(page, job, all) {
  await page.evaluate(async ({ name, text }) => {
    const base = await new Promise((go, no) => {
      const opening = indexedDB.open('kickplate');
      opening.onsuccess = () => go(opening.result);
      opening.onerror = () => no(opening.error);
    });
    const change = base.transaction('lines', 'readwrite');
    text.forEach((line, index) => change.objectStore('lines').put(new TextEncoder().encode(line), [name, index + 1]));
    await new Promise((go) => { change.oncomplete = go; });
    base.close();
  }, { name: job, text: all });
}
const of_job = async (person, wanted) => {
  const all = await person.records();
  const from = all.findIndex((one) => one.kind === 'job-opened' && wanted(one.data));
  const next = all.findIndex((one, index) => index > from && one.kind === 'job-opened');
  return from < 0 ? [] : all.slice(from, next < 0 ? all.length : next);
};
const strip = (words) => /LIVE/.test(words) && /OPEN/.test(words) && !/DEAD/.test(words);

try {
  const person = await open(browser, Person, address);
  await person.settled();
  await lay(person.page, old, lines);
  await person.page.reload();
  const row = await person.find('button', /^N\. Osei/);
  await person.look();
  await person.tap(row);
  await person.find('button', 'Go on in a new job');
  await person.look();
  const words = await person.words();
  check('it is read-only, and says why', /older format/.test(words), words);
  check('what it said of the isolation is there, in its words', /lock L-07/.test(words) && /TP-3/.test(words), words);
  check('the strip shows live and open', strip(words), words);
  await person.page.screenshot({ path: join(shots, 'phone-older.png') });
  await person.press('button', 'Go on in a new job');
  const items = await person.see((all) => all.some((one) => one.name.startsWith('Stage 1 of 8')), 'the new job');
  await person.settled();
  for (let tries = 40; tries > 0 && !(await of_job(person, (data) => data.afterJob)).some((one) => one.kind === 'unit-as-left'); --tries) {
    await person.look();
  }
  const next = await of_job(person, (data) => data.afterJob);
  const tip = createHash('sha256').update(lines[lines.length - 1]).digest('hex');
  check('the new job names the old one and its tip', next[0]?.data.afterJob === old && next[0]?.data.afterTip === tip, next[0]?.data);
  const left = next.find((one) => one.kind === 'unit-as-left')?.data;
  check('it takes over what was left open', left?.loose.includes('supply-leads') && left?.away.includes('toe-panel'), left);
  check('nothing counts as proved there', strip(items.map((one) => one.name).join(' | ')), items.map((one) => one.name));
  const kept = await of_job(person, (data) => data.job === old);
  check('the old journal is as it was', kept.length === lines.length &&
    kept.every((one, index) => JSON.stringify(one) === JSON.stringify(JSON.parse(lines[index]))), kept.length);
  check('nothing was said on the console', person.errors.length === 0, person.errors);
} catch (error) {
  check('the older job goes through', false, error.stack);
}
await browser.close();
server.close();
finish();
