// Pictures of docs/how-to/draw-a-device.md: BROWSER=... TUFT=... node draw_pictures.mjs FOLDER. Draws the base of the
// example notebook from a rendered photo, as the how-to tells, and counts what the hands do.
import {mkdtempSync} from 'node:fs';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {pathToFileURL} from 'node:url';

import {BY_HAND, bulgedPlace, NOTEBOOK_BASE, photoOf} from './device_photo.mjs';
import {startBrowser, tuft} from './support.mjs';

const [folder] = process.argv.slice(2), work = mkdtempSync(join(tmpdir(), 'tuft-draw-'));
const file = join(work, 'draw.html');
tuft('draw', join(work, 'my-notebook.yaml'), '--out', file);
const browser = await startBrowser(), context = await browser.newContext({viewport: {width: 1280, height: 860}});
const page = await context.newPage(), counted = {clicks: 0, drags: 0, fields: 0};
const picture = async (name) => {
  await page.waitForTimeout(400);
  if (process.env.PNG) await page.screenshot({path: join(folder, `draw.${name}.png`)});
  await page.screenshot({path: join(folder, `draw.${name}.jpg`), type: 'jpeg', quality: 82});
};
const click = async (selector) => {
  ++counted.clicks;
  await page.click(selector);
};
const type = async (label, value) => {
  ++counted.fields;
  await page.locator('.field', {hasText: label}).locator('input').fill(value);
  await page.keyboard.press('Tab');
};
const drag = async (from, to) => {
  ++counted.drags;
  await page.mouse.move(...from);
  await page.mouse.down();
  await page.mouse.move((from[0] + to[0]) / 2, (from[1] + to[1]) / 2);
  await page.mouse.move(...to, {steps: 3});
  await page.mouse.up();
};
const onFace = (x, y) => page.evaluate(([a, b]) => {
  const node = document.querySelector('.stage .outline'), box = node.getBoundingClientRect();
  const width = Number(node.getAttribute('width'));
  return [box.left + a * box.width / width, box.top + b * box.width / width];
}, [x, y]);

await page.goto(pathToFileURL(file).href);
await page.waitForFunction(() => document.documentElement.dataset.ready === 'yes');
await type('Width, x', '31,2 cm');
await type('Depth, y', '221 mm');
await type('Height, z', '16');
const photo = await photoOf(page, NOTEBOOK_BASE, BY_HAND);
++counted.clicks;
await page.setInputFiles('#photo-file', {name: 'IMG_0417.jpg', mimeType: 'image/jpeg', buffer: photo});
await page.waitForSelector('[data-corner]');
const {corners, bulge, width, height} = BY_HAND, order = [2, 3, 0, 1];
for (let k = 0; k < 4; ++k) {
  const box = await page.locator(`[data-corner="${k}"] .ring`).boundingBox();
  const to = await page.evaluate(([x, y]) => {
    const at = new DOMPoint(x, y).matrixTransform(document.querySelector('.corners').getScreenCTM());
    return [at.x, at.y];
  }, bulgedPlace(corners[order[k]], bulge, width, height));
  await drag([box.x + box.width / 2, box.y + box.height / 2], to);
}
++counted.drags;
await page.fill('#bulge', String(bulge));
await picture('corners');
await click('#straight-done');
await page.waitForSelector('.stage image.photo');
for (const {x, y, w, h, cover} of NOTEBOOK_BASE.openings) {
  await click(`[data-tool=${cover === 'slots' ? 'slots' : 'vents'}]`);
  await page.keyboard.down('Alt');
  await drag(await onFace(x - w / 2, y - h / 2), await onFace(x + w / 2, y + h / 2));
  await page.keyboard.up('Alt');
  await click('#open-area');
  if (cover !== 'slots') await picture('open-area');
  await click('#take-open');
}
await click('[data-face=left]');
await click('[data-tool=slots]');
await drag(await onFace(22, 4), await onFace(88, 12));
await click('[data-tool=fans]');  // turns to the inside
await drag(await onFace(56, 55), await onFace(83, 55));
await click('[data-face=base]');
await picture('vents');
console.log(JSON.stringify(counted));
await browser.close();
