// The solver within the page: its numbers are the program's, drawing and table follow it, and without it the
// page steps through the angles solved beforehand.
import assert from 'node:assert/strict';
import {spawnSync} from 'node:child_process';
import {copyFileSync, mkdirSync, readFileSync, statSync, writeFileSync} from 'node:fs';
import {join} from 'node:path';
import {after, before, describe, test} from 'node:test';
import {pathToFileURL} from 'node:url';

import {CASES, checkFlows, checkRows, choose, open, pageFrom, pageOf, scratch, shownIn, startBrowser, tuft} from './support.mjs';

const folder = scratch(), made = {};
let browser;
before(async () => {
  browser = await startBrowser();
  for (const name of CASES) made[name] = pageOf(name, folder);
});
after(() => browser.close());

/**
 * Largest magnitude of each key among the numbers of a solution: below 1e-12 of it there is round-off alone.
 */
function scalesOf(value, scales = new Map(), key = '') {
  if (typeof value === 'number') scales.set(key, Math.max(scales.get(key) || 0, Math.abs(value)));
  if (value && typeof value === 'object')
    for (const [k, v] of Object.entries(value)) scalesOf(v, scales, Array.isArray(value) ? key : k);
  return scales;
}

/** How the solve went, which may end an iteration apart: no results. */
const STORY = ['residual', 'iterations', 'balance'];

/**
 * Asserts that two solutions agree to 1e-9. Heads of a vent are parts of its pressure, and are held to its
 * size; the share of buoyancy in them is held to the whole, 1.
 */
function agree(seen, want, path = '', scales = scalesOf(want)) {
  if (typeof want === 'number') {
    const key = path.split('.').filter((p) => !/^\d+$/.test(p)).pop();
    const whole = key.endsWith('_head_Pa')  ? scales.get('pressure_Pa') :
                  key === 'buoyancy_share' ? 1 : scales.get(key);
    const most = Math.max(1e-9 * Math.abs(want), 1e-12 * whole);
    assert.ok(Math.abs(seen - want) <= most, `${path}: ${seen} is not ${want}`);
  } else if (want && typeof want === 'object') {
    assert.deepEqual(Object.keys(seen), Object.keys(want), path);
    for (const k of Object.keys(want))
      if (!STORY.includes(k)) agree(seen[k], want[k], `${path}.${k}`, scales);
  } else {
    assert.equal(seen, want, path);
  }
}

/** The case with a sweep of a condition about an axis, solved by the program. */
function sweepsOf(name, wanted) {
  const text =
      readFileSync(join(process.env.CASES, name + '.yaml'), 'utf8').replace(/\nsweeps:\n(  .*\n)+/, '\n');
  const file = join(folder, `${name}-swept.yaml`);
  const lines = wanted.map(
      ({condition, about}, i) =>
          `  s${i}: {condition: ${condition}, about: ${about}, from: -170 deg, to: 185 deg, step: 35.5 deg}`);
  writeFileSync(file, `${text}\nsweeps:\n${lines.join('\n')}\n`);
  tuft('predict', file, '--quiet', '--out', join(folder, `${name}-swept`));
  return JSON.parse(readFileSync(join(folder, `${name}-swept`, 'results.json'), 'utf8')).sweeps;
}

async function turnTo(page, value) {
  await page.evaluate((v) => {
    const input = document.querySelector('#tilt input[type=range]');
    input.value = v;
    input.dispatchEvent(new Event('input'));
  }, value);
}

for (const name of CASES) {
  describe(name, () => {
    test('solves in the page to the numbers of the program, in every condition about both axes', async () => {
      const {page, faults, requests, close} = await open(browser, made[name].file), {results} = made[name];
      assert.equal(await page.evaluate(() => document.documentElement.dataset.solver), 'live');
      const wanted =
          results.conditions.flatMap((c) => ['x', 'y'].map((about) => ({condition: c.name, about})));
      let count = 0;
      for (const {condition, axis, points} of sweepsOf(name, wanted)) {
        const seen = await page.evaluate(
            ([c, a, angles]) => angles.map((d) => window.tuft.turned(c, a, d)),
            [condition, axis, points.map((p) => p.angle_deg)]);
        points.forEach((p, i) => agree(seen[i], p, `${condition} about ${axis} at ${p.angle_deg}`));
        count += points.length;
      }
      assert.ok(count >= 22 * results.conditions.length, count);
      assert.deepEqual(faults, []);
      assert.deepEqual(requests, [pathToFileURL(made[name].file).href]);
      await close();
    });

    test('drawing, table and chart show what the solver says, at any angle', async () => {
      const {page, faults, close} = await open(browser, made[name].file), {results} = made[name];
      const start = await page.evaluate(
          () => ({
            condition: document.querySelector('#tilt select').selectedOptions[0].textContent,
            min: Number(document.querySelector('#tilt input[type=range]').min)
          }));
      const axis = results.sweeps.length ? results.sweeps[0].axis : [0, 1, 0];
      for (const turn of [0, 7, 61, 123, 200, 299, 360]) {
        const angle = start.min + turn;
        await turnTo(page, angle);
        const said =
            await page.evaluate(([c, a, d]) => window.tuft.turned(c, a, d), [start.condition, axis, angle]);
        checkFlows(await page.evaluate(shownIn, '#tilt'), said, 'standing');
        assert.equal(await page.textContent('#tilt output'), `${angle}°`);
        assert.equal(
            await page.evaluate(() => Number(document.querySelector('#tilt [data-current]').dataset.current)),
            angle);
      }
      assert.deepEqual(faults, []);
      await close();
    });
  });
}

