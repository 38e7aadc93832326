import { writeSync } from 'node:fs';
import { CommanderError } from 'commander';
import { EXIT } from '../errors.ts';
import type { Context } from './context.ts';
import { asFailure, exitStatusOf, failureText, type Purpose } from './failures.ts';
import { makeProgram } from './program.ts';
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
      throw error;
    }
  }
}

/** Runs one command and sets the exit status. */
export async function main(words: readonly string[] = process.argv.slice(2)): Promise<void> {
  process.on('SIGINT', interrupted);
  const context: Context = {
    arguments: words,
    environment: process.env,
    workingFolder: process.cwd(),
    columns: process.stdout.isTTY ? process.stdout.columns : Number(process.env['COLUMNS']) || undefined,
    style: await styleFor(process.env, process.stdout.isTTY === true),
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
    const program = await makeProgram(context);
    await program.parseAsync(words, { from: 'user' });
  } catch (error) {
    if (error instanceof CommanderError) {
      process.exitCode = error.exitCode === 0 ? EXIT.done : EXIT.usage;
      return;
    }
    const failure = asFailure(error, process.env['HELDBY_DEBUG'] === '1');
    context.note(failureText(failure, words.includes('--json')));
    process.exitCode = exitStatusOf(failure.code, purpose);
  }
}

function interrupted(): void {
  write(2, 'heldby: interrupted; what was not acknowledged was not recorded.\n');
  process.exit(EXIT.interrupted);
}
