// Pictures of the pages for people to look at: node look.mjs FOLDER PAGE...
import {basename, join} from 'node:path';

import {open, PHONE, SCREEN, startBrowser} from './support.mjs';

const [folder, ...files] = process.argv.slice(2);
const browser = await startBrowser();
for (const file of files) {
  const stem = join(folder, basename(file, '.html'));
  for (const [name, options] of [
           ['screen', {viewport: SCREEN}], ['dark', {viewport: SCREEN, colorScheme: 'dark'}],
           ['phone', {viewport: PHONE}]]) {
    const {page, faults, close} = await open(browser, file, options);
    if (faults.length) console.log(file, faults);
    await page.screenshot({path: `${stem}-${name}.png`});
    for (const part of await page.$$('section')) {
      await part.screenshot({path: `${stem}-${name}-${await part.getAttribute('id')}.png`});
    }
    if (name === 'screen') {
      await page.setViewportSize({width: 720, height: 1000});
      await page.emulateMedia({media: 'print'});
      await page.evaluate(() => new Promise((done) => setTimeout(done, 200)));
      await page.screenshot({path: `${stem}-print-all.png`, fullPage: true});
    }
    await close();
  }
}
await browser.close();
