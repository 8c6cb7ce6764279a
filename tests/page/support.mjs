// What the page tests share: pages made by the program, and a browser to open them in.
import assert from 'node:assert/strict';
import {execFileSync} from 'node:child_process';
import {mkdtempSync, readFileSync, rmSync, statSync} from 'node:fs';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {pathToFileURL} from 'node:url';
import {chromium} from 'playwright-core';

export const CASES = ['slim-notebook', 'handheld-console', 'fanless-router', 'mini-desktop'];
export const PHONE = {
  width: 390,
  height: 844
},
             SCREEN = {
               width: 1920,
               height: 1080
             };

/** A folder that goes when the tests end. */
export function scratch() {
  const folder = mkdtempSync(join(tmpdir(), 'tuft-page-'));
  process.on('exit', () => rmSync(folder, {recursive: true, force: true}));
  return folder;
}

/** Runs the program; throws with its messages when it fails. */
export function tuft(...words) {
  return execFileSync(process.env.TUFT, words, {encoding: 'utf8'});
}

/** Solves a case, and makes its page from the results file alone: {file, results, bytes}. */
export function pageOf(name, folder) {
  const results = join(folder, name), file = join(folder, name + '.html');
  tuft('predict', join(process.env.CASES, name + '.yaml'), '--quiet', '--out', results);
  return pageFrom(join(results, 'results.json'), file);
}

/** The page of a results file. */
export function pageFrom(results, file) {
  tuft('report', results, '--out', file);
  return {file, results: JSON.parse(readFileSync(results, 'utf8')), bytes: statSync(file).size};
}

export async function startBrowser() {
  return chromium.launch({executablePath: process.env.BROWSER, args: ['--no-sandbox', '--disable-gpu']});
}

/**
 * Opens a page from disk, after `script` within it; notes faults and requests. Its solver has started, or
 * never will.
 */
export async function open(browser, file, {viewport = SCREEN, colorScheme = 'light', script} = {}) {
  const context = await browser.newContext({viewport, colorScheme});
  if (script) await context.addInitScript(script);
  const page = await context.newPage();
  const faults = [], requests = [];
  page.on('console', (message) => {
    if (['error', 'warning'].includes(message.type())) faults.push(message.text());
  });
  page.on('pageerror', (error) => faults.push(String(error)));
  page.on('request', (request) => requests.push(request.url()));
  page.on('dialog', (dialog) => {
    faults.push('dialog');
    dialog.dismiss();
  });
  await page.goto(pathToFileURL(file).href);
  await page.waitForFunction(
      () => document.documentElement.dataset.ready === 'yes' &&
          document.documentElement.dataset.solver !== 'starting');
  return {page, faults, requests, close: () => context.close()};
}

/** Chooses a condition by its place in the list. */
export async function choose(page, index) {
  await page.evaluate((i) => {
    const input = document.querySelectorAll('input[name=condition]')[i];
    input.checked = true;
    input.dispatchEvent(new Event('change', {bubbles: true}));
  }, index);
}

export const doing = (vent) => (vent.shut ? 'shut' : vent.role);
const MOVES = {
  intake: ['in'],
  exhaust: ['out'],
  'both-ways': ['in', 'out'],
  idle: [],
  shut: []
};

/** Arrows, signs, rectangles and table rows within an element. */
export function shownIn(selector) {
  const within = document.querySelector(selector), numbers = (text) => text.split(/[ ,]+/).map(Number);
  const arrows = Array.from(within.querySelectorAll('figure polygon[data-direction]')).map((node) => {
    const raw = numbers(node.getAttribute('points')),
          list = raw.map((v, i) => [v, raw[i + 1]]).filter((_, i) => i % 2 === 0);
    const tip = list.length === 7 ? list[3] : list[1],
          ends = list.length === 7 ? [list[0], list[6]] : [list[0], list[2]];
    const tail = [0, 1].map((k) => (ends[0][k] + ends[1][k]) / 2);
    return {
      figure: node.closest('figure').className,
      vent: node.dataset.vent,
      view: node.dataset.view,
      direction: node.dataset.direction,
      flow: Number(node.dataset.flow),
      tip,
      tail,
      hollow: node.classList.contains('tuft-f-paper')
    };
  });
  const rectangles = Array.from(within.querySelectorAll('figure.drawing rect[data-vent]:not([data-edge])'))
                         .map((node) => ({
                                vent: node.dataset.vent,
                                view: node.dataset.view,
                                role: node.dataset.role,
                                box: ['x', 'y', 'width', 'height'].map((a) => Number(node.getAttribute(a)))
                              }));
  const chassis = Object.fromEntries(
      Array.from(within.querySelectorAll('[data-chassis]')).map((node) => [node.dataset.chassis, [
                                                                  'x', 'y', 'width', 'height'
                                                                ].map((a) => Number(node.getAttribute(a)))]));
  const rows = Array.from(within.querySelectorAll('tr[data-row]'))
                   .map((node) => ({
                          vent: node.dataset.row,
                          role: node.dataset.role,
                          cells: Array.from(node.children).map((c) => c.textContent)
                        }));
  const scale = Number((within.querySelector('[data-pixels-per-metre]') || {dataset: {}}).dataset.pixelsPerMetre);
  return {arrows, rectangles, chassis, rows, scale};
}

// Written apart from the page's own rule.
const litres = (text) => (text === '–' ? 0 : Number(text.slice(0, -' L/s'.length)));
export const near = (a, b, tolerance, words) =>
    assert.ok(Math.abs(a - b) <= tolerance, `${words}: ${a} is not ${b}`);

/** The rows of a table say what each vent does, and how much air passes. */
export function checkRows(seen, result) {
  for (const vent of result.vents) {
    const moves = MOVES[doing(vent)], density = result.room_density_kg_m3;
    const row = seen.rows.find((r) => r.vent === vent.vent);
    assert.equal(row.role, doing(vent));
    for (const [cell, way, mass] of [[3, 'in', vent.inflow_kg_s], [4, 'out', vent.outflow_kg_s]]) {
      const flow = moves.includes(way) ? 1000 * mass / density : 0;
      near(litres(row.cells[cell]), flow, 0.0051 * flow + 1e-6, `${way} of ${vent.vent}`);
    }
  }
}

/** So do they, and so do the arrows of a figure. */
export function checkFlows(seen, result, figure) {
  checkRows(seen, result);
  for (const vent of result.vents) {
    const moves = MOVES[doing(vent)], density = result.room_density_kg_m3;
    const arrows = seen.arrows.filter((a) => a.vent === vent.vent && a.figure === figure);
    if (!vent.leak) assert.deepEqual(arrows.map((a) => a.direction).sort(), moves, `${figure} ${vent.vent}`);
    for (const a of arrows) {
      const flow = (a.direction === 'in' ? vent.inflow_kg_s : vent.outflow_kg_s) / density;
      near(a.flow, flow, 1e-5 * flow, 'flow of the arrow at ' + vent.vent);
      assert.equal(a.hollow, a.direction === 'out');
    }
  }
}