test('another condition and another axis are solved when they are chosen', async () => {
  const name = 'handheld-console', {page, faults, close} = await open(browser, made[name].file);
  const {conditions} = made[name].results;
  await page.locator('#tilt select').nth(0).selectOption({label: 'sofa-flat'});
  await page.locator('#tilt select').nth(1).selectOption({index: 1});
  await turnTo(page, 77);
  const said = await page.evaluate(() => window.tuft.turned('sofa-flat', [1, 0, 0], 77));
  assert.equal(conditions.some((c) => c.name === 'sofa-flat'), true);
  checkFlows(await page.evaluate(shownIn, '#tilt'), said, 'standing');
  assert.match(await page.textContent('#tilt figcaption'), /sofa-flat turned 77° about x/);
  assert.deepEqual(faults, []);
  await close();
});

test('the keyboard turns by a degree, and from angle to angle of the sweep', async () => {
  const {page, close} = await open(browser, made['slim-notebook'].file);
  const [sweep] = made['slim-notebook'].results.sweeps;
  await page.focus('#tilt input[type=range]');
  await page.keyboard.press('ArrowRight');
  assert.equal(await page.textContent('#tilt output'), '1°');
  await page.keyboard.press('ArrowLeft');
  for (let k = 0; k < sweep.points.length; ++k) {
    if (k > 0) await page.keyboard.press('PageUp');
    assert.equal(await page.textContent('#tilt output'), `${sweep.points[k].angle_deg}°`);
    checkFlows(await page.evaluate(shownIn, '#tilt'), sweep.points[k], 'standing');
  }
  await page.keyboard.press('PageDown');
  assert.equal(await page.textContent('#tilt output'), `${sweep.points.at(-2).angle_deg}°`);
  await page.keyboard.press('End');
  assert.equal(await page.textContent('#tilt output'), '360°');
  await close();
});

const DISABLED = {
  'no WebAssembly': () => {
    delete window.WebAssembly;
  },
  'WebAssembly forbidden': () => {
    WebAssembly.compile = () => Promise.reject(new Error('forbidden'));
  }
};
for (const [why, script] of Object.entries(DISABLED)) {
  for (const name of ['slim-notebook', 'fanless-router']) {
    test(`${why}: turning steps through the solved angles: ${name}`, async () => {
      const {page, faults, close} = await open(browser, made[name].file, {script}),
                           [sweep] = made[name].results.sweeps;
      assert.equal(await page.evaluate(() => document.documentElement.dataset.solver), 'none');
      assert.match(
          await page.textContent('#tilt [data-source]'), /^solved beforehand at these angles; .+ solver/);
      await page.focus('#tilt input[type=range]');
      for (let k = 0; k < sweep.points.length; ++k) {
        if (k > 0) await page.keyboard.press('ArrowRight');
        assert.equal(await page.textContent('#tilt output'), `${sweep.points[k].angle_deg}°`);
        checkFlows(await page.evaluate(shownIn, '#tilt'), sweep.points[k], 'standing');
        const at =
            await page.evaluate(() => Number(document.querySelector('#tilt [data-current]').dataset.current));
        assert.equal(at, sweep.points[k].angle_deg);
      }
      // The drawings made with the page take the place of those that it would draw.
      for (const [i, condition] of made[name].results.conditions.entries()) {
        await choose(page, i);
        const seen = await page.evaluate(shownIn, '#device');
        checkFlows(seen, condition, 'drawing');
        checkFlows(seen, condition, 'standing');
      }
      assert.deepEqual(faults, []);
      await close();
    });
  }
}

