// From photos of each of the four devices to a case: every vent within a millimetre and 3 % of its area; what the
// hands did is counted and said. It takes half a minute a device, so it is run by hand: in this folder,
// TUFT=../../build/bin/tuft CASES=../../cases BROWSER=$(command -v chromium) node --test draw_path.mjs
import assert from 'node:assert/strict';
import {readFileSync} from 'node:fs';
import {join} from 'node:path';
import {after, before, test} from 'node:test';

import {photoOf} from './device_photo.mjs';
import {drawBox, MARK_ORDER, opened, save, served, straighten} from './draw_support.mjs';
import {CASES, near, scratch, startBrowser, tuft} from './support.mjs';

const folder = scratch();
let browser;
before(async () => {
  browser = await startBrowser();
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
    (['base', 'top'].includes(face) ? [W, D] : ['left', 'right'].includes(face) ? [D, H] : [W, H]);

/** A picture of a face by hand: seen a little from the side, as large as it fits. */
function snapshot([w, h]) {
  const scale = Math.min(2050 / Math.max(w, h), Math.sqrt(1.6e6 / (w * h))), [a, b] = [w * scale, h * scale];
  const width = Math.round(a + 300), height = Math.round(Math.max(400, b + 300));
  const [left, top] = [(width - a) / 2, (height - b) / 2];
  const corners = [[left + 20, top + 14], [left + a - 8, top - 10], [left + a + 22, top + b + 12], [left - 16, top + b - 4]];
  return {width, height, corners, bulge: 0.03};
}

/** Takes the open area that the photo tells of the chosen vent; false where the page says that it can't tell. */
async function openAreaTaken(page) {
  if (!(await page.locator('#open-area').count())) return false;
  await page.click('#open-area');
  const tells = await page.locator('#take-open').isEnabled();
  await page.click(tells ? '#take-open' : '#open-area');
  return tells;
}

for (const name of CASES) {
  test(`${name}: drawn from photos`, async (t) => {
    const source = join(process.env.CASES, name + '.yaml'), device = deviceOf(source, name), [W, D, H] = device.size;
    const server = await served(folder, `${name}-drawn.yaml`, `tuft: 1\ndevice: {name: Drawn, size: [${W} mm, ${D} mm, ${H} mm]}\n${
        device.vents.some((v) => v.face === 'hinge') ? 'lid: {angle: 110 deg}\n' : ''}`);
    const {page, close} = await opened(browser, server.url), counted = {clicks: 0, drags: 0, fields: 3}, read = [];
    const faces = [...new Set(device.vents.map((v) => (v.face === 'hinge' ? 'rear' : v.face)))];
    for (const face of faces) {
      await page.click(`[data-face=${face}]`);
      const vents = device.vents.filter((v) => v.face === face || (v.face === 'hinge' && face === 'rear'));
      const extent = extentOf(face, device.size), shot = snapshot(extent);
      const openings = vents.map((v) => ({...lookedAt(v, device.size), cover: v.cover === 'slots' ? 'slots' : 'perforated', open: 0.45, hole: 2}));
      const photo = await photoOf(page, {width: extent[0], height: extent[1], openings}, shot);
      await page.setInputFiles('#photo-file', {name: 'photo.jpg', mimeType: 'image/jpeg', buffer: photo});
      await straighten(page, shot, MARK_ORDER[face]);
      counted.clicks += 3;  // the face, its photo, done
      counted.drags += 5;   // four corners, the bulge
      for (const [k, vent] of vents.entries()) {
        const {x, y, w, h} = openings[k], tool = openings[k].cover === 'slots' ? 'slots' : 'vents';
        await drawBox(page, tool, [x - w / 2, y - h / 2], [x + w / 2, y + h / 2]);
        await page.fill('#thing-name', vent.name);
        await page.keyboard.press('Enter');
        counted.clicks += 1;
        counted.drags += 1;
        counted.fields += 1;
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
    for (const fan of device.fans) {
      const [x, y] = [fan.centre[0], D - fan.centre[1]];
      await drawBox(page, 'fans', [x, y], [x + fan.diameter / 2, y]);
      await page.fill('#thing-name', fan.name);
      await page.keyboard.press('Enter');
      counted.clicks += 1;
      counted.drags += 1;
      counted.fields += 1;
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
    const typed = device.fans.length * 4 + read.length * 2 + device.vents.length * 5 + 3;  // by hand: face, two places, two extents each; the size
    t.diagnostic(`${name}: ${device.vents.length} vents on ${faces.length} faces: ${counted.clicks} clicks, ${counted.drags} drags, ${counted.fields} fields; ${device.fans.length} fans; open area of ${read.length} counted in the photo; by hand ${typed} values, and as many sums of an edge and half a size as places`);
    await close();
    server.stop();
  });
}
