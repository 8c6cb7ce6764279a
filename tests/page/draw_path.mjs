// From photos of each of the devices, with printed corner cards where these find room, to a case: every vent and fan
// within a millimetre and 3 % of its area; what the hands did is counted and said, for docs/how-to/draw-a-device.md.
// Things are drawn where the photo shows them, so that what is wrong with its corners and lens is wrong with them
// too. It takes half a minute a device, so it is run by hand: in this folder,
// TUFT=../../build/bin/tuft CASES=../../cases BROWSER=$(command -v chromium) node --test draw_path.mjs
import assert from 'node:assert/strict';
import {readdirSync, readFileSync} from 'node:fs';
import {join} from 'node:path';
import {after, before, test} from 'node:test';

import {photoOf} from './device_photo.mjs';
import {asPhotographed, cardModules, drawBox, MARK_ORDER, opened, save, served, straighten} from './draw_support.mjs';
import {CASES, near, scratch, startBrowser, tuft} from './support.mjs';

const folder = scratch();
let browser, modules;
before(async () => {
  browser = await startBrowser();
  tuft('sheet', '--out', folder);
  modules = await cardModules(browser, readFileSync(join(folder, readdirSync(folder).find((name) => /^corner-cards.*[.]svg$/.test(name))), 'utf8'));
});
after(() => browser.close());

/** The device of a case as the program read it, in millimetres. */
function deviceOf(file, out) {
  tuft('predict', file, '--samples', '0', '--quiet', '--out', join(folder, out));
  const {device} = JSON.parse(readFileSync(join(folder, out, 'results.json'), 'utf8')).model;
  const mm = (v) => v * 1000;
  return {
    size: device.size.map(mm),
    vents: device.vents.filter((v) => !v.is_leak).map((v) => ({
                                                        name: v.name,
                                                        face: v.face,
                                                        centre: v.centre.map(mm),
                                                        w: mm(v.width),
                                                        h: mm(v.height),
                                                        cover: v.cover.kind,
                                                        open: v.cover.open_ratio
                                                      })),
    fans: device.fans.map((f) => ({name: f.name, centre: f.centre.map(mm), diameter: mm(f.diameter)}))
  };
}

/** A vent as looked at: its middle from the upper left corner of the picture. */
function lookedAt({face, centre: [x, y, z], w, h}, [W, D, H]) {
  const at = {
    base: [W - x, D - y],
    top: [x, D - y],
    front: [x, H - z],
    rear: [W - x, H - z],
    left: [D - y, H - z],
    right: [y, H - z],
    hinge: [W - x, h / 2]
  }[face];
  return {x: at[0], y: at[1], w, h};
}

const extentOf = (face, [W, D, H]) =>
    (['base', 'top', 'inside'].includes(face) ? [W, D] : ['left', 'right'].includes(face) ? [D, H] : [W, H]);

/** A picture of a face by hand: seen a little from the side, as large as it fits. */
function snapshot([w, h]) {
  const scale = Math.min(2050 / Math.max(w, h), Math.sqrt(1.6e6 / (w * h))), [a, b] = [w * scale, h * scale];
  const width = Math.round(a + 300), height = Math.round(Math.max(400, b + 300));
  const [left, top] = [(width - a) / 2, (height - b) / 2];
  const corners = [[left + 20, top + 14], [left + a - 8, top - 10], [left + a + 22, top + b + 12], [left - 16, top + b - 4]];
  return {width, height, corners, bulge: 0.03};
}

/** Corner cards on a face, with their longer sides along its left and right; null where they hide something or find no room. */
function cardsOn(face, [w, h], things) {
  if (w < 90 || h < 100) return null;
  const hidden = ({x, y, w: a, h: b}) => (x - a / 2 < 42 || x + a / 2 > w - 42) && (y - b / 2 < 42 || y + b / 2 > h - 42);
  if (things.some(hidden)) return null;
  const rim = [[0, 0], [w, 0], [w, h], [0, h]];
  // The first card lies on the corner that the case names first; each has its own corner outwards.
  return MARK_ORDER[face].map((k, card) => ({corner: rim[k], quarters: k, black: modules[card]}));
}

/** Takes the open area that the photo tells of the chosen vent; false where the page says that it can't tell. */
async function openAreaTaken(page) {
  if (!(await page.locator('#open-area').count())) return false;
  await page.click('#open-area');
  const tells = await page.locator('#take-open').isEnabled();
  await page.click(tells ? '#take-open' : '#open-area');
  return tells;
}

