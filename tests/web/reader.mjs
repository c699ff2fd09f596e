// A person at the page as text: the same names, but real elements in a column that scrolls.

import { on_phone, Person, phone } from './person.mjs';
import { stage_of, taste, work_until } from './technician.mjs';

export class Reader extends Person {
  /// Scrolls to an item; where it is then.
  async reach(item) {
    const box = await this.page.evaluate(({ role, name }) => {
      const own = { BUTTON: 'button', INPUT: 'textbox', TEXTAREA: 'textbox' };
      const found = [...document.querySelectorAll('#mirror *')].find((one) =>
        (one.getAttribute('role') ?? own[one.tagName]) === role &&
        (one.getAttribute('aria-label') ?? one.textContent) === name);
      if (!found) return null;
      found.scrollIntoView({ block: 'center' });
      const at = found.getBoundingClientRect();
      return { x: at.x, y: at.y, width: at.width, height: at.height };
    }, item);
    if (!box) throw new Error(`${item.role} "${item.name}" is not there`);
    return { ...item, ...box };
  }

  async tap(item) { await super.tap(await this.reach(item)); }
  async sign(item) { await super.sign(await this.reach(item)); }
  async hold(item, ms) { await super.hold(await this.reach(item), ms); }
  /// The second of two presses.
  async press_again() {
    await this.look();
    await this.tap(await this.find('button', /^Press again: /));
  }
}

/// The first button that is held and can be.
export const holds = (items) => items.find((one) => one.role === 'button' && one.enabled && /^Hold: /.test(one.name));

/// Records of what a person did; that the screen went away is none.
export const steps = async (person) => (await person.records()).filter((one) => !['screen', 'caution-shown', 'tester-named'].includes(one.kind)).length;

/// A page of its own on a phone.
export async function open(browser, Kind, url, scheme = 'light') {
  const context = await browser.newContext({ ...phone, colorScheme: scheme });
  const page = await context.newPage();
  await on_phone(page);
  const person = new Kind(page);
  await person.open(url);
  return person;
}

/// The demo job up to the first card of Make safe that is held.
export async function at_a_hold(browser, Kind, address, scheme) {
  const person = await open(browser, Kind, `${address}?demo=1`, scheme);
  await person.demo();
  await work_until(person, (words) => stage_of(words) === 2 && /Hold: /.test(words), taste);
  await person.see(holds, 'a card that is held');
  await person.look();
  return person;
}
