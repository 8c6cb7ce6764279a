// How long the drawing page takes from a change to its arrows: a vent of a case is dragged, and every change is timed
// by the page itself and by the processor time of its thread. No test, as a busy machine is slower; in this folder:
// TUFT=../../build/bin/tuft CASES=../../cases BROWSER=$(command -v chromium) node draw_speed.mjs slim-notebook
import {readFileSync} from 'node:fs';
import {join} from 'node:path';

import {opened, served} from './draw_support.mjs';
import {scratch, startBrowser} from './support.mjs';

const CHANGES = 100;

const name = process.argv[2] || 'slim-notebook', folder = scratch(), browser = await startBrowser();
const server = await served(folder, 'speed.yaml', readFileSync(join(process.env.CASES, name + '.yaml'), 'utf8'));
const {page, context, close} = await opened(browser, server.url), cdp = await context.newCDPSession(page);
await page.evaluate(() => {
  window.took = [];
  new MutationObserver(() => window.took.push(Number(document.documentElement.dataset.took)))
      .observe(document.documentElement, {attributes: true, attributeFilter: ['data-took']});
});
for (const face of ['base', 'top', 'right', 'left', 'rear']) {
  await page.click(`[data-face=${face}]`);
  if (await page.locator('.stage [data-key^="vents/"]').count()) break;
}
const box = await page.locator('.stage [data-key^="vents/"]').first().boundingBox();
const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];

/** Drags to and fro, faster than the page begins to solve the other conditions: these are not what is timed. */
async function drag(changes) {
  await page.mouse.move(x, y);
  await page.mouse.down();
  for (let k = 1; k <= changes; ++k) {
    await page.mouse.move(x + 1.5 * (k % 40), y + (k % 7));
    await page.waitForTimeout(60);
  }
  await page.mouse.up();
}

await drag(10);  // the browser compiles what it runs often
await cdp.send('Performance.enable', {timeDomain: 'threadTicks'});
const busy = async () => (await cdp.send('Performance.getMetrics')).metrics.find((m) => m.name === 'TaskDuration').value * 1000;
await page.evaluate(() => (window.took.length = 0));
const before = await busy();
await drag(CHANGES);
const spent = (await busy()) - before, took = (await page.evaluate(() => window.took)).sort((a, b) => a - b);
const at = (share) => took[Math.min(took.length - 1, Math.floor(share * took.length))];
console.log(`${name}: ${took.length} changes; read, solved and drawn in ${at(0.5)} ms (median; ${at(0.1)} to ${at(0.9)} for 8 of 10); ${
    (spent / took.length).toFixed(1)} ms of processor time a change, with the browser's layout and painting of it`);
await close();
server.stop();
await browser.close();
process.exit(0);