/** Lays a photo on the face that is shown. Resolves to where it shows places of the face. */
async function photoLaid(page, face, extent, things, counted) {
  const shot = snapshot(extent), cards = cardsOn(face, extent, [...things.openings, ...things.fans.map(({x, y, r}) => ({x, y, w: 2 * r, h: 2 * r}))]);
  const photo = await photoOf(page, {width: extent[0], height: extent[1], ...things, cards: cards || []}, shot);
  await page.setInputFiles('#photo-file', {name: 'photo.jpg', mimeType: 'image/jpeg', buffer: photo});
  counted.clicks += 2;  // the face, its photo
  if (cards) {
    await page.waitForSelector('.stage image.photo');
    assert.match(await page.textContent('.faults'), /four corner cards were found/);
    counted.cards += 1;
  } else {
    await straighten(page, shot, MARK_ORDER[face]);
    counted.clicks += 1;  // done
    counted.drags += 5;   // four corners, the bulge
  }
  return asPhotographed(page, {width: extent[0], height: extent[1]}, shot, MARK_ORDER[face], face);
}

async function named(page, name, counted) {
  await page.fill('#thing-name', name);
  await page.keyboard.press('Enter');
  counted.clicks += 1;  // the tool
  counted.drags += 1;
  counted.fields += 1;
}

for (const name of CASES) {
  test(`${name}: drawn from photos`, async (t) => {
    const source = join(process.env.CASES, name + '.yaml'), device = deviceOf(source, name), [W, D, H] = device.size;
    const server = await served(folder, `${name}-drawn.yaml`, `tuft: 1\ndevice: {name: Drawn, size: [${W} mm, ${D} mm, ${H} mm]}\n${
        device.vents.some((v) => v.face === 'hinge') ? 'lid: {angle: 110 deg}\n' : ''}`);
    const {page, close} = await opened(browser, server.url), counted = {clicks: 0, drags: 0, fields: 3, cards: 0}, read = [];
    const faces = [...new Set(device.vents.map((v) => (v.face === 'hinge' ? 'rear' : v.face)))];
    for (const face of faces) {
      await page.click(`[data-face=${face}]`);
      const vents = device.vents.filter((v) => v.face === face || (v.face === 'hinge' && face === 'rear'));
      const openings = vents.map((v) => ({...lookedAt(v, device.size), cover: v.cover === 'slots' ? 'slots' : 'perforated', open: 0.45, hole: 2}));
      const shown = await photoLaid(page, face, extentOf(face, device.size), {openings, fans: []}, counted);
      for (const [k, vent] of vents.entries()) {
        const {x, y, w, h} = openings[k], tool = openings[k].cover === 'slots' ? 'slots' : 'vents';
        await drawBox(page, tool, shown(x - w / 2, y - h / 2), shown(x + w / 2, y + h / 2));
        await named(page, vent.name, counted);
        if (await openAreaTaken(page)) {
          counted.clicks += 2;
          read.push(vent.name);
        }
        if (vent.face === 'hinge') {
          await page.locator('.field', {hasText: 'Face'}).locator('select').selectOption('hinge');
          counted.clicks += 2;
        }
      }
    }
    if (device.fans.length) {
      await page.click('[data-face=inside]');
      const fans = device.fans.map(({centre, diameter}) => ({x: centre[0], y: D - centre[1], r: diameter / 2}));
      const shown = await photoLaid(page, 'inside', [W, D], {openings: [], fans}, counted);
      for (const [k, {x, y, r}] of fans.entries()) {
        await drawBox(page, 'fans', shown(x, y), shown(x + r, y));
        await named(page, device.fans[k].name, counted);
      }
    }
    await save(page);
    const drawn = deviceOf(server.file, name + '-drawn');
    assert.equal(drawn.vents.length, device.vents.length);
    for (const vent of device.vents) {
      const found = drawn.vents.find((v) => v.name === vent.name);
      assert.equal(found.face, vent.face);
      found.centre.forEach((value, k) => near(value, vent.centre[k], 1, `${vent.name}, coordinate ${k}`));
      near(found.w * found.h / (vent.w * vent.h), 1, 0.03, `area of ${vent.name}`);
    }
    for (const fan of device.fans) {
      const found = drawn.fans.find((f) => f.name === fan.name);
      for (const k of [0, 1]) near(found.centre[k], fan.centre[k], 1, `${fan.name}, coordinate ${k}`);
      near(found.diameter / fan.diameter, 1, 0.03, `diameter of ${fan.name}`);
    }
    // Rendered 45 % open. What the page could not tell it said, and then the usual value stays.
    for (const name of read) near(drawn.vents.find((v) => v.name === name).open, 0.45, 0.06, `open area of ${name}`);
    assert.ok(read.length >= device.vents.length / 3, `read: ${read}`);
    // By hand: the size; of a vent its face, two places, two extents; of a fan two places, its diameter and kind; and what
    // was read of open areas, a share and a hole, which a ruler does not give.
    const typed = 3 + device.vents.length * 5 + device.fans.length * 4 + read.length * 2;
    t.diagnostic(`| ${name} | ${device.vents.length} | ${device.fans.length} | ${faces.length + (device.fans.length ? 1 : 0)} | ${counted.cards} | ${counted.clicks} | ${counted.drags} | ${
        counted.fields} | ${read.length} | ${typed} |`);
    await close();
    server.stop();
  });
}
