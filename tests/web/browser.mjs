// The browsers that the tests use, with a picture and without, and how a test counts.

import { mkdirSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

export const top = dirname(dirname(dirname(fileURLToPath(import.meta.url))));
export const site = process.env.KP_SITE ?? join(top, 'build', 'web', 'site');
export const shots = process.env.KP_SHOTS ?? join(top, 'build', 'shots');
const third = process.env.KP_THIRD ?? join(top, 'build', 'third');
export const { chromium } = createRequire(join(third, 'node', 'package.json'))('playwright-core');
mkdirSync(shots, { recursive: true });

export const browser_options = {
  executablePath: '/usr/bin/chromium',
  args: ['--no-sandbox', '--use-gl=angle', '--use-angle=swiftshader', '--enable-unsafe-swiftshader',
    '--ignore-gpu-blocklist', '--disable-background-networking', '--disable-component-update', '--disable-sync'],
};

export const phone = { viewport: { width: 390, height: 844 }, deviceScaleFactor: 1, hasTouch: true, isMobile: true };
export const desk = { viewport: { width: 1440, height: 900 } };

/// Makes a page of any browser one on a phone.
export async function on_phone(page) {
  await page.setViewportSize(phone.viewport);
  const cdp = await page.context().newCDPSession(page);
  await cdp.send('Emulation.setTouchEmulationEnabled', { enabled: true, maxTouchPoints: 5 });
}

/// A browser that has no WebGL at all.
export const no_picture_options = {
  executablePath: '/usr/bin/chromium',
  args: ['--no-sandbox', '--disable-gpu', '--disable-3d-apis', '--disable-background-networking',
    '--disable-component-update', '--disable-sync'],
};

/// The page is put behind another one, or comes back.
export async function set_hidden(page, hidden) {
  await page.evaluate((now) => {
    Object.defineProperty(document, 'visibilityState', { configurable: true, get: () => (now ? 'hidden' : 'visible') });
    Object.defineProperty(document, 'hidden', { configurable: true, get: () => now });
    document.dispatchEvent(new Event('visibilitychange'));
  }, hidden);
}

/// Pictures drawn in so many milliseconds.
export async function idle_frames(page, ms) {
  const before = await page.evaluate(() => window.kickplate.framesDrawn);
  await page.waitForTimeout(ms);
  return await page.evaluate(() => window.kickplate.framesDrawn) - before;
}

let failures = 0;
export function check(name, good, detail = '') {
  console.log(`${good ? 'ok' : 'not ok'} ${name}`);
  if (!good) {
    failures += 1;
    console.log(String(detail));
  }
  return good;
}
export function finish() {
  process.exitCode = failures > 0 ? 1 : 0;
}
