// What is drawn and what stands in the table is what the results say, in every condition and at every angle.
import assert from 'node:assert/strict';
import {after, before, describe, test} from 'node:test';

import {CASES, checkFlows, choose, doing, near, open, pageOf, PHONE, scratch, shownIn, startBrowser} from './support.mjs';

const folder = scratch(), made = {};
let browser;
before(async () => {
  browser = await startBrowser();
  for (const name of CASES) made[name] = pageOf(name, folder);
});
after(() => browser.close());

/** Arrows of the scale drawing point out of the device when air leaves, into it when it enters. */
function checkDirections(seen, device) {
  for (const a of seen.arrows.filter((x) => x.figure === 'drawing')) {
    const [x, y, w, h] = seen.chassis[a.view], face = device.vents.find((v) => v.name === a.vent).face;
    const away = {
      left: (p) => -p[0],
      right: (p) => p[0],
      rear: (p) => -p[1],
      hinge: (p) => -p[1],
      front: (p) => p[1],
      top: (p) => -p[1],
      base: (p) => p[1]
    }[face];
    assert.equal(away(a.tip) > away(a.tail), a.direction === 'out', `${a.vent} ${a.view}`);
    const inside = a.tip[0] > x + 1 && a.tip[0] < x + w - 1 && a.tip[1] > y + 1 && a.tip[1] < y + h - 1;
    if (face !== 'hinge') assert.equal(inside, false, `${a.vent}: arrow within the device`);
  }
}

// Page axes of the six views in the device's frame: to the right, and up the page. Written apart from the page's.
const VIEW_AXES = {
  top: [[1, 0, 0], [0, 1, 0]],
  base: [[-1, 0, 0], [0, 1, 0]],
  front: [[1, 0, 0], [0, 0, 1]],
  rear: [[-1, 0, 0], [0, 0, 1]],
  right: [[0, 1, 0], [0, 0, 1]],
  left: [[0, -1, 0], [0, 0, 1]]
};
const dot = (a, b) => a.reduce((sum, v, i) => sum + v * b[i], 0);
let pairsAbove = 0;  // vents that were seen to breathe both ways along the way gravity points

/** Where a vent breathes both ways in a pose, the arrow out stands above the arrow in. */
function checkOutAbove(seen, result) {
  const upInDevice = result.pose_to_world[2];  // the row of the rotation that gives a direction's height
  for (const vent of result.vents.filter((v) => doing(v) === 'both-ways')) {
    const arrows = seen.arrows.filter((a) => a.vent === vent.vent);
    for (const out of arrows.filter((a) => a.direction === 'out')) {
      const inward = arrows.find((a) => a.figure === out.figure && a.view === out.view && a.direction === 'in');
      const axes = VIEW_AXES[out.view];
      const up = out.figure === 'standing' ? [0, -1] : [dot(axes[0], upInDevice), -dot(axes[1], upInDevice)];
      const way = [0, 1].map((k) => out.tip[k] - out.tail[k]), length = Math.hypot(...way);
      const edge = [-way[1] / length, way[0] / length];
      const middle = (a) => [0, 1].map((k) => (a.tip[k] + a.tail[k]) / 2);
      const apart = middle(out).map((v, k) => v - middle(inward)[k]);
      if (Math.abs(dot(edge, up)) < 0.02) continue;  // side by side: neither is above
      const along = dot(apart, edge) * dot(edge, up);
      assert.ok(along > 0, `${vent.vent}, ${out.figure} ${out.view || ''}: the arrow out is below the arrow in`);
      ++pairsAbove;
    }
  }
}

