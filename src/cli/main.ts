import { fstatSync, writeSync } from 'node:fs';
import { EXIT, HeldbyError } from '../errors.ts';
import { VERSION } from '../version.ts';
import type { Context } from './context.ts';
import { asFailure, exitStatusOf, failureText, type Purpose } from './failures.ts';
import { styleFor } from './style.ts';

let purpose: Purpose = 'asking';

/** Whole texts in one go, waiting where a pipe is full; a reader that has gone (`| head`) is no fault. */
function write(descriptor: 1 | 2, text: string): void {
  const bytes = Buffer.from(text, 'utf8');
  for (let at = 0; at < bytes.length; ) {
    try {
      at += writeSync(descriptor, bytes, at);
    } catch (error) {
      const code = error instanceof Error && 'code' in error ? error.code : undefined;
      if (code === 'EAGAIN') {
        Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 5);
        continue;
      }
      if (code === 'EPIPE') process.exit(EXIT.done);
      throw new HeldbyError(
        'CANNOT_WRITE',
        'The answer could not be written out.',
        'Look at the disk or pipe that it was sent to. What was acknowledged in the journal stands: heldby history',
      );
    }
  }
}

/** Runs one command and sets the exit status. */
export async function main(words: readonly string[] = process.argv.slice(2)): Promise<void> {
  if (words.length === 1 && (words[0] === '--version' || words[0] === '-V')) {
    write(1, `${VERSION}\n`);
    return;
  }
  const isTerminal = isTerminalOpen();
  const context: Context = {
    arguments: words,
    environment: process.env,
    workingFolder: process.cwd(),
    // A terminal that does not know its width says 0.
    columns: (isTerminal ? process.stdout.columns : Number(process.env['COLUMNS'])) || undefined,
    style: await styleFor(process.env, isTerminal),
    out: (text) => write(1, text.endsWith('\n') ? text : `${text}\n`),
    note: (text) => write(2, text.endsWith('\n') ? text : `${text}\n`),
    exitStatus: (status) => {
      process.exitCode = status;
    },
    purpose: (given) => {
      purpose = given;
    },
  };
  try {
    // Read only now: the version is told without any of it.
    const { makeProgram } = await import('./program.ts');
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

/** For the build: what a question, and a shell that completes lines, have no time to work out. */
export const keepSchema = async (folder: string): Promise<void> =>
  (await import('../ledger/schema.ts')).keepSchema(folder);
export const keepCommands = async (folder: string): Promise<void> =>
  (await import('./keep-commands.ts')).keepCommands(folder);
