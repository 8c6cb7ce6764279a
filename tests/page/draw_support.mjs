// What tests of the drawing page share: the page served, and hands that draw on it.
import {spawn} from 'node:child_process';
import {writeFileSync} from 'node:fs';
import {join} from 'node:path';

import {bulgedPlace, projective} from './device_photo.mjs';
import {SCREEN} from './support.mjs';

/** tuft draw (or another command that shows a page), serving a copy of a case; {url, file, stop}. */
export async function served(folder, name, text, command = ['draw']) {
  const file = join(folder, name);
  if (text !== undefined) writeFileSync(file, text);
  const child = spawn(process.env.TUFT, [...command, file]);
  const url = await new Promise((done, failed) => {
    let said = '';
    child.stdout.on('data', (bytes) => {
      said += bytes;
      const found = /http:\S+/.exec(said);
      if (found) done(found[0]);
    });
    child.on('exit', () => failed(new Error(`tuft ${command[0]} ended: ${said}`)));
  });
  return {url, file, stop: () => child.kill('SIGINT')};
}

export async function opened(browser, url, {viewport = SCREEN, colorScheme = 'light', hasTouch = false} = {}) {
  const context = await browser.newContext({viewport, colorScheme, hasTouch, acceptDownloads: true});
  const page = await context.newPage(), faults = [], requests = [];
  page.on('console', (message) => {
    if (['error', 'warning'].includes(message.type())) faults.push(message.text());
  });
  page.on('pageerror', (error) => faults.push(String(error)));
  page.on('request', (request) => requests.push(request.url()));
  page.on('dialog', (dialog) => dialog.accept());
  await page.goto(url);
  await page.waitForFunction(() => document.documentElement.dataset.ready === 'yes');
  return {page, context, faults, requests, close: () => context.close()};
}

/** A place of the face [mm from the upper left corner as looked at] on the screen. */
export async function onScreen(page, x, y) {
  return page.evaluate(([a, b]) => {
    const box = document.querySelector('.stage .outline').getBoundingClientRect();
    const width = Number(document.querySelector('.stage .outline').getAttribute('width'));
    return [box.left + a * box.width / width, box.top + b * box.width / width];
  }, [x, y]);
}

export async function drag(page, from, to) {
  await page.mouse.move(...from);
  await page.mouse.down();
  await page.mouse.move((from[0] + to[0]) / 2, (from[1] + to[1]) / 2);
  await page.mouse.move(...to, {steps: 3});
  await page.mouse.up();
}

/** Draws a thing by its corners on the face [mm as looked at]; Alt keeps it from snapping. */
export async function drawBox(page, tool, [x1, y1], [x2, y2]) {
  await page.click(`[data-tool=${tool}]`);
  await page.keyboard.down('Alt');
  await drag(page, await onScreen(page, x1, y1), await onScreen(page, x2, y2));
  await page.keyboard.up('Alt');
}

export const fileShown = (page) => page.evaluate(() => document.querySelector('.file').textContent);
export const lines = (text) => text.split('\n');
export const changedLines = (before, now) => lines(now).filter((line) => !lines(before).includes(line));
export const save = async (page) => {
  await page.click('#save');
  await page.waitForFunction(() => document.querySelector('.saved').textContent === 'Saved');
};
/** The two lengths [mm] of a list in a line. */
export const pairIn = (text, key) => new RegExp(`${key}: \\[([-\\d.]+) mm, ([-\\d.]+) mm\\]`).exec(text).slice(1).map(Number);


/** Drags the four marks onto where the corners are in a picture, as a person sees them, and mends the bulge. */
export async function straighten(page, {corners, bulge = 0, width, height}, order) {
  await page.waitForSelector('[data-corner]');
  for (let k = 0; k < 4; ++k) {
    const box = await page.locator(`[data-corner="${k}"] .ring`).boundingBox();
    const to = await page.evaluate(([x, y]) => {
      const at = new DOMPoint(x, y).matrixTransform(document.querySelector('.corners').getScreenCTM());
      return [at.x, at.y];
    }, bulgedPlace(corners[order[k]], bulge, width, height));
    await drag(page, [box.x + box.width / 2, box.y + box.height / 2], to);
  }
  if (bulge) await page.fill('#bulge', String(bulge));
  await page.click('#straight-done');
  await page.waitForSelector('.stage image.photo');
}

