// What the page says and does where the browser keeps nothing, has no room, or has the job open in
// another window. By role and name, on the page that ships.

import { serve } from '../../web/serve.mjs';
import { browser_options, chromium, Person, phone, site } from './person.mjs';
import { failures, must, test } from './store_host.mjs';

const server = await serve(site);
const address = `http://localhost:${server.address().port}/`;
const browser = await chromium.launch(browser_options);

async function person_in(context, before) {
  const page = await context.newPage();
  if (before) await page.addInitScript(before);
  const person = new Person(page);
  await person.open(address);
  return person;
}

const says = (person, pattern) => person.see((items) => items.some((one) => pattern.test(one.name)), String(pattern));
const silent = (person, pattern) => person.see((items) => items.length > 3 && !items.some((one) => pattern.test(one.name)), `no ${pattern}`);
const kElsewhere = /(is open|was taken over) in another window/;

await test('two windows: one writes, the other one says so and may take the job over', async () => {
  const context = await browser.newContext(phone);
  const first = await person_in(context);
  await first.press('button', 'New job');
  await silent(first, /^New job$/);
  await first.settled();
  const second = await person_in(context);
  await says(second, /This browser may clear jobs when it needs room/);
  await second.look();
  const is_job = (one) => one.role === 'button' && /^Job \d/.test(one.name);
  await second.tap((await second.see((items) => items.some(is_job), 'the job in the list')).find(is_job));
  await says(second, /This job is open in another window\. Here it can only be read\./);
  await silent(first, kElsewhere);

  for (const [taker, loser] of [[second, first], [first, second]]) {
    await taker.press('button', 'Take over here');
    await silent(taker, kElsewhere);
    await says(loser, /This job was taken over in another window\. Here it can only be read\./);
  }
  const records = await first.records();
  must(records.every((record, at) => record.n === at + 1), `records ${records.map((record) => record.n)}`);
  must(first.errors.concat(second.errors).length === 0, first.errors.concat(second.errors).join('\n'));
  await context.close();
});

await test('a browser that keeps nothing: no job is begun, practice works and says that it is not kept', async () => {
  const context = await browser.newContext(phone);
  const person = await person_in(context, () => {
    IDBFactory.prototype.open = () => { throw new DOMException('a private window', 'InvalidStateError'); };
  });
  await says(person, /No job can be kept here: this device does not save: a private window/);
  must(!(await person.find('button', /^New job/)).enabled, 'a new job is offered');
  await person.press('button', 'Practice');
  await says(person, /PRACTICE/);
  await says(person, /Practice is not kept here\. It is lost when this is closed\./);
  must(person.errors.length === 0, person.errors.join('\n'));
  await context.close();
});

await test('a browser without room: a job whose first line is not kept is not begun', async () => {
  const context = await browser.newContext(phone);
  const blank = await context.newPage();
  await blank.goto(`${address}icon.svg`);
  const devtools = await context.newCDPSession(blank);
  await devtools.send('Storage.overrideQuotaForOrigin', { origin: new URL(address).origin, quotaSize: 1 });
  // The browser's own estimate knows nothing of the quota that is set here.
  const person = await person_in(context, () => {
    StorageManager.prototype.estimate = async () => ({ quota: 10, usage: 5 });
  });
  await says(person, /Little room is left: 0 MB/);
  await person.press('button', 'New job');
  await says(person, /The job is not saved, so it was not begun: there is no room left to save/);
  must((await person.records()).length === 0, 'something was kept');
  await context.close();
});

await browser.close();
server.close();
process.exit(failures() > 0 ? 1 : 0);
