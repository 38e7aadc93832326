import { fstatSync, writeSync } from 'node:fs';
import { CommanderError } from 'commander';
import { EXIT, HeldbyError } from '../errors.ts';
import type { Context } from './context.ts';
import { asFailure, exitStatusOf, failureText, type Purpose } from './failures.ts';
import { makeProgram } from './program.ts';
import { styleFor } from './style.ts';

const arguments_ = process.argv.slice(2);
let purpose: Purpose = 'asking';

const context: Context = {
  arguments: arguments_,
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

process.on('SIGINT', () => {
  write(2, 'heldby: interrupted; what was not acknowledged was not recorded.');
  process.exit(EXIT.interrupted);
});

try {
  fstatSync(1);
  const program = await makeProgram(context);
  await program.parseAsync(arguments_, { from: 'user' });
} catch (error) {
  if (error instanceof CommanderError) {
    process.exitCode = error.exitCode === 0 ? EXIT.done : EXIT.usage;
  } else {
    const failure = asFailure(error, process.env['HELDBY_DEBUG'] === '1');
    context.note(failureText(failure, arguments_.includes('--json')));
    process.exitCode = failure instanceof HeldbyError ? exitStatusOf(failure.code, purpose) : EXIT.unforeseen;
  }
}
