// The drawing page in a real browser: draws, saves, loads again and compares; by pointer, keys and touch.
import assert from 'node:assert/strict';
import {existsSync, readdirSync, readFileSync, writeFileSync} from 'node:fs';
import {createRequire} from 'node:module';
import {join} from 'node:path';
import {after, before, describe, test} from 'node:test';
import {pathToFileURL} from 'node:url';

import {BY_HAND, bulgedPlace, NOTEBOOK_BASE, photoOf} from './device_photo.mjs';
import {asPhotographed, cardModules, changedLines, drag, drawBox, fileShown, lines, MARK_ORDER, onScreen, opened, pairIn, save, served, straighten} from './draw_support.mjs';
import {near, PHONE, scratch, startBrowser, tuft} from './support.mjs';

const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const folder = scratch(), slim = join(process.env.CASES, 'slim-notebook.yaml');
let browser;
before(async () => {
  browser = await startBrowser();
});
after(() => browser.close());

const lay = (name, text) => served(folder, name, text);
const show = (url, options) => opened(browser, url, options);

describe('on the example notebook, served', () => {
  const text = readFileSync(slim, 'utf8');

  test('shows every vent of the base with its role and flow, as tuft predict has them', async () => {
    const server = await lay('shown.yaml', text), {page, faults, requests, close} = await show(server.url);
    await page.waitForFunction(() => document.documentElement.dataset.judged === 'yes');
    tuft('predict', slim, '--samples', '0', '--quiet', '--out', join(folder, 'shown-tuft'));
    const results = JSON.parse(readFileSync(join(folder, 'shown-tuft/results.json'), 'utf8'));
    const use = results.conditions[0];
    const seen = await page.$$eval('.stage [data-vent]', (all) => all.map((node) => ({
                                                                            vent: node.dataset.vent,
                                                                            role: node.dataset.role,
                                                                            flow: Number((node.querySelector('.arrow') || {dataset: {}}).dataset.flow)
                                                                          })));
    assert.deepEqual(seen.map((s) => s.vent).sort(), ['base-grille', 'comb', 'hinge-outlet', 'side-outlet']);
    for (const s of seen) {
      const vent = use.vents.find((v) => v.vent === s.vent), flow = Math.max(vent.inflow_kg_s, vent.outflow_kg_s) / use.room_density_kg_m3;
      assert.equal(s.role, vent.role);
      near(s.flow, flow, 1e-5 * flow, s.vent);
    }
    const verdicts = await page.$$eval('[data-claim]', (all) => all.map((n) => n.dataset.verdict));
    assert.deepEqual(verdicts, Array(5).fill('holds'));
    assert.deepEqual(faults, []);
    assert.deepEqual(requests.filter((r) => !r.startsWith('data:') && !r.startsWith('blob:')), [server.url]);
    await close();
    server.stop();
  });

  test('a vent moved by the pointer changes its line alone; undo brings every byte back', async () => {
    const server = await lay('moved.yaml', text), {page, close} = await show(server.url);
    const [x, y] = [312 - 190, 221 - 44];  // of the comb, as looked at from below
    await page.keyboard.down('Alt');
    await drag(page, await onScreen(page, x - 60, y), await onScreen(page, x - 50, y + 8));
    await page.keyboard.up('Alt');
    const moved = await fileShown(page), line = changedLines(text, moved);
    assert.equal(line.length, 1);
    const [cx, cy] = pairIn(line[0], 'centre');
    near(cx, 180, 0.6, 'x: right in the picture is left of the device');
    near(cy, 36, 0.6, 'y');
    await save(page);
    assert.equal(readFileSync(server.file, 'utf8'), moved);
    await page.reload();
    await page.waitForFunction(() => document.documentElement.dataset.ready === 'yes');
    assert.equal(await fileShown(page), moved);
    const box = await page.locator('[data-key="vents/comb"] .body').boundingBox(), [wx] = await onScreen(page, 312 - cx, 0);
    near(box.x + box.width / 2, wx, 1, 'where it stands after loading');
    await page.keyboard.press('Tab');
    await drag(page, await onScreen(page, x + 60, y + 8), await onScreen(page, x + 70, y + 8));
    await page.click('#undo');
    assert.equal(await fileShown(page), moved);
    await close();
    server.stop();
  });

  test('vents and a patch are drawn, resized, typed in inches and with a comma, renamed everywhere, deleted', async () => {
    const server = await lay('drawn.yaml', text), {page, faults, close} = await show(server.url);
    await drawBox(page, 'vents', [200, 140], [240, 160]);
    assert.equal(await page.inputValue('#thing-name'), 'vent-1');
    let now = await fileShown(page);
    const [added] = changedLines(text, now);
    const [w, h] = pairIn(added, 'size'), [cx, cy] = pairIn(added, 'centre');
    near(w, 40, 0.6, 'width');
    near(h, 20, 0.6, 'height');
    near(cx, 312 - 220, 0.6, 'x');
    near(cy, 221 - 150, 0.6, 'y');
    await page.locator('.field', {hasText: 'Width'}).locator('input').fill('1,5 in');
    await page.keyboard.press('Tab');
    assert.match(await fileShown(page), /size: \[1\.5 in, /);
    await page.fill('#thing-name', 'extra');
    await page.keyboard.press('Enter');
    assert.match(await fileShown(page), /\n {2}extra: \{face: base/);
    await page.click('#delete');
    assert.equal(await fileShown(page), text);
    await page.click('[data-show="vents/comb"]');
    await page.fill('#thing-name', 'front-comb');
    await page.keyboard.press('Enter');
    now = await fileShown(page);
    assert.equal(now, text.replaceAll('vents: comb,', 'vents: front-comb,').replace('\n  comb:\n', '\n  front-comb:\n'));
    await drawBox(page, 'vents', [150, 100], [190, 115]);  // over a patch of skin, which stays as it is
    assert.equal(await page.inputValue('#thing-name'), 'vent-1');
    await page.click('#delete');
    await drawBox(page, 'skin', [10, 180], [50, 210]);
    assert.match((await fileShown(page)), /patch-1: \{face: base, .*material: plastic/);
    await save(page);
    tuft('lint', server.file);  // throws where the reader refuses the file
    assert.deepEqual(faults, []);
    await close();
    server.stop();
  });

  test('what the reader refuses is said with its place, and shown at the field', async () => {
    const server = await lay('refused.yaml', text), {page, close} = await show(server.url);
    await page.click('[data-show="vents/comb"]');
    await page.locator('.field', {hasText: 'Width'}).locator('input').fill('4 m');
    await page.keyboard.press('Tab');
    const said = await page.textContent('.faults .error');
    const line = lines(await fileShown(page)).findIndex((l) => l.includes('[4 m,')) + 1;
    assert.ok(said.includes(`refused.yaml:${line}:`), said);
    assert.match(await page.textContent('.sum'), /No answer yet/);
    await page.click('#save');
    await page.waitForFunction(() => /the program refuses it/.test(document.querySelector('.faults').textContent));
    assert.match(await page.textContent('.faults .told'), /refused\.yaml:\d+:\d+/);
    await close();
    server.stop();
  });

  test('a file that somebody else has changed is not overwritten', async () => {
    const server = await lay('theirs.yaml', text), {page, close} = await show(server.url);
    await page.click('[data-show="vents/comb"]');
    await page.keyboard.press('ArrowRight');
    writeFileSync(server.file, text + '# mine\n');
    await page.click('#save');
    await page.waitForFunction(() => /changed by another program/.test(document.querySelector('.faults').textContent));
    assert.equal(readFileSync(server.file, 'utf8'), text + '# mine\n');
    assert.equal(await page.textContent('.saved'), 'Not saved');
    await close();
    server.stop();
  });

  test('only the page itself may save, and only to the case', async () => {
    const server = await lay('safe.yaml', text), origin = new URL(server.url).origin;
    const post = (url, headers) => fetch(url, {method: 'POST', body: 'x', headers}).then((r) => r.status);
    assert.equal(await post(server.url + 'save', {}), 403);
    assert.equal(await post(server.url + 'save', {Origin: 'http://evil.example'}), 403);
    assert.equal(await post(`${origin}/draw/00000000/save`, {Origin: origin}), 405);
    assert.equal(await post(server.url + 'photo/..%2fescaped.jpg', {Origin: origin}), 404);
    assert.equal(await post(server.url + 'photo/safe-base.jpg', {Origin: origin}), 400);
    assert.equal(readFileSync(server.file, 'utf8'), text);
    assert.equal(existsSync(join(folder, 'safe-base.jpg')), false);
    server.stop();
  });
});

test('the page of tuft watch leads to the drawing page, which saves into the case that is watched', async () => {
  const text = readFileSync(slim, 'utf8'), server = await served(folder, 'watched.yaml', text, ['watch', '--samples', '0']);
  const context = await browser.newContext(), page = await context.newPage();
  await page.goto(server.url);
  const [drawing] = await Promise.all([page.waitForEvent('popup'), page.click('#draw a')]);
  await drawing.waitForFunction(() => document.documentElement.dataset.ready === 'yes');
  assert.match(drawing.url(), /^http:\/\/127\.0\.0\.1:\d+\/draw\/[^/]+\/$/);
  await drawBox(drawing, 'vents', [200, 140], [240, 160]);
  await save(drawing);
  const saved = readFileSync(server.file, 'utf8');
  assert.equal(saved, await fileShown(drawing));
  assert.match(saved, /\n {2}vent-1: \{face: base/);
  // The results beside it follow: the watched page shows the new vent.
  await page.waitForFunction(
      () => Array.from(document.querySelectorAll('iframe'), (f) => f.contentDocument).concat(document).some(
          (d) => d && d.body && d.body.innerHTML.includes('vent-1')),
      null, {timeout: 20000});
  await context.close();
  server.stop();
});

test('a vent is turned by its round handle, by keys and by a number; what is turned can be moved and resized', async () => {
  const text = 'tuft: 1\ndevice: {name: N, size: [300 mm, 200 mm, 20 mm]}\n';
  const server = await lay('turned.yaml', text), {page, faults, close} = await show(server.url);
  await drawBox(page, 'vents', [120, 90], [180, 110]);
  const turned = async () => Number((/turned: ([-\d.]+) deg/.exec(await fileShown(page)) || [0, 0])[1]);
  const centre = await onScreen(page, 150, 100), grip = await page.locator('[data-handle="turn"] .grip').boundingBox();
  const from = [grip.x + grip.width / 2, grip.y + grip.height / 2];
  const aside = [from[0] - centre[0], from[1] - centre[1]], by = -30 * Math.PI / 180;  // against the clock as it is seen
  const to = [
    centre[0] + aside[0] * Math.cos(by) - aside[1] * Math.sin(by), centre[1] + aside[0] * Math.sin(by) + aside[1] * Math.cos(by)
  ];
  await drag(page, from, to);
  assert.equal(await turned(), 30);
  // Drawn as it is turned: the box that holds 60 by 20 mm at 30 degrees is 61.96 by 47.32 mm. Derived.
  const px = (await onScreen(page, 1, 0))[0] - (await onScreen(page, 0, 0))[0];
  const shape = () => page.evaluate(() => {
    const {width, height} = document.querySelector('.thing.vents .body').getBoundingClientRect();
    return [width, height];
  });
  const [w, h] = await shape();
  near(w / px, 60 * Math.cos(Math.PI / 6) + 10, 2.2, 'width of what holds it');  // its stroke counts too
  near(h / px, 30 + 20 * Math.cos(Math.PI / 6), 2.2, 'height of what holds it');
  await page.locator('[data-key="vents/vent-1"]').focus();
  await page.keyboard.press('PageDown');
  assert.equal(await turned(), 29);
  await page.keyboard.press('Shift+PageUp');
  assert.equal(await turned(), 44);
  await page.locator('.field', {hasText: 'Turned'}).locator('input').fill('15');
  await page.keyboard.press('Tab');
  assert.equal(await turned(), 15);
  // Its right side pulled outwards along itself by 10 mm: the left side stays where it is.
  const before = pairIn(await fileShown(page), 'centre'), side = await page.locator('[data-handle="1,0"] .grip').boundingBox();
  const start = [side.x + side.width / 2, side.y + side.height / 2], a = 15 * Math.PI / 180;
  await drag(page, start, [start[0] + 10 * px * Math.cos(a), start[1] - 10 * px * Math.sin(a)]);
  const size = pairIn(await fileShown(page), 'size'), now = pairIn(await fileShown(page), 'centre');
  near(size[0], 70, 0.4, 'longer');
  near(size[1], 20, 0.01, 'as high as before');
  near(now[0], before[0] - 5 * Math.cos(a), 0.3, 'middle, x: right in the picture is left of the device');
  near(now[1], before[1] + 5 * Math.sin(a), 0.3, 'middle, y');
  await save(page);
  tuft('lint', server.file);
  assert.deepEqual(faults, []);
  await close();
  server.stop();
});

test('generic things are chosen from a list, and what is typed counts more', async () => {
  const text = readFileSync(slim, 'utf8'), server = await lay('generic.yaml', text), {page, faults, close} = await show(server.url);
  await drawBox(page, 'vents', [200, 140], [240, 160]);
  await page.selectOption('#generic', 'honeycomb');
  assert.match(changedLines(text, await fileShown(page))[0], /vent-1: .*cover: honeycomb/);
  const open = () => page.locator('.field', {hasText: 'Open area'}).locator('input');
  assert.match(await open().getAttribute('placeholder'), /70/);
  await open().fill('66');
  await page.keyboard.press('Tab');
  const line = changedLines(text, await fileShown(page))[0];
  assert.match(line, /honeycomb/);
  assert.match(line, /open: 66 %/);
  await page.click('[data-show^="fans/"]');
  const fan = (await page.getAttribute('[data-show^="fans/"]', 'data-show')).slice(5);
  await page.selectOption('#generic', 'blower-60');
  assert.ok((await fileShown(page)).includes('like: blower-60'), fan);
  assert.match(await page.textContent('.sum'), /^Air [\d.]+ L\/s/);
  await page.selectOption('#also-on', 'duvet');
  const all = await fileShown(page);
  assert.match(all, /duvet: \{like: duvet\}/);
  assert.match(all, /use-duvet: \{.*support: duvet/);
  assert.equal(await page.$eval('#condition', (select) => select.selectedOptions[0].textContent), 'use-duvet');
  assert.match(await page.textContent('.sum'), /^Air [\d.]+ m?L\/s/);
  await save(page);
  tuft('lint', server.file);
  assert.deepEqual(faults, []);
  await close();
  server.stop();
});

test('inside: zones with a passage, a fan by its centre and by three points of its rim, fins, heat', async () => {
  const text = 'tuft: 1\ndevice: {name: N, size: [300 mm, 200 mm, 20 mm]}\nsources: {processor: {}}\nloads: {stress: {power: {processor: 20 W}}}\n';
  const server = await lay('inside.yaml', text), {page, faults, close} = await show(server.url);
  await drawBox(page, 'vents', [20, 20], [120, 100]);
  await page.click('[data-face=left]');
  await drawBox(page, 'slots', [20, 4], [70, 16]);
  await page.click('[data-face=right]');
  await drawBox(page, 'slots', [120, 4], [170, 16]);
  await drawBox(page, 'fans', [60, 60], [85, 60]);  // turns to the inside
  let now = await fileShown(page);
  const fan = /fan-1: \{kind: blower, diameter: ([\d.]+) mm, draws-from: inside, blows-into: slots-1, at: \[([\d.]+) mm, ([\d.]+) mm/.exec(now);
  near(Number(fan[1]), 50, 0.8, 'diameter');
  near(Number(fan[2]), 60, 0.6, 'x');
  near(Number(fan[3]), 140, 0.6, 'y');
  await page.click('[data-tool=rim]');
  for (const [x, y] of [[220, 140], [240, 120], [260, 140]]) await page.mouse.click(...await onScreen(page, x, y));
  now = await fileShown(page);
  const rim = /fan-2: \{kind: blower, diameter: ([\d.]+) mm, .*blows-into: slots-2, at: \[([\d.]+) mm, ([\d.]+) mm/.exec(now);
  near(Number(rim[1]), 40, 1, 'diameter by three points');
  near(Number(rim[2]), 240, 0.8, 'x');
  near(Number(rim[3]), 60, 0.8, 'y');
  assert.match(await page.textContent('.sum'), /^Air [\d.]+ L\/s/);
  await drawBox(page, 'zones', [2, 2], [150, 198]);
  await drawBox(page, 'zones', [150, 2], [298, 198]);
  await drawBox(page, 'passages', [148, 90], [152, 110]);
  await drawBox(page, 'fins', [12, 40], [30, 80]);
  await drawBox(page, 'sources', [100, 150], [115, 165]);
  now = await fileShown(page);
  for (const wanted of [
           /zone-1: \{from: \[/, /zone-2: \{from: \[/, /passage-1: \{between: \[zone-[12], zone-[12]\], across: x, /,
           /fins-1: \{channels: 14, height: 16 mm, length: 40/, /chip-1: \{heats: \{zone-1: 100 %\}, from: /])
    assert.match(now, wanted);
  await save(page);
  assert.equal(readFileSync(server.file, 'utf8'), now);
  assert.deepEqual(faults, []);
  await close();
  server.stop();
});

test('by keys alone: choose, move, resize, draw, delete, undo, save', async () => {
  const text = readFileSync(slim, 'utf8'), server = await lay('keys.yaml', text), {page, close} = await show(server.url);
  for (let k = 0; k < 60; ++k) {
    await page.keyboard.press('Tab');
    if (await page.evaluate(() => document.activeElement.dataset.key === 'vents/comb')) break;
  }
  await page.keyboard.press('ArrowRight');
  await page.keyboard.press('Shift+ArrowUp');
  assert.deepEqual(pairIn(changedLines(text, await fileShown(page))[0], 'centre'), [189, 54]);
  await page.keyboard.press('Control+ArrowRight');
  assert.match(await fileShown(page), /size: \[181 mm, 14 mm\]/);
  await page.keyboard.press('Delete');
  assert.doesNotMatch(await fileShown(page), /\n {2}comb:/);
  for (let k = 0; k < 4; ++k) await page.keyboard.press('Control+z');
  assert.equal(await fileShown(page), text);
  await page.keyboard.press('g');
  await page.keyboard.press('Enter');
  assert.match(await fileShown(page), /\n {2}vent-1: \{face: base, centre: \[156 mm, 110\.5 mm\]/);
  await page.keyboard.press('Control+s');
  await page.waitForFunction(() => document.querySelector('.saved').textContent === 'Saved');
  assert.equal(readFileSync(server.file, 'utf8'), await fileShown(page));
  await close();
  server.stop();
});

test('by touch: a finger draws, two fingers zoom', async () => {
  const server = await lay('touch.yaml', readFileSync(slim, 'utf8'));
  const {page, context, close} = await show(server.url, {viewport: PHONE, hasTouch: true});
  const client = await context.newCDPSession(page);
  const touch = (type, points) => client.send('Input.dispatchTouchEvent', {type, touchPoints: points.map(([x, y], id) => ({x, y, id}))});
  await page.click('[data-tool=vents]');
  await page.evaluate(() => document.querySelector('.stage').scrollIntoView({block: 'center'}));
  const [a, b] = [await onScreen(page, 200, 120), await onScreen(page, 250, 160)];
  await touch('touchStart', [a]);
  await touch('touchMove', [[(a[0] + b[0]) / 2, (a[1] + b[1]) / 2]]);
  await touch('touchMove', [b]);
  await page.waitForTimeout(100);
  await touch('touchEnd', []);
  assert.match(await fileShown(page), /vent-1: \{face: base/);
  const wide = () => page.evaluate(() => document.querySelector('.stage .outline').getBoundingClientRect().width);
  const before = await wide();
  await touch('touchStart', [[150, a[1]], [220, a[1]]]);
  await touch('touchMove', [[110, a[1]], [260, a[1]]]);
  await touch('touchEnd', []);
  assert.ok(await wide() > 1.5 * before);
  await close();
  server.stop();
});

describe('photos', () => {
  test('from a photo with perspective, bulge and noise: vents within a millimetre and 3 % of area, open area read', async () => {
    const server = await lay('photo.yaml', 'tuft: 1  # from a photo\ndevice: {name: N, size: [312 mm, 221 mm, 16 mm]}\n');
    const {page, faults, requests, close} = await show(server.url);
    const photo = await photoOf(page, NOTEBOOK_BASE, BY_HAND);
    await page.setInputFiles('#photo-file', {name: 'IMG_1.jpg', mimeType: 'image/jpeg', buffer: photo});
    await straighten(page, BY_HAND, MARK_ORDER.base);
    const shown = await asPhotographed(page, NOTEBOOK_BASE, BY_HAND, MARK_ORDER.base, 'base');
    for (const vent of NOTEBOOK_BASE.openings) {
      const {x, y, w, h} = vent;
      await drawBox(page, vent.cover === 'slots' ? 'slots' : 'vents', shown(x - w / 2, y - h / 2), shown(x + w / 2, y + h / 2));
      await page.click('#open-area');
      const said = await page.textContent('#open-said');
      assert.match(said, /% open/);
      assert.match(said, /look through them against a lamp/);
      const open = Number(/([\d.]+) %/.exec(said)[1]) / 100;
      near(open, vent.open, 0.03, `open share of ${vent.name}`);
      if (vent.cover !== 'slots') {  // moved off by keys and back: what is said is of where it lies
        await page.locator('.stage [data-key="vents/vent-1"]').focus();
        for (let k = 0; k < 2; ++k) await page.keyboard.press('Shift+ArrowLeft');
        assert.notEqual(await page.textContent('#open-said'), said);
        for (let k = 0; k < 2; ++k) await page.keyboard.press('Shift+ArrowRight');
        assert.equal(await page.textContent('#open-said'), said);
      }
      await page.click('#take-open');
    }
    await save(page);
    const text = readFileSync(server.file, 'utf8');
    assert.match(text, /^tuft: 1 {2}# from a photo\n/);
    assert.match(text, /photos:\n {2}base: \{file: photo-base\.jpg, face: base, corners: /);
    assert.match(text, /cover: \{kind: slots, open: /);
    NOTEBOOK_BASE.openings.forEach((vent, k) => {
      const line = lines(text).find((l) => l.includes(k ? 'slots-1:' : 'vent-1:'));
      const [cx, cy] = pairIn(line, 'centre'), [w, h] = pairIn(line, 'size');
      near(cx, 312 - vent.x, 1, 'x of ' + vent.name);
      near(cy, 221 - vent.y, 1, 'y of ' + vent.name);
      near(w * h / (vent.w * vent.h), 1, 0.03, 'area of ' + vent.name);
    });
    const jpeg = readFileSync(join(folder, 'photo-base.jpg'));
    assert.equal(jpeg.includes('Exif'), false);
    tuft('predict', server.file, '--samples', '0', '--quiet', '--out', join(folder, 'photo-tuft'));
    await page.reload();
    await page.waitForFunction(() => document.documentElement.dataset.ready === 'yes');
    await page.waitForSelector('.stage image.photo');
    assert.deepEqual(faults, []);
    assert.ok(requests.every((r) => r.startsWith(new URL(server.url).origin) || /^(data|blob):/.test(r)), String(requests));
    await close();
    server.stop();
  });

  test('with corner cards in the picture the photo lies on its face without a click', async () => {
    tuft('sheet', '--out', folder);
    const svg = readdirSync(folder).find((name) => /^corner-cards.*[.]svg$/.test(name));
    const modules = await cardModules(browser, readFileSync(join(folder, svg), 'utf8'));
    assert.equal(modules.length, 4);
    const {width: w, height: h} = NOTEBOOK_BASE;
    // As looked at from below: front left of the device is lower right in the picture.
    const cards = [[[w, h], 2], [[0, h], 3], [[0, 0], 0], [[w, 0], 1]].map(([corner, quarters], k) => ({corner, quarters, black: modules[k]}));
    const text = 'tuft: 1\ndevice: {name: N, size: [312 mm, 221 mm, 16 mm]}\n';
    const server = await lay('cards.yaml', text), {page, faults, close} = await show(server.url);
    const shot = {...BY_HAND, seed: 5}, photo = await photoOf(page, {...NOTEBOOK_BASE, openings: [], cards}, shot);
    await page.setInputFiles('#photo-file', {name: 'photo.jpg', mimeType: 'image/jpeg', buffer: photo});
    await page.waitForSelector('.stage image.photo');
    assert.match(await page.textContent('.faults'), /four corner cards were found/);
    const now = await fileShown(page);
    const found = /corners: \[(\[.*?\])\]/.exec(now)[1].match(/\[[^\]]*\]/g).map((pair) => pair.match(/[-\d.]+/g).map(Number));
    const [, width, height] = /size: \[(\d+), (\d+)\]/.exec(now.slice(now.indexOf('photos:'))) || [0, shot.width, shot.height];
    const scale = Number(width) / shot.width;
    near(Number(height) / shot.height, scale, 0.01, 'scaled down evenly');
    near(Number(/bulge: ([\d.]+)/.exec(now)[1]), shot.bulge, 0.01, 'bulge');
    // Corners of the case run from front left to front right, rear right, rear left.
    const expected = [2, 3, 0, 1].map((k) => bulgedPlace(shot.corners[k], shot.bulge, shot.width, shot.height));
    found.forEach(([x, y], k) => {
      near(x / scale, expected[k][0], 6, `corner ${k}, x`);
      near(y / scale, expected[k][1], 6, `corner ${k}, y`);
    });
    assert.deepEqual(faults, []);
    await close();
    server.stop();
  });

  test('a photographed wall has no open area, and the usual value stays', async () => {
    const server = await lay('wall.yaml', 'tuft: 1\ndevice: {name: N, size: [200 mm, 200 mm, 16 mm]}\n'), {page, close} = await show(server.url);
    const wall = readFileSync(join(import.meta.dirname, '../photo/photographs/brick.jpg')), shot = {width: 512, height: 512, corners: [[4, 4], [508, 4], [508, 508], [4, 508]]};
    await page.setInputFiles('#photo-file', {name: 'wall.jpg', mimeType: 'image/jpeg', buffer: wall});
    await straighten(page, shot, MARK_ORDER.base);
    await drawBox(page, 'vents', [40, 40], [150, 130]);
    const before = await fileShown(page);
    await page.click('#open-area');
    assert.match(await page.textContent('#open-said'), /^What is darker is neither black nor alike in size.*The usual value of this kind of grille stays[.]$/);
    assert.equal(await page.locator('#take-open').isEnabled(), false);
    assert.equal(await fileShown(page), before);
    await close();
    server.stop();
  });

  test('files that are no pictures are refused in plain words, and nothing is lost', async () => {
    const text = readFileSync(slim, 'utf8'), server = await lay('wrong.yaml', text), {page, close} = await show(server.url);
    const one = Buffer.from(
        'iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==', 'base64');
    const jpeg = await photoOf(page, NOTEBOOK_BASE, {...BY_HAND, width: 240, height: 180, corners: [[20, 20], [220, 20], [220, 160], [20, 160]]});
    for (const [name, buffer, words] of [
             ['a.pdf', Buffer.from('%PDF-1.7\n'), /is a PDF, no picture/], ['b.jpg', Buffer.from('hello'), /is no JPEG, PNG or WebP picture/],
             ['c.jpg', jpeg.subarray(0, 300), /is broken/], ['d.png', one, /1 × 1 pixels: too few/], ['e.png', Buffer.alloc(0), /is empty/]]) {
      await page.setInputFiles('#photo-file', {name, mimeType: 'image/jpeg', buffer});
      await page.waitForFunction((file) => document.querySelector('.faults').textContent.includes(file + ' is') || document.querySelector('.faults').textContent.includes(file + ' has'), name);
      assert.match(await page.textContent('.faults .told'), words);
      assert.equal(await fileShown(page), text);
    }
    await close();
    server.stop();
  });

  test('a photo turned eight ways by its file arrives upright, scaled down, without where it was taken', async () => {
    const server = await lay('turned.yaml', readFileSync(slim, 'utf8')), {page, close} = await show(server.url);
    const face = {width: 300, height: 200, openings: [{x: 60, y: 40, w: 60, h: 40, cover: 'open'}]};
    const upright = await photoOf(page, face, {width: 300, height: 200, corners: [[0, 0], [300, 0], [300, 200], [0, 200]], noise: 0});
    for (let tag = 1; tag <= 8; ++tag) {
      await page.setInputFiles('#photo-file', {name: `t${tag}.jpg`, mimeType: 'image/jpeg', buffer: withOrientation(upright, tag)});
      await page.waitForFunction((n) => !document.querySelector('.faults').textContent.includes('Reading'), tag);
      const size = /size: \[(\d+), (\d+)\]/.exec(await fileShown(page)).slice(1).map(Number);
      assert.deepEqual(size, tag >= 5 ? [200, 300] : [300, 200], `tag ${tag}`);
    }
    await save(page);
    assert.equal(readFileSync(join(folder, 'turned-base.jpg')).includes('GPS'), false);
    await close();
    server.stop();
  });

  test('fifty megapixels are scaled down at once', async () => {
    const server = await lay('large.yaml', readFileSync(slim, 'utf8')), {page, close} = await show(server.url);
    const large = await page.evaluate(async () => {
      const canvas = document.createElement('canvas');
      Object.assign(canvas, {width: 8660, height: 5774});
      canvas.getContext('2d').fillRect(0, 0, 4000, 4000);
      const blob = await new Promise((done) => canvas.toBlob(done, 'image/jpeg', 0.5));
      const bytes = new Uint8Array(await blob.arrayBuffer());
      let text = '';
      for (let k = 0; k < bytes.length; k += 8192) text += String.fromCharCode(...bytes.subarray(k, k + 8192));
      return btoa(text);
    });
    await page.setInputFiles('#photo-file', {name: 'large.jpg', mimeType: 'image/jpeg', buffer: Buffer.from(large, 'base64')});
    await page.waitForSelector('[data-corner]', {timeout: 60000});
    assert.match(await fileShown(page), /size: \[2600, 173[34]\]/);
    await close();
    server.stop();
  });
});

/** A JPEG with an EXIF block that says how it is turned, and a place that nobody needs to know. */
function withOrientation(jpeg, tag) {
  const entry = (id, type, count, value) => {
    const bytes = Buffer.alloc(12);
    bytes.writeUInt16BE(id, 0);
    bytes.writeUInt16BE(type, 2);
    bytes.writeUInt32BE(count, 4);
    if (type === 3)
      bytes.writeUInt16BE(value, 8);
    else
      bytes.writeUInt32BE(value, 8);
    return bytes;
  };
  const gps = 8 + 2 + 24 + 4, head = Buffer.from('4d4d002a00000008', 'hex');
  const first = Buffer.concat([Buffer.from([0, 2]), entry(0x0112, 3, 1, tag), entry(0x8825, 4, 1, gps), Buffer.alloc(4)]);
  const second = Buffer.concat([Buffer.from([0, 1]), entry(0x001d, 2, 4, 0x47505300), Buffer.alloc(4)]);
  const body = Buffer.concat([Buffer.from('Exif\0\0', 'latin1'), head, first, second]), size = Buffer.alloc(2);
  size.writeUInt16BE(body.length + 2);
  return Buffer.concat([jpeg.subarray(0, 2), Buffer.from([0xff, 0xe1]), size, body, jpeg.subarray(2)]);
}

describe('as one file, without a server', () => {
  const file = join(folder, 'drawing.html');
  before(() => tuft('draw', slim, '--out', file));

  test('asks nothing of the network, and saves as a download with comments and order', async () => {
    const {page, faults, requests, close} = await show(pathToFileURL(file).href);
    await page.click('[data-show="vents/comb"]');
    await page.keyboard.press('ArrowRight');
    const [download] = await Promise.all([page.waitForEvent('download'), page.click('#save')]);
    assert.equal(download.suggestedFilename(), 'slim-notebook.yaml');
    const saved = readFileSync(await download.path(), 'utf8');
    assert.equal(saved, readFileSync(slim, 'utf8').replace('centre: [190 mm, 44 mm]', 'centre: [189 mm, 44 mm]'));
    assert.deepEqual(requests.filter((r) => !/^(data|blob):/.test(r)), [pathToFileURL(file).href]);
    assert.deepEqual(faults, []);
    await close();
  });

  for (const colorScheme of ['light', 'dark']) {
    for (const width of [390, 768, 1280, 1920]) {
      test(`axe finds nothing, and nothing is cut off, ${width} px wide in ${colorScheme}`, async () => {
        const {page, close} = await show(pathToFileURL(file).href, {viewport: {width, height: 900}, colorScheme});
        await page.click('[data-show="vents/comb"]');
        await page.evaluate(AXE);
        const found = await page.evaluate(() => window.axe.run({resultTypes: ['violations']}));
        assert.deepEqual(found.violations.map((v) => `${v.id}: ${v.nodes.slice(0, 3).map((n) => n.html.slice(0, 140)).join(' | ')}`), []);
        assert.ok(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth), 'wider than the window');
        await close();
      });
    }
  }
});
