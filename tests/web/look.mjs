// Opens the page in Chromium, which draws without a graphics card, as `./dev web look` does:
//   node look.mjs MODULES CHROMIUM NATIVE PAGE OUT DESIGN...
// Tells the time to the first picture, and for each design the likeness of the page's picture to the native one (PSNR by
// ImageMagick, of 640 x 640 pixels). OUT gets both pictures, and the page as it looks. Ends with 1 at an error, a request, or a
// likeness below 45 dB.
import { spawnSync } from 'node:child_process';
import { createRequire } from 'node:module';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { pathToFileURL } from 'node:url';

const [modules, chromium, native, file, out, ...designs] = process.argv.slice(2);
const puppeteer = createRequire(path.resolve(modules, 'x.js'))('puppeteer-core');
mkdirSync(out, { recursive: true });
let faults = 0;
const fault = (what) => {
  ++faults;
  console.log(String(what).slice(0, 400));
};

const browser = await puppeteer.launch({
  executablePath: chromium,
  args: ['--no-sandbox', '--use-gl=angle', '--use-angle=swiftshader', '--enable-unsafe-swiftshader', '--ignore-gpu-blocklist'],
});
const page = await browser.newPage();
page.on('console', (message) => message.type() === 'error' && fault(message.text()));
page.on('pageerror', (error) => fault(error.stack || error.message));
page.on('request', (request) => /^(file|data|blob):/.test(request.url()) || fault(`asks for ${request.url()}`));
await page.setViewport({ width: 1280, height: 800 });
await page.goto(pathToFileURL(path.resolve(file)).href, { waitUntil: 'load' });
await page.waitForFunction('window.firstPicture', { timeout: 120000 });
console.log(`first picture after ${Math.round(await page.evaluate('window.firstPicture'))} ms`);

const seconds = (time) => new Promise((done) => setTimeout(done, 1000 * time));
const rings = designs.map((design) => ({ name: path.basename(design, '.ring.json'), design, text: readFileSync(design, 'utf8') }));
for (const { name, design, text } of rings) {
  const png = await page.evaluate((name, text) => {
    const { FS, callMain, page } = window.Module;
    FS.writeFile(`/rings/${name}.ring.json`, text);
    const written = page.written;
    page.written = () => {};  // else it would be a download
    callMain(['picture', `/rings/${name}.ring.json`, '-o', '/rings/look.png', '--width', '640', '--height', '640']);
    page.written = written;
    return btoa(FS.readFile('/rings/look.png').reduce((all, byte) => all + String.fromCharCode(byte), ''));
  }, name, text);
  const [theirs, ours] = ['page', 'native'].map((which) => path.join(out, `${name}-${which}.png`));
  writeFileSync(theirs, Buffer.from(png, 'base64'));
  const drawn = spawnSync(native, ['picture', design, '-o', ours, '--width', '640', '--height', '640']);
  if (drawn.status !== 0) fault(drawn.stderr);
  const likeness = parseFloat(String(spawnSync('compare', ['-metric', 'PSNR', ours, theirs, 'null:']).stderr));
  console.log(`${name}: ${likeness.toFixed(1)} dB`);
  if (!(likeness >= 45)) fault(`${name}: unlike the native picture`);
}
for (const { name } of rings.slice(0, 1)) {
  await page.evaluate((name) => window.Module.ccall('bandwright_open', null, ['string'], [`/rings/${name}.ring.json`]), name);
  await seconds(6);
  await page.screenshot({ path: path.join(out, `${name}-window.png`) });
}
await browser.close();
process.exit(faults ? 1 : 0);
