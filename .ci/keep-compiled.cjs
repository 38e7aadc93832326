// After the build: keeps what the ledger's format declares, runs the everyday commands once on a ledger of their own, and
// keeps what V8 compiled for them.
'use strict';
const { spawnSync } = require('node:child_process');
const fs = require('node:fs');
const { tmpdir } = require('node:os');
const { join } = require('node:path');

const dist = join(__dirname, '..', 'dist');

/** In ASCII the file is read as it is; every other sign is written as its code, which in strings and patterns is the same. */
function makeReady() {
  for (const name of fs.readdirSync(dist).filter((name) => name.endsWith('.cjs'))) {
    const source = fs.readFileSync(join(dist, name), 'utf8');
    const ascii = source.replace(
      /[\u0080-\uffff]/g,
      (sign) => `\\u${sign.charCodeAt(0).toString(16).padStart(4, '0')}`,
    );
    const program = name.includes('worker')
      ? ascii
      : `(function (exports, require, module, __filename, __dirname) { ${ascii}\n})`;
    fs.writeFileSync(join(dist, name), program, 'latin1');
  }
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
const RECORDED = [
  ['init', 'l.sqlite'],
  ['series', 'add', 'List', '--service', 'army', '--lag', '60'],
  ['import', 'l.csv', '--series', 'List'],
  ['object', 'add', '1', '--title', 'Slope'],
  ['feature', 'add', '1', 'screws', '--window', '../1850'],
  ['mark', 'add', '1', 'Lieut. J. Ferr[..]d', '--role', 'owner'],
];
const MAIN_QUESTION = [
  ['candidates', 'm1'],
  ['candidates', '--text', 'Lieut. J. Ferr[..]d', '--between', '1833', '1838'],
  ['candidates', '--text', 'Fer[..]nd', '--between', '1833', '1838'],
  ['candidates', '--text', 'Ferand'],
];
const QUESTIONS = [['when', '16 May 1834'], ['tenures', 'a'], ...MAIN_QUESTION, ['list', 'people'], ['show', 'a']];
const COMPLETIONS = [['can'], ['entry', 'add', '--ra'], ['tenures', 'Fer'], ['show', 'm'], ['made', '1']];

/** Runs a command; its answer is not wanted. */
async function run(program, words) {
  const { writeSync } = fs;
  fs.writeSync = (_descriptor, bytes) => bytes.length;
  await program.main(words);
  fs.writeSync = writeSync;
  if (process.exitCode)
    throw new Error(`the built program fails: heldby ${words.join(' ')} ended with ${process.exitCode}`);
}

/** Keeps what is compiled of every file that was loaded; all of it is loaded anew afterwards. */
function keepCompiled({ loaded, KEPT }) {
  for (const [name, { script }] of loaded) fs.writeFileSync(join(dist, `${name}${KEPT}`), script.createCachedData());
  loaded.clear();
}

async function keepAll() {
  makeReady();
  const folder = fs.mkdtempSync(join(tmpdir(), 'heldby-build-'));
  try {
    process.chdir(folder);
    process.env.HELDBY_LEDGER = join(folder, 'l.sqlite');
    fs.writeFileSync('l.csv', list.join('\n'));
    const launcher = require('../bin/heldby.js');
    const program = launcher.load('heldby.cjs');
    await program.keepSchema(dist);
    for (const words of RECORDED) await run(program, words);
    // In a process of its own: V8 keeps whatever the process has compiled.
    const { status } = spawnSync(process.execPath, [__filename, 'candidates'], { stdio: 'inherit' });
    if (status !== 0) throw new Error('what the main question compiles cannot be kept');
    for (const words of QUESTIONS) await run(program, words);
    keepCompiled(launcher);
    await program.keepCommands(dist); // behind that: it reads every command there is
    const completing = launcher.load('complete.cjs');
    for (const words of COMPLETIONS) await run(completing, ['bash', '--', ...words]);
    keepCompiled(launcher);
  } finally {
    fs.rmSync(folder, { recursive: true, force: true });
  }
}

async function keepMainQuestion() {
  const launcher = require('../bin/heldby.js');
  const program = launcher.load('heldby.cjs');
  for (const words of MAIN_QUESTION) await run(program, words);
  keepCompiled(launcher);
}

process.setMaxListeners(0); // each command listens for an interruption; here they all run in one process
if (process.argv[2] === undefined) keepAll();
else keepMainQuestion();
