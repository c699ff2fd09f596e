// A person at the page: finds things by role and name, touches them, holds them, types figures on
// the tool's keypad. Everything goes through the picture (touch or mouse), as a hand would.

import { wait_for, with_own_clock } from './later.mjs';
import { records_of } from './records.mjs';

export * from './browser.mjs';

export class Person {
  constructor(page, { touch = true } = {}) {
    this.page = page;
    this.touch = touch;
    this.errors = [];
    this.did = {};   // what the hands did, by stage: { taps, holds, keys, letters }
    this.stage = 0;
    page.on('console', (message) => { if (message.type() === 'error') this.errors.push(message.text()); });
    page.on('pageerror', (error) => this.errors.push(String(error)));
  }

  async open(url) {
    await with_own_clock(this.page);
    await this.page.goto(url);
    await this.see((names) => names.length > 3, 'the first page');
    this.cdp = await this.page.context().newCDPSession(this.page);
  }

  count(what, times = 1) {
    const here = this.did[this.stage] ??= { taps: 0, holds: 0, keys: 0, letters: 0 };
    here[what] += times;
  }

  /// Everything that a reader would find: role, name, state, place.
  async items() {
    return this.page.evaluate(() => [...document.querySelectorAll('#mirror *')].map((one) => {
      const box = one.getBoundingClientRect();
      return {
        role: one.getAttribute('role') ?? ({ BUTTON: 'button', INPUT: 'textbox', TEXTAREA: 'textbox', P: 'text' }[one.tagName] ??
          (/^H\d$/.test(one.tagName) ? 'heading' : '')),
        level: /^H\d$/.test(one.tagName) ? Number(one.tagName[1]) : 0,
        name: one.getAttribute('aria-label') ?? (one.children.length === 0 ? one.textContent : ''),
        value: one.value ?? '',
        hint: one.getAttribute('aria-description') ?? '',
        keypad: one.classList.contains('keypad'),
        enabled: one.getAttribute('aria-disabled') !== 'true' && !one.disabled,
        busy: one.getAttribute('aria-busy') === 'true',
        checked: one.getAttribute('aria-checked') === 'true',
        x: box.x, y: box.y, width: box.width, height: box.height,
      };
    }));
  }

  /// Waits until the picture rests and no record is on its way to the store.
  async settled(limit = 30_000) {
    await this.page.waitForFunction(() => window.kickplate.idle &&
      document.querySelector('#mirror [aria-busy=true]') === null, null, { timeout: limit, polling: 30 });
  }

  /// Lets the screen stand as long as a person needs to see what is new on it; a press right after
  /// a card came is held to be meant for the one before.
  async look() {
    await this.settled();
    await this.page.waitForTimeout(450);
  }

  /// Waits until the page shows what is wanted; fails with what was there instead.
  async see(wanted, what, limit = 20_000) {
    const end = Date.now() + limit;
    for (;;) {
      const items = await this.items();
      if (wanted(items)) return items;
      if (Date.now() > end) {
        throw new Error(`${what} did not come. There was: ${items.map((one) => `${one.role} "${one.name}"`).join(', ')}`);
      }
      await this.page.waitForTimeout(40);
    }
  }

  async find(role, name, limit) {
    const fits = (one) => one.role === role && (name instanceof RegExp ? name.test(one.name) : one.name === name);
    const items = await this.see((all) => all.some((one) => fits(one) && one.width > 0), `${role} "${name}"`, limit);
    return items.find((one) => fits(one) && one.width > 0);
  }

  async down(x, y) {
    if (this.touch) await this.cdp.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: [{ x, y }] });
    else {
      await this.page.mouse.move(x, y);
      await this.page.mouse.down();
    }
  }
  async move(x, y) {
    if (this.touch) await this.cdp.send('Input.dispatchTouchEvent', { type: 'touchMove', touchPoints: [{ x, y }] });
    else await this.page.mouse.move(x, y);
  }
  async up() {
    if (this.touch) await this.cdp.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] });
    else await this.page.mouse.up();
  }

  /// A touch at the middle of a thing.
  async tap(item) {
    this.count('taps');
    await this.down(item.x + item.width / 2, item.y + item.height / 2);
    await this.up();
  }
  /// Finds it, looks, and presses it where it is then.
  async press(role, name) {
    await this.find(role, name);
    await this.look();
    await this.tap(await this.find(role, name));
  }

  /// Begins a new job. What the browser keeps may be listed late on a slow machine, and a press of a
  /// page that changed under it counts for nothing.
  async begin_job() {
    for (let tries = 5; tries > 0 && !/Stage 1 of 8/.test(await this.words()); --tries) {
      if ((await this.items()).some((one) => one.name === 'New job')) await this.press('button', 'New job');
      await this.page.waitForTimeout(2_000);
    }
    await this.see((items) => items.some((one) => one.name.startsWith('Stage 1 of 8')), 'the new job');
  }

  /// Waits for the demo job: it stands at the quote, behind the question who works here.
  async demo() {
    await this.see((items) => items.some((one) => one.name === 'Quote before the work') &&
      items.some((one) => /^(Quote agreed|Your name)$/.test(one.name)), 'the demo job');
    await this.look();
  }

  /// Looks, presses and holds as long as the tool asks for, and lifts: the lift confirms.
  async hold(item, ms = 900) {
    await this.look();
    this.count('holds');
    await this.down(item.x + item.width / 2, item.y + item.height / 2);
    await this.page.waitForTimeout(ms);
    await this.up();
  }

  async type(item, text) {
    await this.tap(item);
    // The field opens with the next picture; what is typed before goes to the keypad.
    await this.page.waitForFunction(() => {
      const at = document.activeElement;
      return (at?.tagName === 'INPUT' || at?.tagName === 'TEXTAREA') && !at.readOnly;
    }, null, { timeout: 10_000, polling: 30 });
    await this.page.keyboard.type(text);
    this.count('letters', text.length);
    await this.page.keyboard.press('Enter');
  }

  /// A figure on the tool's keypad.
  async enter(text) {
    for (const digit of text) await this.key(digit === '.' ? 'point' : digit);
  }

  /// One key of the keypad.
  async key(name) {
    await this.press('button', name);
    this.count('taps', -1);
    this.count('keys');
  }

  /// So many seconds pass while the person stands there.
  async wait(seconds) {
    await wait_for(this.page, seconds);
    await this.settled();
  }

  async sign(item) {
    await this.down(item.x + 30, item.y + item.height * 0.6);
    for (let step = 1; step <= 8; ++step) {
      await this.move(item.x + 30 + step * (item.width - 60) / 8, item.y + item.height * (step % 2 ? 0.3 : 0.7));
    }
    await this.up();
  }

  /// The words on the page, for questions such as "which stage is this".
  async words() { return (await this.items()).map((one) => one.name).join(' | '); }

  /// The records of the job that are in the browser's database, oldest first.
  async records(base) { return records_of(this.page, base); }
}
