// Waiting without waiting: both clocks that the page sees are put ahead together, as far as a person
// would have waited, and the stamps of its events with them. The page's timers stay as they are. The
// wall's clock only ever goes ahead, for every page of this run, as that of a device does.

let waited_ms = 0;

/// Before the page is opened.
export async function with_own_clock(page) {
  await page.addInitScript((before) => {
    let here = 0;
    const wall = Date.now.bind(Date);
    const steady = performance.now.bind(performance);
    const stamp = Object.getOwnPropertyDescriptor(Event.prototype, 'timeStamp').get;
    Date.now = () => wall() + before + here;
    performance.now = () => steady() + here;
    Object.defineProperty(Event.prototype, 'timeStamp', { get() { return stamp.call(this) + here; } });
    window.later = (ms) => { here += ms; };
  }, waited_ms);
}

/// So many seconds pass. The page draws at least once a minute, as it does where nobody looks away.
export async function wait_for(page, seconds) {
  for (let left = seconds; left > 0; left -= 60) {
    const ms = Math.min(60, left) * 1000;
    waited_ms += ms;
    await page.evaluate((more) => {
      window.later(more);
      window.kickplate.loop.wake();
    }, ms);
    await page.waitForTimeout(120);
  }
}
