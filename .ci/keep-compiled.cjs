// After the build: keeps what the ledger's format declares, runs the everyday commands once on a ledger of their own, and
// keeps what V8 compiled for them.
'use strict';
const { mkdtempSync, readFileSync, rmSync, writeFileSync } = require('node:fs');
const { tmpdir } = require('node:os');
const { join } = require('node:path');

const folder = mkdtempSync(join(tmpdir(), 'heldby-build-'));
const built = join(__dirname, '..', 'dist', 'heldby.cjs');
// In ASCII the file is read as it is; every other sign is written as its code, which in strings and patterns is the same.
const source = readFileSync(built, 'utf8');
const ascii = source.replace(/[\u0080-\uffff]/g, (sign) => `\\u${sign.charCodeAt(0).toString(16).padStart(4, '0')}`);
writeFileSync(built, ascii, 'latin1');

const list = [
  'edition,as_at,person,name,rank,corps,dated,page',
  '1834,1834-01-01,a,J. P. Ferrand,Lieut.,2nd Fencibles,16 May 1833,213',
  '1836,1836-01-01,a,J. P. Ferrand,Captain,2nd Fencibles,8 Feb. 1835,210',
  '1836,1836-01-01,b,"Holt, Anne Mary",Lieut.,3rd Fencibles,c. 1835,x',
];
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
  ['list', 'people'],
  ['show', 'a'],
];

async function keep() {
  process.setMaxListeners(0); // each command listens for an interruption; here they all run in one process
  process.chdir(folder);
  process.env.HELDBY_LEDGER = join(folder, 'l.sqlite');
  writeFileSync('l.csv', list.join('\n'));
  process.argv = [process.argv[0], built, '--version'];
  const { script, main, keepSchema } = require('../bin/heldby.js');
  await keepSchema(join(__dirname, '..', 'dist'));
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
  writeFileSync(`${built}.cache`, script.createCachedData());
}

keep().finally(() => rmSync(folder, { recursive: true, force: true }));
