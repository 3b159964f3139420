// Makes one HTML file of a shell, the program's JavaScript and its WebAssembly:
//   node pack.mjs SHELL.html PROGRAM.js PROGRAM.wasm OUT.html
// The WebAssembly is packed by gzip, which every browser with WebGL 2 and WebAssembly's exceptions unpacks by itself. The
// scripts are named by their hashes in the content security policy, so that no other can run.
import { createHash } from 'node:crypto';
import { readFileSync, writeFileSync } from 'node:fs';
import { gzipSync } from 'node:zlib';

const [shell, script, wasm, out] = process.argv.slice(2);
const program = readFileSync(script, 'utf8').replaceAll('</script', '<\\/script');
const packed = gzipSync(readFileSync(wasm), { level: 9 }).toString('base64');
let html = readFileSync(shell, 'utf8')
  .replace('{{PROGRAM}}', () => program)
  .replace('{{WASM}}', () => packed);
const hashes = [...html.matchAll(/<script(?: type="text\/plain" id="program")?>([^]*?)<\/script>/g)].map(
  ([, text]) => `'sha256-${createHash('sha256').update(text).digest('base64')}'`);
html = html.replace('{{HASHES}}', hashes.join(' '));
writeFileSync(out, html);
