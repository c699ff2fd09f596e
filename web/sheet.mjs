// Makes the contact sheet: one page with every drawing of assets/parts at 256 and at 64 pixels, as
// it is, as the target, and as a part that was taken off.
//   node web/sheet.mjs --parts FOLDER --out FOLDER
// writes sheet.html and sheet.css, which look for sheet-regular.otf and sheet-bold.otf beside them.

import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

const kGroups = [
  ['The machine', ['machine-front', 'machine-side', 'frame', 'tub', 'tub-floor', 'layout-pump-module',
    'layout-rear-feed', 'layout-telescopic']],
  ['Door', ['door-outer-panel', 'door-inner-panel', 'door-insulation', 'door-gasket', 'door-hinge', 'door-spring',
    'door-latch', 'door-switch', 'console', 'vent', 'dispenser', 'dispenser-solenoid']],
  ['Controls and wiring', ['timer', 'timer-knob', 'push-buttons', 'wiring-harness', 'junction-box', 'junction-cover',
    'power-cord', 'plug-connector', 'spade-terminal']],
  ['Pump and motor', ['pump-module', 'hub-cap', 'screen', 'housing', 'separator-plate', 'chopper', 'impeller', 'sump',
    'pump-gasket', 'pump-seal', 'motor', 'motor-mount', 'motor-capacitor', 'saddle-spring']],
  ['Spray and racks', ['lower-arm', 'upper-arm', 'riser', 'riser-clip', 'feed-tube', 'lower-rack', 'upper-rack',
    'rack-stop']],
  ['Water', ['inlet-valve', 'inlet-screen', 'inlet-hose', 'fill-inlet', 'drain-hose', 'drain-check-valve', 'float',
    'float-switch']],
  ['Heat', ['heater', 'heater-nut', 'heater-clip', 'thermostat', 'thermal-fuse']],
  ['Feet and fixing', ['toe-panel', 'access-panel', 'worktop-bracket', 'anti-tip-bracket', 'levelling-leg', 'castor']],
  ['Fasteners', ['screw', 'nut', 'hose-clamp', 'snap', 'quarter-turn']],
];

// Drawing colours are names: [name, in the file, by day, by night]. Night is a lamp in a dark room:
// the tints keep their order and the outlines stay dark on them.
const kTints = [
  ['white', '#FFFFFF', '#FFFFFF', '#F1ECDF'], ['t1', '#F1EEE7', '#F1EEE7', '#E3DED1'],
  ['t2', '#E3DFD5', '#E3DFD5', '#CFCABD'], ['t3', '#D2CDC1', '#D2CDC1', '#B7B2A6'],
  ['t4', '#B9B4A8', '#B9B4A8', '#9A968B'], ['t5', '#9A968C', '#9A968C', '#7D7A71'],
  ['t6', '#75726B', '#75726B', '#5B5953'], ['ink', '#1B2126', '#1B2126', '#0B0E11'],
  ['warm1', '#E9D9BE', '#E9D9BE', '#D2C09F'], ['warm2', '#CDB48A', '#CDB48A', '#B59B6F'],
];

const options = new Map();
for (let i = 2; i + 1 < process.argv.length; i += 2) options.set(process.argv[i], process.argv[i + 1]);
const [parts, out] = ['--parts', '--out'].map((name) => options.get(name));
if (!parts || !out) {
  console.error('usage: node web/sheet.mjs --parts FOLDER --out FOLDER');
  process.exit(2);
}

/// The silhouette's look can be replaced by that of a state.
function outline(element) {
  return element.replace(/ stroke-width="[^"]*"|\/$/g, '') + ' class="outline"/';
}

/// A drawing as a symbol of the page. Its first shape is marked: it is the silhouette.
function read_drawing(id) {
  const text = readFileSync(join(parts, `${id}.svg`), 'utf8');
  const view = /viewBox="([^"]+)"/.exec(text)?.[1];
  const title = /<title>([^<]*)<\/title>/.exec(text)?.[1];
  if (!view || !title) {
    console.error(`${id}.svg: no viewBox or no title`);
    process.exit(1);
  }
  const body = text.replace(/^[\s\S]*?<svg[^>]*>|<\/svg>\s*$/g, '').replace(/<title>[\s\S]*?<\/title>/, '')
    .replace(/<defs>[\s\S]*?<\/defs>/, '').trim()
    .replace(/<(path|rect|circle|ellipse|polygon|polyline)\b[^>]*/, outline);
  return { id, view, title, body };
}

/// One picture that fills a square of `size` pixels; words for a reader only where it is the first.
function picture(drawing, size, kind, label = '') {
  const said = label ? `role="img" aria-label="${label}"` : 'aria-hidden="true"';
  return `<svg class="${kind}" width="${size}" height="${size}" viewBox="${drawing.view}" ${said}>`
    + `<use href="#${drawing.id}"/></svg>`;
}

function figure(drawing) {
  return `<figure>
${picture(drawing, 256, 'rest', drawing.title)}
<div>${picture(drawing, 64, 'rest')}${picture(drawing, 64, 'target')}${picture(drawing, 64, 'off')}</div>
<figcaption>${drawing.title}<small>${drawing.id}</small></figcaption>
</figure>`;
}

