import { VERSION } from '../version.ts';
import { writeOut } from './write-out.ts';

/** Where the program starts: what it is called by, the version, is told without reading the rest of it. */
export async function main(words: readonly string[] = process.argv.slice(2)): Promise<void> {
  if (words.length === 1 && (words[0] === '--version' || words[0] === '-V')) writeOut(1, `${VERSION}\n`);
  else await (await import('./run.ts')).run(words);
}

/** For the build: what a question, and a shell that completes lines, have no time to work out. */
export const keepSchema = async (folder: string): Promise<void> =>
  (await import('../ledger/schema.ts')).keepSchema(folder);
export const keepCommands = async (folder: string): Promise<void> =>
  (await import('./keep-commands.ts')).keepCommands(folder);
