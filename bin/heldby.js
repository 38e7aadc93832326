#!/usr/bin/env node
// The launcher: nothing but the way to the built program. What V8 made of the program when it was built lies beside it,
// so that a command does not compile it again; without it, or under another Node, the program only starts more slowly.
'use strict';
const { existsSync, readFileSync } = require('node:fs');
const { join } = require('node:path');
const { Script, constants } = require('node:vm');

// A question is answered before most of what V8 would optimise for it is used again: it waits seven times as long with it
// as it would, which costs a long computation next to nothing. And its room for new objects grows fourfold at once: what
// it would copy at each smaller step is mostly still in use.
v8().setFlagsFromString('--interrupt-budget=500000 --semi-space-growth-factor=4');

/** What sets V8's flags, without the twenty modules for streams that node:v8 brings along and no question uses. */
function v8() {
  const { noDeprecation } = process;
  try {
    process.noDeprecation = true; // Node advises against the short way; where it is gone there is the long one
    return process.binding('v8');
  } catch {
    return require('node:v8');
  } finally {
    process.noDeprecation = noDeprecation;
  }
}

const built = join(__dirname, '..', 'dist');
const [, , command, word] = process.argv;
/** What V8 compiled is kept twice: for the main question by itself, which needs half of it, and for all others. */
const KEPT = command === 'candidates' ? '.candidates.cache' : '.cache';

function read(path) {
  try {
    return readFileSync(path);
  } catch {
    return undefined;
  }
}

/** Modules of Node's that a question never uses, or late: loaded when something of them is. */
const LATE = ['node:crypto', 'node:tty', 'node:url', 'node:worker_threads'];
const late = (name) =>
  new Proxy({}, { get: (_, key) => require(name)[key], has: (_, key) => key in require(name), ownKeys: () => [] });

/** What has been loaded of the built program, by the names of its files. */
const loaded = new Map();

function load(name) {
  const known = loaded.get(name);
  if (known !== undefined) return known.module.exports;
  const file = join(built, name);
  const script = new Script(readFileSync(file, 'latin1'), {
    filename: file,
    cachedData: read(`${file}${KEPT}`),
    importModuleDynamically: constants.USE_MAIN_CONTEXT_DEFAULT_LOADER,
  });
  const module = { exports: {} };
  loaded.set(name, { script, module });
  script.runInThisContext()(module.exports, required, module, file, built);
  return module.exports;
}

function required(name) {
  if (name.startsWith('./')) return load(name.slice(2));
  return LATE.includes(name) ? late(name) : require(name);
}

if (require.main !== module) module.exports = { load, loaded, KEPT };
else {
  // What a shell asks at every TAB is a small program of its own.
  const name = command === 'completion' && word === 'words' ? 'complete.cjs' : 'heldby.cjs';
  if (existsSync(join(built, name))) {
    // Everything is written when it ends; to go at once does not wait for what V8 is still compiling on the side.
    load(name)
      .main()
      .then(() => process.exit());
  } else {
    process.stderr.write('heldby is not built yet.\nRun in its folder: npm start\n');
    process.exitCode = 1;
  }
}
