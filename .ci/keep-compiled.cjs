// After the build: keeps what the ledger's format declares, runs the everyday commands once on a ledger of their own, and
// keeps what V8 compiled for them.
'use strict';
const { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } = require('node:fs');
const { tmpdir } = require('node:os');
const { join } = require('node:path');

const folder = mkdtempSync(join(tmpdir(), 'heldby-build-'));
const dist = join(__dirname, '..', 'dist');
// In ASCII the file is read as it is; every other sign is written as its code, which in strings and patterns is the same.
for (const name of readdirSync(dist).filter((name) => name.endsWith('.cjs'))) {
  const source = readFileSync(join(dist, name), 'utf8');
  const ascii = source.replace(/[\u0080-\uffff]/g, (sign) => `\\u${sign.charCodeAt(0).toString(16).padStart(4, '0')}`);
  const program = name.includes('worker')
    ? ascii
    : `(function (exports, require, module, __filename, __dirname) { ${ascii}\n})`;
  writeFileSync(join(dist, name), program, 'latin1');
}

const list = [
  'edition,as_at,person,name,rank,corps,dated,page',
  '1834,1834-01-01,a,J. P. Ferrand,Lieut.,2nd Fencibles,16 May 1833,213',
  '1836,1836-01-01,a,J. P. Ferrand,Captain,2nd Fencibles,8 Feb. 1835,210',
  '1836,1836-01-01,b,"Holt, Anne Mary",Lieut.,3rd Fencibles,c. 1835,x',
];
// So many surnames that they are searched as those of a great ledger are.
const SYLLABLES = ['ba', 'cor', 'den', 'fer', 'gil', 'har', 'lo', 'mun', 'per', 'rad'];
for (const a of SYLLABLES)
  for (const b of SYLLABLES)
    for (const c of SYLLABLES) list.push(`1838,1838-01-01,,J. ${a.toUpperCase()}${b}${c},Lieut.,2nd Fencibles,,1`);
const COMMANDS = [
  ['init', 'l.sqlite'],
  ['series', 'add', 'List', '--service', 'army', '--lag', '60'],
  ['import', 'l.csv', '--series', 'List'],
  ['object', 'add', '1', '--title', 'Slope'],
  ['feature', 'add', '1', 'screws', '--window', '../1850'],
  ['mark', 'add', '1', 'Lieut. J. Ferr[..]d', '--role', 'owner'],
  ['when', '16 May 1834'],
  ['tenures', 'a'],
  ['candidates', 'm1'],
  ['candidates', '--text', 'Lieut. J. Ferr[..]d', '--between', '1833', '1838'],
  ['candidates', '--text', 'Fer[..]nd', '--between', '1833', '1838'],
  ['candidates', '--text', 'Ferand'],
  ['list', 'people'],
  ['show', 'a'],
];

async function keep() {
  process.setMaxListeners(0); // each command listens for an interruption; here they all run in one process
  process.chdir(folder);
  process.env.HELDBY_LEDGER = join(folder, 'l.sqlite');
  writeFileSync('l.csv', list.join('\n'));
  process.argv = [process.argv[0], join(dist, 'heldby.cjs'), '--version'];
  const { loaded, main, keepSchema } = require('../bin/heldby.js');
  await keepSchema(dist);
  const { writeSync } = require('node:fs');
  const fs = require('node:fs');
  fs.writeSync = (_descriptor, bytes) => bytes.length; // the answers themselves are not wanted
  for (const words of COMMANDS) {
    await main(words);
    if (process.exitCode) {
      fs.writeSync = writeSync;
      throw new Error(`the built program fails: heldby ${words.join(' ')} ended with ${process.exitCode}`);
    }
  }
  fs.writeSync = writeSync;
  for (const [name, { script }] of loaded) writeFileSync(join(dist, `${name}.cache`), script.createCachedData());
}

keep().finally(() => rmSync(folder, { recursive: true, force: true }));
