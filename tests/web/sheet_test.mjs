// The contact sheet in a real browser: every drawing is there with its name, at both sizes and on
// every width, by day and by night, under the content policy that the page is served with.

import { mkdirSync, readdirSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { serve } from '../../web/serve.mjs';

const top = dirname(dirname(dirname(fileURLToPath(import.meta.url))));
const site = process.env.KP_SITE ?? join(top, 'build', 'web', 'site');
const shots = process.env.KP_SHOTS ?? join(top, 'build', 'shots');
const third = process.env.KP_THIRD ?? join(top, 'build', 'third');
const { chromium } = createRequire(join(third, 'node', 'package.json'))('playwright-core');

let bad = 0;
function check(name, good, detail = '') {
  console.log(`${good ? 'ok' : 'not ok'} ${name}`);
  if (!good) {
    bad += 1;
    console.log(detail);
  }
}

const drawings = readdirSync(join(top, 'assets', 'parts')).filter((name) => name.endsWith('.svg')).length;
mkdirSync(shots, { recursive: true });
const server = await serve(site);
const browser = await chromium.launch({ executablePath: '/usr/bin/chromium', args: ['--no-sandbox'] });

for (const [name, width, height, colorScheme] of [['phone', 390, 844, 'light'], ['small', 320, 640, 'light'],
  ['desk', 1440, 900, 'light'], ['night', 1440, 900, 'dark']]) {
  const page = await browser.newPage({ viewport: { width, height }, colorScheme });
  const errors = [];
  page.on('console', (message) => { if (message.type() === 'error') errors.push(message.text()); });
  page.on('pageerror', (error) => errors.push(String(error)));
  page.on('requestfailed', (request) => errors.push(`${request.url()} did not load`));
  await page.goto(`http://localhost:${server.address().port}/sheet.html`);
  await page.evaluate(() => document.fonts.ready);
  const seen = await page.evaluate(() => {
    const boxes = (selector) => [...document.querySelectorAll(selector)].map((one) => one.getBoundingClientRect());
    return {
      figures: document.querySelectorAll('figure').length,
      named: new Set([...document.querySelectorAll('figure svg[role=img]')].map((one) => one.ariaLabel)).size,
      captions: [...document.querySelectorAll('figcaption')].filter((one) => one.innerText.trim()).length,
      sizes: [...new Set(boxes('figure svg').map((box) => `${box.width}x${box.height}`))].sort().join(' '),
      outside: boxes('figure svg').filter((box) => box.left < 0 || box.right > innerWidth).length,
      overflow: document.documentElement.scrollWidth - innerWidth,
      // An empty reference draws nothing, so it has no box.
      empty: [...document.querySelectorAll('figure use')].filter((one) => one.getBBox().width === 0).length,
      font: [...document.fonts].length === 2 && [...document.fonts].every((one) => one.status === 'loaded'),
      paper: getComputedStyle(document.body).backgroundColor,
    };
  });
  check(`${name}: every drawing of assets/parts is on the sheet`, seen.figures === drawings, `${seen.figures} of ${drawings}`);
  check(`${name}: each has its own name, for eyes and for readers`, seen.named === drawings && seen.captions === drawings,
    JSON.stringify(seen));
  check(`${name}: at 256 and at 64 pixels`, seen.sizes === '256x256 64x64', seen.sizes);
  check(`${name}: nothing is empty`, seen.empty === 0, `${seen.empty} are`);
  check(`${name}: nothing stands out at the side`, seen.outside === 0 && seen.overflow <= 0, JSON.stringify(seen));
  check(`${name}: in the tool's face and on its paper`,
    seen.font && seen.paper === (colorScheme === 'dark' ? 'rgb(20, 24, 28)' : 'rgb(246, 243, 236)'), JSON.stringify(seen));
  check(`${name}: no errors in the console`, errors.length === 0, errors.join('\n'));
  if (name === 'desk' || name === 'night' || name === 'phone') {
    await page.evaluate(() => document.getElementById('pump-and-motor').scrollIntoView());
    await page.screenshot({ path: join(shots, `sheet-${name}.png`) });
  }
  await page.close();
}

await browser.close();
server.close();
process.exitCode = bad > 0 ? 1 : 0;
