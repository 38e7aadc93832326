#!/usr/bin/env node
// The launcher: nothing but the way to the built program. What V8 made of the program when it was built lies beside it,
// so that a command does not compile it again; without it, or under another Node, the program only starts more slowly.
'use strict';
const { readFileSync } = require('node:fs');
const { createRequire } = require('node:module');
const { dirname, join } = require('node:path');
const { Script, constants } = require('node:vm');

const file = join(__dirname, '..', 'dist', 'heldby.cjs');

function read(path) {
  try {
    return readFileSync(path);
  } catch {
    return undefined;
  }
}

const source = read(file);
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
  script.runInThisContext()(program.exports, createRequire(file), program, file, dirname(file));
  if (require.main === module) program.exports.main();
  else module.exports = { script, main: program.exports.main };
}
