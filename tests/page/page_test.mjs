// Every case: the page opens, asks nobody for anything, fits any width, is readable and can be used by
// keyboard.
import assert from 'node:assert/strict';
import {spawnSync} from 'node:child_process';
import {readFileSync} from 'node:fs';
import {join} from 'node:path';
import {after, before, describe, test} from 'node:test';
import {pathToFileURL} from 'node:url';

import {CASES, choose, open, pageOf, PHONE, scratch, SCREEN, startBrowser, tuft} from './support.mjs';

const folder = scratch(), made = {};
let browser;
before(async () => {
  browser = await startBrowser();
  for (const name of CASES) made[name] = pageOf(name, folder);
});
after(() => browser.close());

/** Pairs of texts in drawings that lie on each other, and texts that leave their drawing. */
function clashes(within) {
  const found = [];
  for (const root of document.querySelectorAll(`${within} figure > svg`)) {
    const frame = root.getBoundingClientRect();
    const texts = Array.from(root.querySelectorAll('text'))
                      .map((node) => ({words: node.textContent, box: node.getBoundingClientRect()}))
                      .filter(({box}) => box.width > 0);
    texts.forEach(({words, box: a}, i) => {
      if (a.left < frame.left - 1 || a.right > frame.right + 1 || a.top < frame.top - 1 ||
          a.bottom > frame.bottom + 1)
        found.push(`${words} leaves`);
      texts.slice(i + 1).forEach(({words: other, box: b}) => {
        const w = Math.min(a.right, b.right) - Math.max(a.left, b.left),
              h = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
        if (w > 0.5 && h > 4) found.push(`${words} / ${other}`);
      });
    });
  }
  return found;
}

for (const name of CASES) {
  describe(name, () => {
    test('opens without a fault, asks for nothing but itself, and is small', async () => {
      const {page, faults, requests, close} = await open(browser, made[name].file);
      for (let i = 0; i < made[name].results.conditions.length; ++i) await choose(page, i);
      assert.deepEqual(faults, []);
      assert.deepEqual(requests, [pathToFileURL(made[name].file).href]);
      assert.ok(made[name].bytes < 3e6, `${made[name].bytes} bytes`);
      const text = readFileSync(made[name].file, 'utf8');
      assert.equal(/(src|href)=["']?(https?:|\/\/)/.test(text), false);
      await close();
    });

    for (const viewport of [PHONE, SCREEN]) {
      test(`no text on text and no sideways scrolling at ${viewport.width}`, async () => {
        const {page, close} = await open(browser, made[name].file, {viewport});
        for (let i = 0; i < made[name].results.conditions.length; ++i) {
          await choose(page, i);
          assert.deepEqual(
              await page.evaluate(clashes, '#device'), [], made[name].results.conditions[i].name);
        }
        for (const range of await page.$$('input[type=range]')) {
          // All of the few solved angles; of the many that the page solves, some between, fifteen degrees
          // apart at most.
          const [least, most] = await range.evaluate((node) => [Number(node.min), Number(node.max)]);
          for (let k = least; k <= most; k += most - least > 30 ? 13 : 1) {
            await range.evaluate((node, value) => {
              node.value = value;
              node.dispatchEvent(new Event('input'));
            }, k);
            assert.deepEqual(await page.evaluate(clashes, '#tilt'), [], `turn ${k}`);
          }
        }
        assert.deepEqual(await page.evaluate(clashes, 'main'), []);
        const [wide, room] = await page.evaluate(
            () => [document.documentElement.scrollWidth, document.documentElement.clientWidth]);
        assert.ok(wide <= room, `${wide} > ${room}`);
        await close();
      });
    }

    test('every figure has words and a table', async () => {
      const {page, close} = await open(browser, made[name].file);
      const bare = await page.evaluate(
          () => Array.from(document.querySelectorAll('figure > svg'))
                    .filter(
                        (s) => (s.getAttribute('aria-label') || '').length < 40 ||
                            s.getAttribute('role') !== 'img')
                    .length);
      assert.equal(bare, 0);
      const without = await page.evaluate(
          () => Array.from(document.querySelectorAll('section'))
                    .filter((s) => s.querySelector('figure') && !s.querySelector('table'))
                    .map((s) => s.id));
      assert.deepEqual(without, []);
      await close();
    });
  });
}

test('on paper: light, no controls, reasons open, lists folded, few pages', async () => {
  const {page, close} = await open(browser, made['slim-notebook'].file, {colorScheme: 'dark'});
  await page.emulateMedia({media: 'print', colorScheme: 'dark'});
  assert.equal(
      await page.evaluate(() => getComputedStyle(document.documentElement).backgroundColor),
      'rgb(255, 255, 255)');
  assert.equal(
      await page.evaluate(() => getComputedStyle(document.documentElement).getPropertyValue('--text').trim()),
      '#1b2228');
  assert.equal(await page.isVisible('nav.contents'), false);
  assert.equal(await page.isVisible('input[type=range]'), false);
  await page.evaluate(() => dispatchEvent(new Event('beforeprint')));
  assert.equal(await page.evaluate(() => document.querySelectorAll('details:not(.more):not([open])').length), 0);
  assert.equal(await page.evaluate(() => document.querySelectorAll('details.more[open]').length), 0);
  const wide =
      await page.evaluate(() => document.documentElement.scrollWidth <= document.documentElement.clientWidth);
  assert.ok(wide);
  const paper = await page.pdf({format: 'A4'});
  assert.ok(paper.length > 20000);
  const pages = paper.toString('latin1').match(/\/Type\s*\/Page[^s]/g).length;
  assert.ok(pages <= 11, `${pages} pages`);
  await close();
});

test('without scripts the answers are still there', async () => {
  const context = await browser.newContext({javaScriptEnabled: false});
  const page = await context.newPage();
  await page.goto(pathToFileURL(made['fanless-router'].file).href);
  const text = await page.evaluate(() => document.body.innerText).catch(() => page.textContent('body'));
  for (const claim of made['fanless-router'].results.claims) assert.ok(text.includes(claim.say), claim.say);
  await context.close();
});

test('a condition without a solution says so', async () => {
  const file = join(folder, 'unsolved.html');
  const run = spawnSync(
      process.env.TUFT,
      ['report', join(process.env.CASES, '../tests/program/no-solution.yaml'), '--out', file]);
  assert.equal(run.status, 4);
  const {page, faults, close} = await open(browser, file);
  const index = await page.evaluate(
      () => Array.from(document.querySelectorAll('.choice'))
                .findIndex((c) => c.classList.contains('unsolved')));
  assert.ok(index >= 0);
  await choose(page, index);
  assert.match(await page.textContent('#device'), /has no solution: .{10}/);
  assert.deepEqual(faults, []);
  await close();
});

test('figures of other commands come along, and load nothing', async () => {
  const name = 'slim-notebook', source = join(process.env.CASES, name + '.yaml'),
        file = join(folder, 'with.html');
  tuft('warmup', source, '--until', '60s', '--quiet', '--out', join(folder, 'warm'));
  tuft('report', source, '--with', join(folder, 'warm'), '--out', file);
  const {page, faults, requests, close} = await open(browser, file);
  assert.deepEqual(faults, []);
  assert.deepEqual(requests.filter((r) => !r.startsWith('data:')), [pathToFileURL(file).href]);
  const seen = await page.evaluate(
      () => Array.from(document.querySelectorAll('#warmup img')).map((i) => [i.naturalWidth, i.alt.length]));
  assert.equal(seen.length, 1);
  assert.ok(seen[0][0] > 300 && seen[0][1] > 40);
  await close();
});
