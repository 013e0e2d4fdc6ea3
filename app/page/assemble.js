// Puts the parts of the page into one file. Usage: node assemble.js WORK OUT
import fs from 'node:fs';
import path from 'node:path';
import url from 'node:url';
import zlib from 'node:zlib';

const [work, out] = process.argv.slice(2), here = path.dirname(url.fileURLToPath(import.meta.url)), house = path.join(here, '../..');
const read = (...parts) => fs.readFileSync(path.join(...parts), 'utf8');

// What stands inside a script element must not end it.
function forScript(text, name) {
  const safe = text.replace(/<\/script/gi, '<\\/script').replace(/<!--/g, '<\\!--');
  if (/<\/script|<!--/i.test(safe)) throw new Error(`${name} cannot stand inside a script element`);
  return safe;
}

const library = fs.readdirSync(path.join(house, 'materials/library')).filter((name) => name.endsWith('.json')).sort()
  .map((name) => ({ name, text: read(house, 'materials/library', name) }));
const module_ = zlib.gzipSync(fs.readFileSync(path.join(work, 'wasm/bench.wasm')), { level: 9 });
const parts = {
  STYLE: read(here, 'src/style.css'),
  SCRIPT: forScript(read(work, 'npm/page.js'), 'page.js'),
  WORKER: forScript(`${read(work, 'wasm/bench.js')}\n${read(work, 'npm/worker.js')}`, 'worker.js'),
  LIBRARY: JSON.stringify(library).replace(/</g, '\\u003c'),
  MODULE: module_.toString('base64'),
};
let page = read(here, 'src/index.html');
for (const [name, text] of Object.entries(parts)) page = page.replace(`/*${name}*/`, () => text);
fs.writeFileSync(`${out}.part`, page);
fs.renameSync(`${out}.part`, out);
const packed = zlib.gzipSync(page, { level: 9 }).length;
console.log(`${out}: ${(page.length / 1e6).toFixed(2)} MB, ${(packed / 1e6).toFixed(2)} MB compressed`);
