// Opens pages in Chromium at the width of a phone and of a desk, as `./dev browser` does:
//   node check_pages.mjs MODULES CHROMIUM OUT PAGE...
// Ends with 1 where axe-core (WCAG 2.0 to 2.2, levels A and AA, and its best practices) finds something, or says that it
// cannot tell, where a page is wider than the screen, asks for something outside itself, or has an error in its console.
// OUT gets a picture of each.
import {createRequire} from 'node:module';
import {readFileSync} from 'node:fs';
import path from 'node:path';
import {pathToFileURL} from 'node:url';

const [modules, chromium, out, ...pages] = process.argv.slice(2);
const require = createRequire(path.resolve(modules, 'x.js'));
const puppeteer = require('puppeteer-core');
const axe = readFileSync(require.resolve('axe-core/axe.min.js'), 'utf8');

const screens = [
  {name: 'phone', width: 390, height: 844, deviceScaleFactor: 2, isMobile: true, hasTouch: true},
  {name: 'small-phone', width: 320, height: 568, deviceScaleFactor: 2, isMobile: true, hasTouch: true},
  {name: 'desk', width: 1280, height: 900, deviceScaleFactor: 1},
];

let faults = 0;
const fault = (where, what) => {
  ++faults;
  console.log(`${where}: ${what}`);
};

const browser = await puppeteer.launch({executablePath: chromium, args: ['--no-sandbox', '--disable-gpu']});
for (const file of pages) {
  for (const screen of screens) {
    const where = `${path.basename(file)}, ${screen.name}`;
    const page = await browser.newPage();
    page.on('console', message => message.type() === 'error' && fault(where, message.text()));
    page.on('pageerror', error => fault(where, error.message));
    page.on('request', request => {
      if (!/^(file|data):/.test(request.url())) fault(where, `asks for ${request.url()}`);
    });
    await page.setViewport(screen);
    await page.goto(pathToFileURL(path.resolve(file)).href, {waitUntil: 'load'});
    await page.evaluate(axe);
    const result = await page.evaluate(() => window.axe.run(document, {
      runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'],
    }));
    const told = (kind, list) => list.forEach(rule => rule.nodes.forEach(
      node => fault(where, `${kind} ${rule.id} (${rule.impact}): ${rule.help}: ${node.html.slice(0, 120)}`)));
    told('violates', result.violations);
    told('cannot tell', result.incomplete);
    const [wide, seen, least] = await page.evaluate(() => {
      const sizes = [...document.querySelectorAll('body *')]
        .filter(e => [...e.childNodes].some(n => n.nodeType === 3 && n.data.trim()))
        .map(e => parseFloat(getComputedStyle(e).fontSize));
      return [document.documentElement.scrollWidth, document.documentElement.clientWidth, Math.min(...sizes)];
    });
    if (wide > seen) fault(where, `is ${wide} px wide on a screen of ${seen}`);
    if (least < 12) fault(where, `has letters of ${least} px`);
    await page.screenshot({path: path.join(out, `${path.basename(file, '.html')}-${screen.name}.png`), fullPage: true});
    console.log(`${where}: ${result.passes.length} rules pass, letters from ${least} px`);
    await page.close();
  }
}
await browser.close();
process.exit(faults === 0 ? 0 : 1);
