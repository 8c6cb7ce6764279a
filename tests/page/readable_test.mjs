// Every case in light and in dark: nothing serious for axe, drawings readable; maps of a field with their tables.
import assert from 'node:assert/strict';
import {readFileSync} from 'node:fs';
import {createRequire} from 'node:module';
import {join} from 'node:path';
import {after, before, describe, test} from 'node:test';
import {pathToFileURL} from 'node:url';

import {CASES, open, pageOf, PHONE, scratch, startBrowser, tuft} from './support.mjs';

const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const folder = scratch(), made = {};
let browser;
before(async () => {
  browser = await startBrowser();
  for (const name of CASES) made[name] = pageOf(name, folder);
});
after(() => browser.close());

/** Texts of drawings whose contrast with paper or body is below 4.5. */
function faint() {
  const probe = document.createElement('canvas').getContext('2d');
  const rgb = (colour) => {
    probe.fillStyle = '#000';
    probe.fillStyle = colour;
    probe.fillRect(0, 0, 1, 1);
    return probe.getImageData(0, 0, 1, 1).data;
  };
  const light = (colour) => {
    const [r, g, b] =
        Array.from(rgb(colour))
            .slice(0, 3)
            .map((c) => (c / 255 <= 0.04045 ? c / 255 / 12.92 : ((c / 255 + 0.055) / 1.055) ** 2.4));
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const paper = light(getComputedStyle(document.documentElement).backgroundColor), found = new Set();
  for (const node of document.querySelectorAll('figure > svg text')) {
    const ink = light(getComputedStyle(node).fill), [high, low] = [ink, paper].sort((a, b) => b - a);
    if ((high + 0.05) / (low + 0.05) < 4.5)
      found.add(`${node.textContent} ${((high + 0.05) / (low + 0.05)).toFixed(2)}`);
  }
  return Array.from(found);
}

for (const name of CASES) {
  describe(name, () => {
    for (const colorScheme of ['light', 'dark']) {
      test(`axe finds nothing serious, and drawings are readable, in ${colorScheme}`, async () => {
        const {page, close} = await open(browser, made[name].file, {colorScheme});
        await page.evaluate(() => document.querySelectorAll('details').forEach((d) => {
          d.open = true;
        }));
        await page.evaluate(AXE);
        const found = await page.evaluate(() => window.axe.run({resultTypes: ['violations']}));
        const serious = found.violations.filter((v) => ['serious', 'critical'].includes(v.impact))
                            .map(
                                (v) => `${v.id}: ${
                                    v.nodes.slice(0, 3)
                                        .map((n) => n.html.slice(0, 160) + ' ' + (n.failureSummary || ''))
                                        .join(' | ')}`);
        assert.deepEqual(serious, []);
        assert.deepEqual(await page.evaluate(faint), []);
        await close();
      });
    }
  });
}

test('on a phone no row of a table is high for words beyond its edge', async () => {
  const {page, close} = await open(browser, made['slim-notebook'].file, {viewport: PHONE});
  const rows = await page.evaluate(
      () => Array.from(document.querySelectorAll('#device .sheet tr, #maker .sheet tr'))
                .filter((row) => row.getBoundingClientRect().height > 0)
                .map((row) => {
                  const frame = row.closest('.sheet').getBoundingClientRect();
                  const high = (cells) => Math.max(0, ...cells.map((cell) => {
                    const range = document.createRange();
                    range.selectNodeContents(cell);
                    return range.getBoundingClientRect().height;
                  }));
                  const inSight = (cell) => cell.getBoundingClientRect().left < frame.right;
                  const cells = Array.from(row.children);
                  return {
                    words: row.textContent,
                    seen: high(cells.filter(inSight)),
                    hidden: high(cells.filter((cell) => !inSight(cell)))
                  };
                }));
  assert.ok(rows.length > 20 && rows.some((row) => row.hidden > 0));
  assert.deepEqual(rows.filter((row) => row.hidden > row.seen + 4), []);
  await close();
});

test('maps of a field: words, tables, and light or dark as the page', async () => {
  const source = join(process.env.CASES, 'slim-notebook.yaml'), file = join(folder, 'maps.html');
  tuft('field', source, '--cells', '8mm', '--quiet', '--out', join(folder, 'maps'));
  tuft('report', source, '--with', join(folder, 'maps'), '--out', file);
  const {page, faults, requests, close} = await open(browser, file, {viewport: PHONE});
  assert.deepEqual(faults, []);
  assert.deepEqual(requests.filter((r) => !r.startsWith('data:')), [pathToFileURL(file).href]);
  const seen = await page.evaluate(
      () => Array.from(document.querySelectorAll('#field figure')).map((f) => ({
        alt: f.querySelector('img').alt,
        width: f.querySelector('img').getBoundingClientRect().width,
        natural: f.querySelector('img').naturalWidth,
        frame: f.querySelector('.picture-frame').tabIndex,
        caption: f.querySelector('figcaption').textContent
      })));
  assert.equal(seen.length, 3);  // the air in the gap is as warm everywhere: no map of that
  for (const s of seen) {
    assert.match(s.alt, /A map by colour: .+ from [\d.]+ to [\d.]+ (°C|m\/s)\./);
    assert.ok(s.caption.length > 40 && s.natural === 900 && s.frame === 0);
    assert.ok(s.width >= 600, `${s.width} px: too small for its words`);
  }
  // What is wider than a phone says that it can be moved, and pictures are described once to who cannot see them.
  await page.waitForFunction(() => document.querySelector('.sheet.wide'));
  const frames = await page.$$eval(
      '.sheet, .picture-frame',
      (all) => all.filter((f) => !f.closest('details:not([open])'))
                   .map((f) => ({wide: f.scrollWidth > f.clientWidth + 1, told: f.classList.contains('wide')})));
  assert.ok(frames.some((f) => f.wide));
  assert.deepEqual(frames.filter((f) => f.wide !== f.told), [], JSON.stringify(frames));
  assert.equal(await page.$$eval('#field figcaption [aria-hidden]', (all) => all.length), 3);
  // On a common screen the table of the vents shows all its columns.
  await page.setViewportSize({width: 1280, height: 900});
  await page.waitForTimeout(100);
  assert.deepEqual(
      await page.$$eval('.beside.flows .sheet', (all) => all.map((f) => f.scrollWidth <= f.clientWidth + 1)),
      (await page.$$('.beside.flows .sheet')).map(() => true));
  assert.ok(await page.$('.beside.flows .sheet'));
  // Nor is a map cut there.
  assert.deepEqual(
      await page.$$eval('#field .picture-frame', (all) => all.map((f) => f.scrollWidth <= f.clientWidth + 1)),
      [true, true, true]);
  await page.setViewportSize(PHONE);
  const tables = await page.$$eval('#field caption', (all) => all.map((c) => c.textContent));
  assert.ok(tables.some((t) => t.startsWith('What the maps show')) && tables.some((t) => t.startsWith('Vents by')));
  const ground = () => page.evaluate(async () => {
    const img = document.querySelector('#field img');
    await img.decode();
    const canvas = document.createElement('canvas');
    canvas.width = canvas.height = 4;
    canvas.getContext('2d').drawImage(img, 0, 0);
    return canvas.getContext('2d').getImageData(1, 1, 1, 1).data[0];
  });
  assert.ok(await ground() > 200);
  await page.click('header.top button');
  assert.ok(await ground() < 60);
  await close();
});