test('a sweep in steps of a degree makes a page under 2 MB, and its table has every angle', async () => {
  const text = readFileSync(join(process.env.CASES, 'slim-notebook.yaml'), 'utf8');
  const turn = '\nsweeps:\n  turn: {condition: bench, about: y, from: 0 deg, to: 360 deg, step: 1 deg}\n';
  const source = join(folder, 'degrees.yaml'), results = join(folder, 'degrees', 'results.json');
  writeFileSync(source, text.replace(/\nsweeps:\n(  .*\n)+/, turn));
  tuft('predict', source, '--samples', '0', '--quiet', '--out', join(folder, 'degrees'));
  const {file} = pageFrom(results, join(folder, 'degrees.html'));
  assert.ok(statSync(file).size < 2e6, `${statSync(file).size} bytes`);
  const {page, faults, close} = await open(browser, file, {script: DISABLED['no WebAssembly']});
  const [sweep] = JSON.parse(readFileSync(results, 'utf8')).sweeps;
  assert.equal(sweep.points.length, 361);
  assert.equal(await page.locator('#tilt details tbody tr').count(), 361);
  // Without the solver the slider goes from one drawn angle to the next: at most five degrees.
  await page.focus('#tilt input[type=range]');
  for (let k = 0, last = 0; k < 30; ++k) {
    await page.keyboard.press('ArrowRight');
    const now = Number.parseFloat(await page.textContent('#tilt output'));
    assert.ok(now > last && now <= last + 5, `${last} to ${now}`);
    checkFlows(await page.evaluate(shownIn, '#tilt'), sweep.points[now], 'standing');
    last = now;
  }
  assert.deepEqual(faults, []);
  await close();
});

test('without a solver and without solved angles the page says so', async () => {
  const {page, faults, close} =
      await open(browser, made['mini-desktop'].file, {script: DISABLED['no WebAssembly']});
  assert.match(await page.textContent('#tilt [data-source]'), /can't be turned here: this browser/);
  assert.equal(await page.locator('#tilt input').count(), 0);
  assert.deepEqual(faults, []);
  await close();
});

test('a model that is broken, and results without one, leave the solved angles, and say why nothing is drawn', async () => {
  const source = join(folder, 'slim-notebook', 'results.json'),
        results = JSON.parse(readFileSync(source, 'utf8'));
  const changes = {
    broken: (r) => {
      r.model.device.vents[0].behind.index = 99;
    },
    absent: (r) => {
      delete r.model;
    }
  };
  const why = {
    broken: /No drawing: the model in these results can't be used: model\.device\.vents\[0\]/,
    absent: /No drawing: these results have no model\./
  };
  for (const [word, change] of Object.entries(changes)) {
    const changed = structuredClone(results), file = join(folder, word + '.json');
    change(changed);
    writeFileSync(file, JSON.stringify(changed));
    const {page, faults, close} = await open(browser, pageFrom(file, join(folder, word + '.html')).file);
    assert.equal(await page.evaluate(() => document.documentElement.dataset.solver), 'none');
    assert.match(await page.textContent('#tilt [data-source]'), /^solved beforehand/);
    await page.focus('#tilt input[type=range]');
    await page.keyboard.press('ArrowRight');
    checkRows(await page.evaluate(shownIn, '#tilt'), results.sweeps[0].points[1]);
    checkRows(await page.evaluate(shownIn, '#device'), results.conditions[0]);
    for (const part of ['#tilt', '#device'])
      assert.match(await page.textContent(part), why[word]);
    assert.deepEqual(faults, []);
    await close();
  }
});

test('a fault while turning leaves the solved angles', async () => {
  const {page, faults, close} = await open(browser, made['slim-notebook'].file);
  const said = await page.evaluate(() => {
    const parse = JSON.parse;
    JSON.parse = () => {
      throw new Error('a fault');
    };
    const input = document.querySelector('#tilt input[type=range]');
    input.value = 31;
    input.dispatchEvent(new Event('input'));
    JSON.parse = parse;
    return document.querySelector('#tilt [data-source]').textContent;
  });
  assert.match(said, /^solved beforehand at these angles; the solver of this page has stopped/);
  assert.equal(await page.textContent('#tilt output'), '30°');
  checkFlows(
      await page.evaluate(shownIn, '#tilt'), made['slim-notebook'].results.sweeps[0].points[2], 'standing');
  assert.deepEqual(faults, []);
  await close();
});

test('a page made without the solver steps through the solved angles, and says so', async () => {
  const alone = join(folder, 'alone', 'tuft'), file = join(folder, 'without.html');
  mkdirSync(join(folder, 'alone'));
  copyFileSync(process.env.TUFT, alone);
  const {stderr, status} =
      spawnSync(alone, ['report', join(folder, 'slim-notebook', 'results.json'), '--out', file], {encoding: 'utf8'});
  assert.equal(status, 0);
  assert.match(stderr, /^The page only steps through angles .*--target page_engine\.\n$/);
  const {page, faults, close} = await open(browser, file);
  assert.equal(
      await page.textContent('#tilt [data-source]'),
      'solved beforehand at these angles; this page was made without its solver');
  await page.focus('#tilt input[type=range]');
  await page.keyboard.press('ArrowRight');
  checkFlows(
      await page.evaluate(shownIn, '#tilt'), made['slim-notebook'].results.sweeps[0].points[1], 'standing');
  assert.deepEqual(faults, []);
  await close();
});
