// Does a whole job the way a technician does: reads the card, does the one thing that it asks for.
// What is typed comes from the band that the card shows. It knows names, not places.

/// What this technician picks and writes where there is a choice.
/// The machine before this technician has an open heater: that is what the meter shows.
export const taste = {
  choices: ['Pump module', 'Dishes wet'],
  open_loop: /^Heater, A to B/,
  words: {
    'Your name': 'R. Vance',
    'Number on your lock': '117',
    'Number or words on the tag': 'T-9, R. Vance',
    Make: 'Orrin two-pole',
    'Number on it': '0042',
    'Date of its calibration': '2026-03-02',
    'Name of the second person': 'B. Holm',
    'Who holds it': 'B. Holm',
  },
};

/// The stage that the words on the page name; 0 where there is none.
export function stage_of(words) { return Number(words.match(/Stage (\d) of 8/)?.[1] ?? 0); }

/// Names of buttons that go on, the first that is there and enabled is pressed.
const onward = ['This is the machine', 'Note the complaint', 'Note the customer', 'Quote agreed', 'Make safe',
  'This is my tester', 'Find the fault', 'Go on', 'Do this test', 'Enter reading', 'Looks right', /^Reach the /, 'Close', 'Signed',
  /^Leave out: /, 'Hand over invoice and record', 'Hand over the record'];
const readings = ['Next reading', 'Finish the proof', 'Keep the reading', 'It is discharged', 'It is cool'];

/// A figure that fits the band in the words of the card.
export function figure_for(card) {
  const words = card.replace(/from [\d.]+ to [\d.]+/g, '');   // what is measured, not its limits
  const between = words.match(/(?:good|expected|)\s*(-?[\d.]+) to (-?[\d.]+) /);
  const most = words.match(/at most ([\d.]+)/) ?? words.match(/below ([\d.]+)/);
  const least = words.match(/at least ([\d.]+)/);
  if (between) {
    const middle = (Number(between[1]) + Number(between[2])) / 2;
    return String(Number(middle.toFixed(1)));
  }
  if (most) return String(Number((Number(most[1]) / 3).toFixed(2)));
  if (least) return String(Number(least[1]) + 1);
  return '0';
}

/// How long the card wants to be waited for, in seconds; 0: not at all.
export function seconds_to_wait(words, hold) {
  const left = hold?.enabled === false ? hold.hint.match(/in (\d+):(\d\d):(\d\d)/) : null;
  if (left) return Number(left[1]) * 3600 + Number(left[2]) * 60 + Number(left[3]);
  const takes = hold === undefined ? words.match(/It takes (\d+) (s|min)\b/) : null;
  return takes ? Number(takes[1]) * (takes[2] === 'min' ? 60 : 1) : 0;
}

/// The words from the card's heading on: the field's label, its band and its unit.
function words_of_card(seen) {
  const headings = seen.map((one, index) => [one, index]).filter(([one]) => one.role === 'heading' && one.level === 1);
  const from = headings.length > 0 ? headings[headings.length - 1][1] : 0;
  return seen.slice(from).map((one) => one.name).join(' | ');
}

/// One thing. Returns what was done, or null when nothing could be.
export async function do_one_thing(person, taste = {}) {
  await person.settled();
  const items = await person.items();
  const seen = items.filter((one) => one.width > 0);
  if (seen.some((one) => one.busy)) return null;  // a record is on its way: nothing new until it is kept
  const button = (name) => seen.find((one) => one.role === 'button' && one.enabled && !one.busy &&
    (name instanceof RegExp ? name.test(one.name) : one.name === name || one.name.startsWith(`${name},`)));
  person.stage = stage_of(seen.map((one) => one.name).join(' | ')) || person.stage;
  const box = seen.find((one) => one.role === 'checkbox' && !one.checked && one.enabled);
  if (box) {
    await person.tap(box);
    return `ticked ${box.name}`;
  }
  const field = seen.find((one) => one.role === 'textbox' && !one.keypad && one.value === '' &&
    !/^Model$|own words|Telephone/.test(one.name));
  if (field) {
    await person.type(field, taste.words?.[field.name] ?? 'A1');
    return `typed ${field.name}`;
  }
  const pad = seen.find((one) => one.role === 'image' && /Sign/.test(one.name)) ??
    seen.find((one) => /signature/i.test(one.name) && one.height > 60);
  if (pad && button('Signed') === undefined) {
    await person.sign(pad);
    return 'signed';
  }
  if (button('7') && button('8')) {
    const words = words_of_card(seen);
    const entry = readings.map((name) => seen.find((one) => one.role === 'button' && one.name === name)).find(Boolean);
    if (entry) {
      const wait = seconds_to_wait(seen.map((one) => one.name).join(' | '));
      if (wait > 0) await person.wait(wait);
      const open = taste.open_loop?.test(words) && button('OL');
      if (open) await person.key('OL');
      else if (button('No step lit')) await person.key('No step lit');   // a tester that shows steps
      else await person.enter(figure_for(words));
      await person.press('button', entry.name);
      return entry.name;
    }
  }
  const hold = button(/^Hold: /);
  if (hold) {
    await person.hold(hold);
    return hold.name;
  }
  const shut = seen.find((one) => one.role === 'button' && /^Hold: /.test(one.name));
  const wait = shut ? seconds_to_wait('', shut) : 0;
  if (wait > 0) {
    await person.wait(wait);
    return `waited for ${shut.name}`;
  }
  for (const name of onward) {
    const found = button(name);
    if (found) {
      await person.tap(found);
      return found.name;
    }
  }
  const choice = seen.find((one) => (one.role === 'radio' || one.role === 'button') && one.enabled && !one.checked &&
    (taste.choices ?? []).some((wanted) => one.name.startsWith(wanted)));
  if (choice) {
    await person.tap(choice);
    return `chose ${choice.name}`;
  }
  return null;
}

/// Goes on until `done(words)`; the names of what was done.
export async function work_until(person, done, taste = {}, limit = 400) {
  const path = [];
  let idle = 0;
  for (let step = 0; step < limit; ++step) {
    const words = await person.words();
    if (done(words)) return path;
    const what = await do_one_thing(person, taste);
    if (what === null) {
      idle += 1;
      if (idle > 100) throw new Error(`nothing to do here: ${words}`);
    } else {
      idle = 0;
      path.push(what);
      await taste.after?.(what);
    }
    await person.page.waitForTimeout(what === null ? 100 : 50);
  }
  if (limit === 1) return path;
  throw new Error(`not done after ${limit} things: ${path.slice(-5).join(', ')}`);
}
