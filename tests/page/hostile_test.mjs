// Names and sentences that somebody wrote to do harm, or just oddly, come out as text and in their place.
import assert from 'node:assert/strict';
import {mkdirSync, readFileSync, writeFileSync} from 'node:fs';
import {join} from 'node:path';
import {after, before, test} from 'node:test';

import {choose, open, pageFrom, PHONE, scratch, SCREEN, startBrowser, tuft} from './support.mjs';

const MARKUP = '<img src=x onerror=alert(1)>"\'&amp;</script><script>alert(2)</script><!--';
const TURNED = '\u202eפתח אוויר\u202c \u0645\u062e\u0631\u062c 12';
const LONG = 'grille-'.repeat(1430);  // 10010 letters without a space
const WIDE = 'W'.repeat(10000);

const folder = scratch();
let browser;
before(async () => {
  browser = await startBrowser();
});
after(() => browser.close());

/** The value with every string that is a key of `names` exchanged. */
function renamed(value, names) {
  if (typeof value === 'string') return names.get(value) ?? value;
  if (Array.isArray(value)) return value.map((v) => renamed(v, names));
  if (value && typeof value === 'object')
    return Object.fromEntries(Object.entries(value).map(([k, v]) => [k, renamed(v, names)]));
  return value;
}

function hostileResults() {
  tuft('predict', join(process.env.CASES, 'slim-notebook.yaml'), '--quiet', '--out', join(folder, 'good'));
  const results = JSON.parse(readFileSync(join(folder, 'good', 'results.json'), 'utf8'));
  const names = new Map([
    ['base-grille', MARKUP], ['comb', TURNED], ['keyboard', LONG], ['side-outlet', WIDE],
    ['use', MARKUP + ' use'], ['bench', TURNED + ' bench'], [results.device.name, MARKUP.repeat(20)]
  ]);
  const changed = renamed(results, names);
  changed.claims[0].say = MARKUP;
  changed.claims[1].say = LONG;
  changed.claims[1].because = WIDE;
  changed.claims[2].say = TURNED;
  changed.assumptions.forEach((a, i) => {
    if (i % 3 === 0) a.sentence = MARKUP + WIDE.slice(0, 3000);
  });
  changed.case.text = MARKUP + '\n' + changed.case.text;
  changed.caution = MARKUP + changed.caution;
  mkdirSync(join(folder, 'bad'));
  writeFileSync(join(folder, 'bad', 'results.json'), JSON.stringify(changed));
  return pageFrom(join(folder, 'bad', 'results.json'), join(folder, 'bad.html'));
}

test('hostile names stay text, whatever the width', async () => {
  const made = hostileResults();
  for (const viewport of [PHONE, SCREEN]) {
    const {page, faults, requests, close} = await open(browser, made.file, {viewport});
    for (let i = 0; i < made.results.conditions.length; ++i) await choose(page, i);
    await page.evaluate(() => document.querySelectorAll('details').forEach((d) => {
      d.open = true;
    }));
    assert.deepEqual(faults, []);
    assert.equal(requests.length, 1);
    const odd = await page.evaluate(
        () =>
            [document.querySelectorAll('#page img, #page script').length, document.scripts.length,
             document.documentElement.scrollWidth - document.documentElement.clientWidth]);
    assert.deepEqual(odd.slice(0, 2), [0, 3]);
    assert.ok(odd[2] <= 0, `${odd[2]} px too wide at ${viewport.width}`);
    const said =
        await page.evaluate(() => Array.from(document.querySelectorAll('.say')).map((n) => n.textContent));
    assert.equal(said[0], MARKUP);
    assert.ok(said[1].endsWith('…') && said[1].length <= 160);
    // The mark that turns the writing direction is shown, not obeyed.
    assert.ok(said[2].startsWith('\\u202e'), said[2]);
    assert.equal(await page.title(), MARKUP.repeat(20).replaceAll(/\s+/g, ' '));
    await close();
  }
});

test('no text on text with hostile names', async () => {
  const made = pageFrom(join(folder, 'bad', 'results.json'), join(folder, 'bad.html'));
  const {page, close} = await open(browser, made.file);
  const clashes = await page.evaluate(() => {
    const found = [];
    for (const root of document.querySelectorAll('figure > svg')) {
      const boxes =
          Array.from(root.querySelectorAll('text')).map((n) => [n.textContent, n.getBoundingClientRect()]);
      boxes.forEach(([a, x], i) => boxes.slice(i + 1).forEach(([b, y]) => {
        const w = Math.min(x.right, y.right) - Math.max(x.left, y.left),
              h = Math.min(x.bottom, y.bottom) - Math.max(x.top, y.top);
        if (w > 0.5 && h > 4) found.push(`${a} / ${b}`);
      }));
    }
    return found;
  });
  assert.deepEqual(clashes, []);
  await close();
});

test('a case file with markup in its name and claims', async () => {
  const text =
      readFileSync(join(process.env.CASES, 'fanless-router.yaml'), 'utf8')
          .replace(
              'name: Fanless router (invented)', `name: '${MARKUP.replaceAll('\'', '\'\'').slice(0, 90)}'`)
          .replace('say: Turned over, base and top swap', `say: '<b>Turned</b> over & "swapped" </script>'`);
  writeFileSync(join(folder, 'odd.yaml'), text);
  tuft('report', join(folder, 'odd.yaml'), '--out', join(folder, 'odd.html'));
  const {page, faults, close} = await open(browser, join(folder, 'odd.html'));
  assert.deepEqual(faults, []);
  const said =
      await page.evaluate(() => Array.from(document.querySelectorAll('.say')).map((n) => n.textContent));
  assert.ok(said.includes('<b>Turned</b> over & "swapped" </script>'));
  assert.equal(await page.evaluate(() => document.querySelectorAll('#page b b, #page img').length), 0);
  await close();
});
