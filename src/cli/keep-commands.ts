import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { FIGURES } from '../inquiry/grounds-figures.ts';
import { COMMANDS_FILE, FIGURES_FILE, treeOf } from './command-tree.ts';
import type { Context } from './context.ts';
import { makeProgram } from './program.ts';
import { PLAIN } from './style.ts';

const NOWHERE: Context = {
  arguments: ['--help'], // for which all commands are read
  environment: {},
  workingFolder: '/',
  columns: undefined,
  style: PLAIN,
  out: () => undefined,
  note: () => undefined,
  exitStatus: () => undefined,
  purpose: () => undefined,
};

/** Keeps beside the program what can be typed, for the one that completes lines. */
export async function keepCommands(folder: string): Promise<void> {
  writeFileSync(join(folder, COMMANDS_FILE), JSON.stringify(treeOf(await makeProgram(NOWHERE))));
  writeFileSync(join(folder, FIGURES_FILE), JSON.stringify(FIGURES));
}
