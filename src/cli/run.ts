import { fstatSync } from 'node:fs';
import { EXIT } from '../errors.ts';
import type { Context } from './context.ts';
import { asFailure, exitStatusOf, failureText, type Purpose } from './failures.ts';
import { makeProgram } from './program.ts';
import { styleFor } from './style.ts';
import { writeOut } from './write-out.ts';

let purpose: Purpose = 'asking';

/** Runs one command and sets the exit status. */
export async function run(words: readonly string[]): Promise<void> {
  const isTerminal = isTerminalOpen();
  const context: Context = {
    arguments: words,
    environment: process.env,
    workingFolder: process.cwd(),
    // A terminal that does not know its width says 0.
    columns: (isTerminal ? process.stdout.columns : Number(process.env['COLUMNS'])) || undefined,
    style: await styleFor(process.env, isTerminal),
    out: (text) => writeOut(1, text.endsWith('\n') ? text : `${text}\n`),
    note: (text) => writeOut(2, text.endsWith('\n') ? text : `${text}\n`),
    exitStatus: (status) => {
      process.exitCode = status;
    },
    purpose: (given) => {
      purpose = given;
    },
  };
  try {
    const program = await makeProgram(context);
    await program.parseAsync(words, { from: 'user' });
  } catch (error) {
    const told = helpStatus(error);
    if (told !== undefined) {
      process.exitCode = told === 0 ? EXIT.done : EXIT.usage;
      return;
    }
    const failure = asFailure(error, process.env['HELDBY_DEBUG'] === '1');
    context.note(failureText(failure, words.includes('--json')));
    process.exitCode = exitStatusOf(failure.code, purpose);
  }
}

/** Major number of /dev/null and its like on Linux; no terminal has it anywhere. */
const MEMORY_DEVICES = 1;

/** Node makes the whole stream to look at it, which takes longer than many an answer: asked only where it can be one. */
const isTerminalOpen = (): boolean => {
  try {
    const open = fstatSync(1);
    return open.isCharacterDevice() && open.rdev >> 8 !== MEMORY_DEVICES && process.stdout.isTTY === true;
  } catch {
    return false;
  }
};

/** The option reader throws when it has told its help, version or a mistake. */
const helpStatus = (error: unknown): number | undefined =>
  error instanceof Error && 'exitCode' in error && 'code' in error && String(error.code).startsWith('commander.')
    ? Number(error.exitCode)
    : undefined;
