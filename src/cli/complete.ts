import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { COMMANDS_FILE, type CommandTree, FIGURES_FILE, type FigureNames } from './command-tree.ts';
import { completionLines } from './completions.ts';
import { writeOut } from './write-out.ts';

/**
 * `heldby completion words SHELL -- WORDS` as a program of its own: somebody waits for it at every press of a key, and of
 * all that the commands are made of it needs nothing but what can be typed, which the build keeps.
 */
export async function main(words: readonly string[] = process.argv.slice(4)): Promise<void> {
  const [shell = 'bash', ...line] = words.filter((word, at) => at !== 1 || word !== '--');
  const kept = (file: string): unknown => JSON.parse(readFileSync(join(import.meta.dirname, file), 'utf8'));
  const commands = kept(COMMANDS_FILE) as CommandTree;
  const around = {
    environment: process.env,
    workingFolder: process.cwd(),
    figures: async () => kept(FIGURES_FILE) as FigureNames,
  };
  const lines = await completionLines(commands, [shell, ...line], around);
  if (lines !== '') writeOut(1, `${lines}\n`);
}
