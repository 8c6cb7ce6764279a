// How long a turn of the device takes: BROWSER=/usr/bin/chromium node frames.mjs PAGE...
// Sixty turns of three degrees, one a frame, after ten to warm up. Medians and the worst, in milliseconds.
import {basename} from 'node:path';

import {open, SCREEN, startBrowser} from './support.mjs';

const browser = await startBrowser();
for (const file of process.argv.slice(2)) {
  const {page, faults, close} = await open(browser, file, {viewport: SCREEN});
  const times = await page.evaluate(async () => {
    const input = document.querySelector('#tilt input[type=range]'), solve = [], script = [], frame = [];
    const choose = document.querySelector('#tilt select');
    const condition = choose.selectedOptions[0].textContent;
    const next = () => new Promise((done) => requestAnimationFrame(done));
    input.scrollIntoView();
    let last = await next();
    for (let k = -10; k < 60; ++k) {
      const angle = Number(input.min) + 3 * (k + 10), start = performance.now();
      input.value = angle;
      input.dispatchEvent(new Event('input'));
      const drawn = performance.now();
      // Layout and paint follow at the end of the frame; the next one begins after them.
      const now = await next();
      const before = performance.now();
      window.tuft.turned(condition, [0, 1, 0], angle + 1.5);
      const solved = performance.now() - before;
      if (k >= 0) {
        solve.push(solved);
        script.push(drawn - start - solved);
        frame.push(now - last);
      }
      last = now;
    }
    const middle = (list) => list.sort((a, b) => a - b)[list.length >> 1];
    return Object.fromEntries(
        Object.entries({solve, 'redraw': script, frame})
            .map(([name, list]) => [name, {median: middle(list), worst: Math.max(...list)}]));
  });
  const words = Object.entries(times).map(
      ([name, t]) => `${name} ${t.median.toFixed(1)} (worst ${t.worst.toFixed(1)})`);
  console.log(`${basename(file)}: ${words.join(', ')}`, faults.length ? faults : '');
  await close();
}
await browser.close();