const through = ([a, b, c, d, e, f, g, h], [x, y]) => {
  const w = g * x + h * y + 1;
  return [(a * x + b * y + c) / w, (d * x + e * y + f) / w];
};

/**
 * Where the page shows what lies at a place of the face in a photo [mm from the upper left corner as looked at]: by
 * the corners and the bulge that the case now states, however they were found. `shot`: how the photo was taken.
 */
export async function asPhotographed(page, {width, height}, shot, order, key) {
  const text = await fileShown(page), line = text.slice(text.indexOf('photos:'));
  const stated = line.slice(line.indexOf(`  ${key}: {`) + 2).split(/\n {0,2}\S/)[0];
  const numbers = (found) => found.match(/-?[\d.]+/g).map(Number);
  const corners = numbers(/corners: \[(\[.*?\])\]/s.exec(stated)[1]), [w, h] = numbers(/size: \[(.*?)\]/.exec(stated)[1]);
  const bulge = Number((/bulge: (-?[\d.]+)/.exec(stated) || [0, 0])[1]), half = Math.hypot(w, h) / 2;
  const mended = ([x, y]) => {
    const factor = 1 / (1 - bulge * ((x - w / 2) ** 2 + (y - h / 2) ** 2) / half ** 2);
    return [w / 2 + (x - w / 2) * factor, h / 2 + (y - h / 2) * factor];
  };
  const rim = [[0, 0], [width, 0], [width, height], [0, height]];
  const back = projective([0, 1, 2, 3].map((k) => mended(corners.slice(2 * k, 2 * k + 2))), order.map((k) => rim[k]));
  const taken = projective(rim, shot.corners);
  return (x, y) => {
    const [px, py] = bulgedPlace(through(taken, [x, y]), shot.bulge || 0, shot.width, shot.height);
    return through(back, mended([px * w / shot.width, py * h / shot.height]));
  };
}

/** The modules of the four corner cards, read from the sheet that the program prints: true where black. */
export async function cardModules(browser, sheet) {
  const context = await browser.newContext(), page = await context.newPage();
  const cards = await page.evaluate(async (text) => {
    const image = new Image();
    image.src = 'data:image/svg+xml;charset=utf-8,' + encodeURIComponent(text);
    await image.decode();
    const parsed = new DOMParser().parseFromString(text, 'image/svg+xml'), root = parsed.documentElement;
    const scale = 10, [, , w, h] = root.getAttribute('viewBox').split(' ').map(Number), canvas = document.createElement('canvas');
    Object.assign(canvas, {width: w * scale, height: h * scale});
    const context = canvas.getContext('2d');
    context.drawImage(image, 0, 0, canvas.width, canvas.height);
    return Array.from(root.querySelectorAll('[data-card]'), (card) => {
      const rect = card.querySelector('rect'), [x, y] = ['x', 'y'].map((name) => Number(rect.getAttribute(name)));
      const dark = (row, column) => context.getImageData((x + 4 * column + 6) * scale, (y + 4 * row + 6) * scale, 1, 1).data[0] < 128;
      return [0, 1, 2, 3, 4].map((row) => [0, 1, 2, 3, 4].map((column) => dark(row, column)));
    });
  }, sheet);
  await context.close();
  return cards;
}

/** Which corner of the picture, clockwise from the upper left one, each of the marks names. */
export const MARK_ORDER = {
  base: [2, 3, 0, 1],
  rear: [2, 3, 0, 1],
  left: [2, 3, 0, 1],
  top: [3, 2, 1, 0],
  front: [3, 2, 1, 0],
  right: [3, 2, 1, 0],
  inside: [3, 2, 1, 0]
};