const variables = (column) => kTints.map((tint) => `--${tint[0]}:${tint[column]}`).join(';');
// A state sets --outline for the silhouette's fill, --body for every other fill, --line for dark lines.
const colours = [...kTints.map(([name, file]) => [file, `var(--${name})`]),
  ...['url(#rubber)', 'url(#cut)'].map((hatch) => [hatch, hatch])];
const recolour = colours.map(([file, value]) => {
  const line = ['#1B2126', '#75726B'].includes(file) ? '--line' : '--body';
  return `[fill="${file}"]{fill:var(--body,${value})}[stroke="${file}"]{stroke:var(${line},${value})}`
    + `.outline[fill="${file}"]{fill:var(--outline,${value})}`;
}).join('\n');
const face = (file, weight) => `@font-face{font-family:B612;font-weight:${weight};src:url(${file})}`;

const style = `${face('sheet-regular.otf', 400)}
${face('sheet-bold.otf', 700)}
:root{color-scheme:light dark;--paper:#F6F3EC;--words:#1B2126;--soft:#5C5A54;--hair:#C9C2B4;--touch:#0B6E75;--tint:#DDEBE9;${variables(2)}}
@media (prefers-color-scheme:dark){:root{--paper:#14181C;--words:#E9E4D8;--soft:#A7A294;--hair:#3A4148;--touch:#55B7BE;--tint:#1F3436;${variables(3)}}}
*{box-sizing:border-box}
body{margin:0 auto;max-width:1440px;padding:20px 16px 48px;background:var(--paper);color:var(--words);font:17px/1.4 B612,sans-serif}
h1{font-size:23px;margin:0 0 4px}
p{margin:0 0 8px;color:var(--soft);max-width:64ch}
h2{font-size:20px;margin:36px 0 0;padding:0 0 8px;border-bottom:1px solid var(--hair)}
h2 small{font-weight:400;color:var(--soft);font-size:15px;margin-left:8px}
nav{display:flex;flex-wrap:wrap;gap:0 20px;margin-top:12px}
nav a{color:var(--touch);font-weight:700;font-size:15.5px;padding:10px 0;text-decoration:none}
section{display:grid;grid-template-columns:repeat(auto-fill,minmax(min(100%,352px),1fr))}
figure{margin:0;padding:16px 0;display:grid;grid-template-columns:256px 64px;gap:8px 16px;justify-content:center;border-bottom:1px solid var(--hair)}
figure div{display:flex;flex-direction:column;justify-content:space-between;padding:16px 0}
figcaption{grid-column:1/3;text-align:center}
figcaption small{display:block;color:var(--soft);font-size:13.5px}
svg{display:block}
.store{position:absolute}
${recolour}
.outline{stroke-width:var(--pen,1.5);stroke-dasharray:var(--dash,none);vector-effect:var(--effect,none)}
.outline[stroke]{stroke:var(--edge,var(--ink))}
.target{--outline:var(--tint);--body:none;--line:var(--touch);--edge:var(--touch)}
.off{--outline:none;--body:none;--line:none;--edge:var(--soft);--dash:4 3;--effect:non-scaling-stroke;--pen:1.25}
@media (max-width:368px){figure{grid-template-columns:256px}figure div{flex-direction:row;padding:0}figcaption{grid-column:1}}
@media (min-width:800px){body{padding:32px 40px 64px}}`;

const all = readdirSync(parts).filter((name) => name.endsWith('.svg')).map((name) => name.slice(0, -4)).sort();
const placed = new Set(kGroups.flatMap(([, ids]) => ids));
const groups = [...kGroups, ['More', all.filter((id) => !placed.has(id))]]
  .map(([title, ids]) => [title, ids.filter((id) => all.includes(id)).map(read_drawing)])
  .filter(([, drawings]) => drawings.length > 0);

const anchor = (title) => title.toLowerCase().replace(/ /g, '-');
const page = `<!doctype html>
<html lang="en">
<meta charset="utf-8">
<meta name="viewport" content="width=device-width,initial-scale=1">
<title>Kickplate: part drawings</title>
<link rel="icon" href="icon.svg">
<link rel="stylesheet" href="sheet.css">
<svg class="store" width="0" height="0" aria-hidden="true"><defs>
<pattern id="rubber" width="4" height="4" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><rect width="4" height="4" fill="#B9B4A8"/><path d="M0 0V4" stroke="#1B2126" stroke-width="1.1"/></pattern>
<pattern id="cut" width="5" height="5" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><rect width="5" height="5" fill="#F1EEE7"/><path d="M0 0V5" stroke="#75726B" stroke-width="0.8"/></pattern>
${groups.flatMap(([, drawings]) => drawings).map(({ id, body }) => `<g id="${id}">${body}</g>`).join('\n')}
</defs></svg>
<h1>Part drawings</h1>
<p>${all.length} drawings, each at 256 and 64 pixels, then as the part to reach and as a part that is off.</p>
<nav><a href="./">Back to the tool</a>${groups.map(([title]) => `<a href="#${anchor(title)}">${title}</a>`).join('')}</nav>
${groups.map(([title, drawings]) => `<h2 id="${anchor(title)}">${title}<small>${drawings.length}</small></h2>
<section>
${drawings.map(figure).join('\n')}
</section>`).join('\n')}
</html>
`;
writeFileSync(join(out, 'sheet.css'), `${style}\n`);
writeFileSync(join(out, 'sheet.html'), page);