/** Rectangles of vents where the case says, in the views that look at their faces. */
function checkPlaces(seen, device) {
  const [sx, , sz] = device.size_m, s = seen.scale;
  let count = 0;
  for (const vent of device.vents.filter((v) => !v.leak && v.face !== 'hinge')) {
    const r = seen.rectangles.filter((x) => x.vent === vent.name);
    assert.deepEqual(r.map((x) => x.view), [vent.face]);
    const [cx, cy, cz] = vent.centre_m, [w, h] = vent.size_m, [left, top] = seen.chassis[vent.face];
    const sy = device.size_m[1];
    const across = {top: cx, front: cx, base: sx - cx, rear: sx - cx, right: cy, left: sy - cy}[vent.face];
    const down = {top: sy - cy, base: sy - cy}[vent.face] ?? sz - cz;
    const want = [left + s * (across - w / 2), top + s * (down - h / 2), s * w, s * h];
    want.forEach((v, i) => near(r[0].box[i], v, 0.05 + 1e-4 * Math.abs(v), `${vent.name} ${i}`));
    ++count;
  }
  assert.ok(count > 0);
  const [, , width, height] = seen.chassis.top;
  near(width / height, sx / device.size_m[1], 1e-3, 'shape of the plan');
}

for (const name of CASES) {
  describe(name, () => {
    test('drawing and table agree with the results in every condition', async () => {
      const {page, close} = await open(browser, made[name].file), {results} = made[name];
      for (let i = 0; i < results.conditions.length; ++i) {
        await choose(page, i);
        const seen = await page.evaluate(shownIn, '#device');
        checkFlows(seen, results.conditions[i], 'drawing');
        checkFlows(seen, results.conditions[i], 'standing');
        checkDirections(seen, results.device);
        checkOutAbove(seen, results.conditions[i]);
        checkPlaces(seen, results.device);
      }
      await close();
    });

    test('the verdicts are those of the results, each with how sure it is', async () => {
      const {page, close} = await open(browser, made[name].file), {results} = made[name];
      const shown = await page.evaluate(
          () => Array.from(document.querySelectorAll('.claim'))
                    .map((c) => ({
                           id: c.dataset.claim,
                           verdict: c.querySelector('.verdict b').textContent,
                           sure: c.querySelector('.sure').textContent,
                           say: c.querySelector('.say').textContent
                         })));
      const words = results.uncertainty ?
          {holds: 'holds', fails: 'does not hold', 'undecided': 'undecided'} :
          {holds: 'true as written', fails: 'not true as written', 'undecided': 'left open as written'};
      const left = (id) => results.uncertainty?.claims.find((claim) => claim.id === id)?.left_to_field;
      assert.deepEqual(
          shown.map((c) => [c.id, c.verdict, c.say]),
          results.claims.map((c) => [c.id, left(c.id) ? 'left open' : words[c.verdict], c.say]));
      for (const c of shown) assert.match(c.sure, /nominal values only|probability of .+ %/);
      await close();
    });
  });
}

test('vents that breathe both ways in a standing pose were among them', () => {
  assert.ok(pairsAbove > 0, 'no case shows one');
});

test('drawings are as wide as there is room, and drawn anew for another width', async () => {
  const {page, close} = await open(browser, made['slim-notebook'].file);
  const widths = () => page.$$eval(
      '#device figure > svg', (all) => all.map((s) => [Number(s.getAttribute('width')), s.parentNode.clientWidth]));
  const wide = await widths();
  assert.equal(wide.length, 2);
  for (const [drawn, room] of wide) assert.ok(Math.abs(drawn - room) <= 1, `${drawn} px in ${room} px`);
  await page.setViewportSize(PHONE);
  await page.waitForFunction(
      () => Array.from(document.querySelectorAll('#device figure > svg'))
                .every((s) => Math.abs(Number(s.getAttribute('width')) - s.parentNode.clientWidth) <= 1));
  assert.ok((await widths())[1][0] < wide[1][0]);
  await close();
});

test('the switch works from the keyboard', async () => {
  const {page, close} = await open(browser, made['slim-notebook'].file), {results} = made['slim-notebook'];
  await page.focus('input[name=condition]');
  await page.keyboard.press('ArrowRight');
  checkFlows(await page.evaluate(shownIn, '#device'), results.conditions[1], 'drawing');
  assert.ok((await page.textContent('[data-sum]')).includes(results.conditions[1].summary.slice(0, 40)));
  const marked = await page.evaluate(
      () => getComputedStyle(document.querySelector('input[name=condition]:checked + .face')).outlineStyle);
  assert.notEqual(marked, 'none');
  await close();
});
