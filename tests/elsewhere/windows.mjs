// What the program for Windows does under Wine beside `same.mjs`: every command as natively, names of other scripts, long
// paths, files that cannot be written, two programs at once, an end in the middle, the window.
//   node windows.mjs NATIVE PROGRAM.exe FOLDER DESIGN...     FOLDER is for what it writes; the pictures stay there
import { spawn, spawnSync } from 'node:child_process';
import { chmodSync, copyFileSync, cpSync, existsSync, mkdirSync, readFileSync, readdirSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { basename, join, resolve } from 'node:path';

const [native, program, folder, ...designs] = process.argv.slice(2).map((path) => resolve(path));
const wine = '/usr/lib/wine/wine64';
const first = designs.find((design) => design.includes('harbour')) ?? designs[0];
let wrong = 0, done = 0;
rmSync(folder, { recursive: true, force: true });
mkdirSync(folder, { recursive: true });

const call = (file, args, options = {}) => spawnSync(file, args, { encoding: 'buffer', maxBuffer: 1 << 28, timeout: 120_000, ...options });
const env = { ...process.env, LC_ALL: 'C.UTF-8' };  // by which Wine reads names
const there = (args, options) => call(wine, [program, ...args], { env, ...options });
const here = (args, options) => call(native, args, options);
const words = (outcome) => `${outcome.stdout}${outcome.stderr}`.trim();

function expect(holds, what) {
  ++done;
  if (holds) return;
  ++wrong;
  console.log(`WRONG ${what}`);
}
function expectRefused(outcome, pattern, what) {
  const line = String(outcome.stderr).trim();
  expect(outcome.status === 2 && !line.includes('\n') && pattern.test(line), `${what}: exit code ${outcome.status}, "${line}"`);
}
const leftIn = (where) => readdirSync(where).filter((name) => name.startsWith('.bandwright-'));

// Every command, with the same words, the same exit code and the same bytes in its files.
const workshop = resolve('models/my-workshop.json');
const cases = [
  ['--help'], ['--version'], ['--man-page'], ['--bash-completion'], ['rules'], ['size', 'UK R 1/2'],
  ['check', '--all', first], ['weigh', first], ['route', '--workshop', workshop, first], ['quote', '--workshop', workshop, first],
  ['sweep', first, '--vary', 'band.width=6:9:1'], ['mend', first, '-o', 'mended.ring.json'],
  ['section', first, '-o', 'section.dxf'], ['export', first, '-o', 'a.stl'], ['export', first, '-o', 'a.ply'],
  ['export', first, '-o', 'a.obj'], ['export', first, '-o', 'a.3mf'], ['export', first, '-o', 'a.glb'],
  ['compare', first, 'a.stl'], ['card', first, '-o', 'card.html'], ['check', 'nowhere.ring.json'], ['chekc'], ['export', first],
  ['export', first, '-o', 'a.step2'], ['check', '--json', '--into', 'lines.jsonl', ...designs.slice(0, 2)], ['check', '--json', '--into', 'lines.jsonl', ...designs.slice(0, 3)],
];
const [mine, theirs] = ['native', 'windows'].map((name) => join(folder, name));
[mine, theirs].forEach((place) => mkdirSync(place));
for (const args of cases) {
  const [a, b] = [here(args, { cwd: mine }), there(args, { cwd: theirs })];
  expect(a.status === b.status, `${args[0]}: exit code ${a.status} natively, ${b.status} here: ${words(b)}`);
  expect(a.stdout.equals(b.stdout) && a.stderr.equals(b.stderr), `${args.join(' ')}: other words\n${a.stderr}${b.stderr}`);
}
for (const file of readdirSync(mine)) {
  const other = join(theirs, file);
  const same = existsSync(other) && readFileSync(join(mine, file)).equals(readFileSync(other));
  if (!same) console.log(`  other bytes: ${file}`);
  expect(existsSync(other), `${file} is not written`);
}

// Pictures, against the native ones.
for (const design of designs) {
  const files = [mine, theirs].map((place) => join(place, basename(design) + '.png'));
  [here, there].forEach((run, i) => {
    const outcome = run(['picture', design, '--width', '400', '--height', '300', '-o', files[i]]);
    expect(outcome.status === 0, `picture of ${basename(design)}: ${words(outcome)}`);
  });
  if (files.every(existsSync) && readFileSync(files[0]).equals(readFileSync(files[1]))) continue;
  const psnr = parseFloat(call('compare', ['-metric', 'PSNR', ...files, 'null:']).stderr);
  console.log(`  picture of ${basename(design)}: PSNR ${psnr} dB`);
  expect(psnr >= 45, `picture of ${basename(design)} is another`);
}

// Names of other scripts, in arguments, messages and files; a pattern that no shell has resolved.
const odd = join(folder, 'Größe 57 – кольцо 指輪 💍');
mkdirSync(odd);
['Zoë & Søren.ring.json', '指輪.ring.json'].forEach((name) => copyFileSync(first, join(odd, name)));
for (const name of readdirSync(odd)) {
  const outcome = there(['check', join(odd, name)]);
  expect(outcome.status === 0 && outcome.stdout.equals(here(['check', join(odd, name)]).stdout), `check ${name}: ${words(outcome)}`);
}
expect(there(['export', '指輪.ring.json', '-o', 'жёлтый 💍.obj'], { cwd: odd }).status === 0 && existsSync(join(odd, 'жёлтый 💍.obj')), 'export to a name of another script');
expectRefused(there(['check', 'не здесь.ring.json'], { cwd: odd }), /^bandwright: не здесь\.ring\.json: /, 'a missing file of such a name');
const several = there(['check', '--json', '*.ring.json'], { cwd: odd });
expect(several.status === 0 && String(several.stdout).trim().split('\n').length === 2, `check *.ring.json: ${words(several)}`);

// A path of more than 260 characters.
let deep = join(folder, 'deep');
for (let i = 0; i < 6; ++i) deep = join(deep, 'a-folder-with-a-name-of-some-sixty-characters-to-make-it-long-' + i);
mkdirSync(deep, { recursive: true });
copyFileSync(first, join(deep, 'long.ring.json'));
const far = there(['export', join(deep, 'long.ring.json'), '-o', join(deep, 'long.3mf')]);
expect(far.status === 0 && existsSync(join(deep, 'long.3mf')), `a path of ${deep.length} characters: ${words(far)}`);

// What cannot be written is refused in one sentence, and nothing is lost or left.
const plain = join(folder, 'plain');
mkdirSync(join(plain, 'folder.obj'), { recursive: true });
const old = join(plain, 'old.3mf');
writeFileSync(old, 'old');
chmodSync(old, 0o444);
expectRefused(there(['export', first, '-o', old]), /write-protected/, 'a write-protected file');
expect(readFileSync(old, 'latin1') === 'old', 'a write-protected file stays');
expectRefused(there(['export', first, '-o', join(plain, 'folder.obj')]), /no plain file/, 'a folder in the way');
expectRefused(there(['export', first, '-o', join(plain, 'nowhere', 'a.obj')]), /folder cannot be opened/, 'a folder that is missing');
expectRefused(there(['card', first, '-o', 'NUL.html'], { cwd: plain }), /cannot be saved|is a/, 'a name that is a device');
chmodSync(old, 0o644);
expect(there(['export', first, '-o', old]).status === 0 && readFileSync(old).equals(readFileSync(join(theirs, 'a.3mf'))), 'a file that is replaced');
symlinkSync('old.3mf', join(plain, 'link.3mf'));
expect(there(['export', first, '-o', join(plain, 'link.3mf')]).status === 0, 'a link to a file');
expect(leftIn(plain).length === 0, `left: ${leftIn(plain)}`);

// A full disk: 200 kB of memory, where we may mount that.
const small = join(folder, 'small');
mkdirSync(small);
if (call('mount', ['-t', 'tmpfs', '-o', 'size=200k', 'tmpfs', small]).status === 0) {
  writeFileSync(join(small, 'a.obj'), 'old');
  for (const name of ['a.obj', 'new.stl', 'a.glb'])
    expectRefused(there(['export', first, '-o', join(small, name)]), /No space left/, `a full disk, ${name}`);
  expect(readdirSync(small).join() === 'a.obj' && readFileSync(join(small, 'a.obj'), 'latin1') === 'old', `a full disk leaves ${readdirSync(small)}`);
  call('umount', [small]);
} else console.log('  not tried: a full disk, which only root can mount');

// An end in the middle of writing: the old file is whole, and the next one clears up.
writeFileSync(old, 'old');
const wait = (ms) => new Promise((after) => setTimeout(after, ms));
let cleared = 0;
for (let i = 0; i < 5; ++i) {
  const child = spawn(wine, [program, 'export', first, '--chord', '1', '-o', old], { env, stdio: 'ignore' });
  const ended = new Promise((after) => child.on('exit', after));
  while (leftIn(plain).length === 0 && child.exitCode === null) await wait(1);
  await wait(5 * i);
  child.kill('SIGKILL');
  await ended;
  const now = readFileSync(old, 'latin1');
  expect(now === 'old' || call('unzip', ['-tq', old]).status === 0, 'half a file after an end in the middle');
  writeFileSync(old, 'old');
  const left = leftIn(plain).length;
  cleared += left;
  expect(there(['export', first, '-o', join(plain, 'after.3mf')]).status === 0 && leftIn(plain).length === 0, `left after an end in the middle: ${leftIn(plain)}`);
}
expect(cleared > 0, 'no program was ended in the middle of writing');
console.log(`  5 programs ended in the middle of writing, ${cleared} files of theirs cleared up`);

// The window: opens, shows the ring and closes; what it remembers is where Windows has that.
const window = there(['--close-when-shown', first]);
expect(window.status === 0, `the window: exit code ${window.status}, ${words(window)}`);

console.log(`${done} expectations, ${wrong} wrong`);
process.exit(wrong ? 1 : 0);
