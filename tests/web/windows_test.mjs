// Two windows of the page that ships on one job: the one that reads follows the one that records,
// without a touch, and says so when that one is gone.

import { serve } from '../../web/serve.mjs';
import { browser_options, chromium, Person, phone, site } from './person.mjs';
import { failures, must, test } from './store_host.mjs';
import { taste, work_until } from './technician.mjs';

const server = await serve(site);
const address = `http://localhost:${server.address().port}/`;
const browser = await chromium.launch(browser_options);

async function person_in(context) {
  const person = new Person(await context.newPage());
  await person.open(address);
  return person;
}

const says = (person, pattern) => person.see((items) => items.some((one) => pattern.test(one.name)), String(pattern), 40_000);
const is_job = (one) => one.role === 'button' && /^Job \d/.test(one.name);

await test('a window that reads follows the one that records, and says when that one is gone', async () => {
  const context = await browser.newContext(phone);
  const first = await person_in(context);
  await first.press('button', 'New job');
  await first.settled();
  const second = await person_in(context);
  await second.look();
  await second.tap((await second.see((items) => items.some(is_job), 'the job in the list')).find(is_job));
  await says(second, /This job is open in another window\. Here it can only be read\./);
  await says(second, /^Stage 1 of 8/);

  await work_until(first, (words) => /Stage 2 of 8/.test(words), taste);
  await says(second, /^Stage 2 of 8/);
  const words = await second.words();
  must(/LIVE/.test(words), `nothing is proved, and the strip says: ${words}`);
  const kept = (await second.records()).length;

  await first.page.close();
  await says(second, /That window is silent\./);
  must(/LIVE/.test(await second.words()), 'not live');
  await second.press('button', 'Take over here');
  await second.see((items) => !items.some((one) => /in another window/.test(one.name)), 'it writes');
  await second.settled();
  must((await second.records()).length >= kept, 'records are gone');
  must(first.errors.concat(second.errors).length === 0, first.errors.concat(second.errors).join('\n'));
  await context.close();
});

await browser.close();
server.close();
process.exit(failures() > 0 ? 1 : 0);
