// Opens clients' pages in Chromium, as `./dev web look` does:
//   node turn.mjs MODULES CHROMIUM OUT PAGE...
// Turns each ring by the mouse, a finger and the keys, holds the page to axe-core, and to asking for nothing and storing
// nothing; then spoils the first page's design, cuts it out, and opens it without WebGL. Ends with 1 where something is amiss.
import { createRequire } from 'node:module';
import { readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { pathToFileURL } from 'node:url';

const [modules, chromium, out, ...files] = process.argv.slice(2);
const require = createRequire(path.resolve(modules, 'x.js'));
const puppeteer = require('puppeteer-core');
const axe = readFileSync(require.resolve('axe-core/axe.min.js'), 'utf8');
let faults = 0;
const fault = (where, what) => {
  ++faults;
  console.log(`${where}: ${String(what).slice(0, 300)}`);
};
const seconds = (time) => new Promise((done) => setTimeout(done, 1000 * time));
const launch = (...more) => puppeteer.launch({ executablePath: chromium, args: ['--no-sandbox', ...more] });

let browser = await launch('--use-gl=angle', '--use-angle=swiftshader', '--enable-unsafe-swiftshader', '--ignore-gpu-blocklist');
async function opened(file, screen = { width: 1000, height: 900 }) {
  const where = path.basename(file), page = await browser.newPage();
  page.on('console', (message) => message.type() === 'error' && fault(where, message.text()));
  page.on('pageerror', (error) => fault(where, error.message));
  page.on('request', (request) => /^(file|data|blob):/.test(request.url()) || fault(where, `asks for ${request.url()}`));
  await page.setViewport(screen);
  await page.goto(pathToFileURL(path.resolve(file)).href, { waitUntil: 'load' });
  return page;
}
/** A picture of the ring as it is, once nothing changes any more. */
async function seen(page) {
  const box = await (await page.$('#turned')).boundingBox();
  for (let before = '', i = 0; i < 40; ++i) {
    const now = await page.screenshot({ clip: box, encoding: 'base64' });
    if (now === before) return now;
    before = now;
    await seconds(0.5);
  }
  return 'never at rest';
}

for (const file of files) {
  const name = path.basename(file, '.html');
  for (const screen of [{ width: 1000, height: 900 }, { width: 390, height: 844, deviceScaleFactor: 2, isMobile: true, hasTouch: true }]) {
    const page = await opened(file, screen), where = `${name}, ${screen.width} px`;
    await page.waitForFunction('window.firstPicture', { timeout: 60000 }).catch(() => fault(where, 'the ring is not drawn'));
    console.log(`${where}: first picture after ${Math.round(await page.evaluate('window.firstPicture'))} ms`);
    const views = [await seen(page)];
    const box = await (await page.$('#ring')).boundingBox(), x = box.x + box.width / 2, y = box.y + box.height / 2;
    if (screen.hasTouch) {
      await page.touchscreen.touchStart(x, y);
      for (let i = 1; i <= 5; ++i) await page.touchscreen.touchMove(x + 15 * i, y);
      await page.touchscreen.touchEnd();
    } else {
      await page.mouse.move(x, y);
      await page.mouse.down();
      await page.mouse.move(x + 80, y, { steps: 5 });
      await page.mouse.up();
    }
    views.push(await seen(page));
    await page.focus('#ring');
    await page.keyboard.press('ArrowUp');
    views.push(await seen(page));
    await page.click('[data-turn=nearer]');
    views.push(await seen(page));
    if (new Set(views).size !== views.length || views.includes('never at rest')) fault(where, 'does not turn by all means');
    await page.screenshot({ path: path.join(out, `${name}-${screen.width}.png`), fullPage: true });
    const stored = await page.evaluate(() => localStorage.length + sessionStorage.length + document.cookie.length);
    if (stored > 0) fault(where, 'stores something');
    await page.close();
  }
}

for (const file of files.slice(0, 1)) {
  for (const scheme of ['light', 'dark']) {
    const page = await opened(file);
    await page.emulateMediaFeatures([{ name: 'prefers-color-scheme', value: scheme }]);
    await page.waitForFunction('window.firstPicture', { timeout: 60000 });
    await page.evaluate(axe);
    const { violations } = await page.evaluate(() => window.axe.run(document, { runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] }));
    for (const rule of violations) for (const node of rule.nodes) fault(scheme, `${rule.id}: ${rule.help}: ${node.html}`);
    await page.close();
  }
}

const text = readFileSync(files[0], 'utf8');
const spoilt = {
  changed: text.replace(/("width":\s*)(\d)/, '$19'),
  'cut out': text.replace(/<script type="application\/json" id="design"[^]*?<\/script>/, ''),
};
for (const [how, html] of Object.entries(spoilt)) {
  if (html === text) fault(how, 'nothing was spoilt');
  const copy = path.join(out, `${how.replace(' ', '-')}.html`);
  writeFileSync(copy, html);
  const page = await opened(copy);
  await seconds(3);
  const said = await page.$eval('#said', (place) => place.textContent);
  if (!said || (await page.$eval('#ring', (ring) => !ring.hidden))) fault(how, 'is not noticed');
  console.log(`${how}: ${said}`);
  await page.close();
}
await browser.close();
browser = await launch('--disable-gpu', '--disable-3d-apis');
const page = await opened(files[0]);
await seconds(2);
console.log(`without WebGL: ${await page.$eval('#said', (place) => place.textContent)}`);
if (!(await page.$eval('#turned img', (img) => img.complete && img.naturalWidth > 0))) fault('without WebGL', 'no picture');
await browser.close();
process.exit(faults ? 1 : 0);
