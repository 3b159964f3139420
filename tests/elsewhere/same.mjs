// Whether the program elsewhere, for a browser under Node.js or for Windows under Wine, says what the native one says: texts
// byte for byte, exit codes, numbers of JSON to 1e-9 of them, and meshes with the same triangles.
//   node same.mjs NATIVE OTHER.js|OTHER.exe DESIGN...
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

const [native, other, ...designs] = process.argv.slice(2);
const folder = mkdtempSync(join(tmpdir(), 'bandwright-same-'));
let wrong = 0;
const forWindows = other.endsWith('.exe');
const seconds = { native: 0, other: 0 };

function run(which, args) {
  const before = performance.now();
  // Emscripten's loader takes a global fetch for a browser's.
  const call = which === 'native' ? [native, args] : forWindows ? ['/usr/lib/wine/wine64', [other, ...args]]
    : [process.execPath, ['--no-experimental-fetch', other, ...args]];
  const done = spawnSync(call[0], call[1], { encoding: 'buffer', maxBuffer: 1 << 28 });
  seconds[which] += (performance.now() - before) / 1000;
  return done;
}

function complain(what) {
  ++wrong;
  console.log(what);
}

/** Where two values of JSON differ by more than 1e-9 of them; empty where nowhere. */
function difference(a, b, place = '$') {
  if (typeof a === 'number' && typeof b === 'number')
    return Math.abs(a - b) <= 1e-9 * Math.max(1, Math.abs(a)) ? '' : `${place}: ${a} and ${b}`;
  if (a === null || typeof a !== 'object' || b === null || typeof b !== 'object') return a === b ? '' : `${place}: ${a} and ${b}`;
  const keys = Object.keys(a);
  if (keys.join() !== Object.keys(b).join()) return `${place} has other names`;
  return keys.map((key) => difference(a[key], b[key], `${place}.${key}`)).find((found) => found) ?? '';
}

/** Points and triangles of an OBJ file, part by part. */
function mesh(file) {
  const points = [], parts = [];
  for (const line of readFileSync(file, 'latin1').split('\n')) {
    const words = line.split(' ');
    if (words[0] === 'v') points.push(words.slice(1).map(Number));
    if (words[0] === 'o' || words[0] === 'usemtl') parts.push([line]);
    if (words[0] === 'f') parts.at(-1).push(words.slice(1).map((corner) => parseInt(corner) - 1));
  }
  return { points, parts };
}

/** How many triangles of one mesh are not in the other; NaN where the numbers of points, parts or triangles differ. Points are
    known by their place to 1e-6 mm, as some that are equal but for rounding stand in another order. */
function otherTriangles(a, b) {
  const count = (m) => [m.points.length, ...m.parts.map((part) => part[0] + part.length)].join();
  if (count(a) !== count(b)) return NaN;
  const place = (m, i) => m.points[i].map((value) => Math.round(value * 1e6) + 0).join();
  const told = (m) => m.parts.flatMap(([head, ...faces]) => faces.map((face) => {
    const places = face.map((i) => place(m, i));
    const first = places.indexOf([...places].sort()[0]);
    return head + [...places.slice(first), ...places.slice(0, first)].join('|');
  }));
  const there = new Set(told(b));
  return told(a).filter((triangle) => !there.has(triangle)).length;
}

function same(name, args) {
  const [a, b] = [run('native', args), run('other', args)];
  if (a.status !== b.status) complain(`${name}: exit code ${a.status} natively, ${b.status} here\n${b.stderr}`);
  return [a, b];
}

for (const design of designs) {
  const name = design.replace(/.*\//, '');
  for (const command of ['check', 'route', 'weigh']) {
    const [a, b] = same(`${command} ${name}`, [command, design]);
    if (!a.stdout.equals(b.stdout)) complain(`${command} ${name}: other text`);
    if (!a.stderr.equals(b.stderr)) complain(`${command} ${name}: other complaints`);
  }
  const [a, b] = same(`check --json ${name}`, ['check', '--json', design]);
  const apart = a.status === b.status && difference(JSON.parse(a.stdout), JSON.parse(b.stdout));
  if (apart) complain(`check --json ${name}: ${apart}`);
  const [mine, theirs] = ['native', 'other'].map((which) => join(folder, `${which}-${name}.obj`));
  const written = [run('native', ['export', design, '-o', mine]), run('other', ['export', design, '-o', theirs])];
  if (written[0].status !== 0 || written[1].status !== 0) complain(`export ${name}: ${written.map((w) => w.stderr)}`);
  else {
    // The two triangles of a flat facet may be joined over its other diagonal, where both are equal but for rounding.
    const other = otherTriangles(mesh(mine), mesh(theirs));
    if (other > 0) console.log(`export ${name}: ${other} triangles lie otherwise`);
    if (!(other <= 8)) complain(`export ${name}: other triangles`);
  }
}

// What cannot be done there is refused in one sentence, with exit code 2.
const [sheet, step, picture] = [['sheet', 'a.pdf'], ['export', 'a.step'], ['picture', 'a.png']]
  .map(([command, file]) => [command, designs[0], '-o', join(folder, file)]);
for (const args of [sheet, step, ...forWindows ? [] : [picture], ['check', join(folder, 'nowhere.ring.json')]]) {
  const { status, stderr, stdout } = run('other', args);
  const words = String(stderr).trim();
  if (status !== 2 || !words || words.includes('\n')) complain(`${args.join(' ')}: exit code ${status}, "${words}" ${stdout}`);
  else console.log(words);
}
console.log(`${designs.length} designs: ${wrong ? wrong + ' differences' : 'the same'}; ${seconds.native.toFixed(1)} s natively, ${seconds.other.toFixed(1)} s under ${forWindows ? 'Wine' : 'Node.js'}`);
process.exit(wrong ? 1 : 0);
