#!/usr/bin/env node
// The launcher: nothing but the way to the built program. What V8 made of the program when it was built lies beside it,
// so that a command does not compile it again; without it, or under another Node, the program only starts more slowly.
'use strict';
const { readFileSync } = require('node:fs');
const { dirname, join } = require('node:path');
const { setFlagsFromString } = require('node:v8');
const { Script, constants } = require('node:vm');

// A question is answered before most of what V8 would optimise for it is used again: it waits four times as long with it
// as it would, which costs a long computation next to nothing.
setFlagsFromString('--interrupt-budget=500000');

const file = join(__dirname, '..', 'dist', 'heldby.cjs');

function read(path, encoding) {
  try {
    return readFileSync(path, encoding);
  } catch {
    return undefined;
  }
}

/** Modules of Node's that a question never uses, or late: loaded when something of them is. */
const LATE = ['node:crypto', 'node:tty', 'node:url', 'node:worker_threads'];
const late = (name) => {
  if (!LATE.includes(name)) return require(name);
  return new Proxy(
    {},
    { get: (_, key) => require(name)[key], has: (_, key) => key in require(name), ownKeys: () => [] },
  );
};

const source = read(file, 'latin1');
if (source === undefined) {
  process.stderr.write('heldby is not built yet.\nRun in its folder: npm start\n');
  process.exitCode = 1;
} else {
  const script = new Script(`(function (exports, require, module, __filename, __dirname) { ${source}\n})`, {
    filename: file,
    cachedData: read(`${file}.cache`),
    importModuleDynamically: constants.USE_MAIN_CONTEXT_DEFAULT_LOADER,
  });
  const program = { exports: {} };
  script.runInThisContext()(program.exports, late, program, file, dirname(file));
  // Everything is written by then; to go at once does not wait for what V8 is still compiling on the side.
  if (require.main === module) program.exports.main().then(() => process.exit());
  else module.exports = { script, ...program.exports };
}
