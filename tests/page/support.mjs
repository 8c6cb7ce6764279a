// What the page tests share: pages made by the program, and a browser to open them in.
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

/** Opens a page from disk; notes faults and requests. */
export async function open(browser, file, {viewport = SCREEN, colorScheme = 'light'} = {}) {
  const context = await browser.newContext({viewport, colorScheme});
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
  await page.waitForFunction(() => document.documentElement.dataset.ready === 'yes');
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
