#!/usr/bin/env node
// The launcher: nothing but the way to the built program.
import { existsSync } from 'node:fs';

const built = new URL('../dist/cli.js', import.meta.url);
if (existsSync(built)) await import(built.href);
else {
  process.stderr.write('heldby is not built yet.\nRun in its folder: npm start\n');
  process.exitCode = 1;
}
