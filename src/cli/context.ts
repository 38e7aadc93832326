import { userInfo } from 'node:os';
import { HeldbyError } from '../errors.ts';
import type { ActOrigin } from '../ledger/journal.ts';
import type { Db } from '../ledger/open.ts';
import { VERSION } from '../version.ts';
import type { Purpose } from './failures.ts';
import type { Style } from './style.ts';

/** Options that every command takes. */
export type CommonOptions = { readonly ledger?: string; readonly asOf?: string; readonly json?: true };

/** What a command needs of the world around it. */
export type Context = {
  readonly arguments: readonly string[];
  readonly environment: Readonly<Record<string, string | undefined>>;
  readonly workingFolder: string;
  /** Columns to draw in; undefined where the output is no terminal. */
  readonly columns: number | undefined;
  readonly style: Style;
  out(text: string): void;
  note(text: string): void;
  exitStatus(status: number): void;
  /** Set by a command when it knows what it is about; decides what a bad value means. */
  purpose(purpose: Purpose): void;
};

export const WIDTH_WITHOUT_TERMINAL = 80;

export const widthOf = (context: Context): number =>
  Math.max(40, Math.min(context.columns ?? WIDTH_WITHOUT_TERMINAL, 160));

/** Opens the ledger to answer a question, as it stands or as it stood, and closes it whatever happens. */
export async function asking<T>(
  context: Context,
  options: CommonOptions,
  work: (db: Db) => T | Promise<T>,
  mode: 'read' | 'verify' = 'read',
): Promise<T> {
  context.purpose('asking');
  const { findLedger, openLedger, inWords, closeLedger } = await import('../ledger/open.ts');
  const file = findLedger(options.ledger, context.environment['HELDBY_LEDGER'], context.workingFolder);
  const db = openLedger(file, mode);
  try {
    if (options.asOf !== undefined) {
      const { standAsOf } = await import('../ledger/as-of.ts');
      standAsOf(db, actNumber(options.asOf));
    }
    return await work(db);
  } catch (error) {
    throw inWords(error, file);
  } finally {
    closeLedger(db);
  }
}

/** Opens the ledger to record, and leaves it as one file. */
export async function recordingIn<T>(
  context: Context,
  options: CommonOptions,
  work: (db: Db) => T | Promise<T>,
): Promise<T> {
  context.purpose('recording');
  if (options.asOf !== undefined)
    throw new HeldbyError('USAGE', 'The past cannot be recorded in.', 'Leave out --as-of.');
  const { findLedger, openLedger, inWords, closeLedger } = await import('../ledger/open.ts');
  const file = findLedger(options.ledger, context.environment['HELDBY_LEDGER'], context.workingFolder);
  const db = openLedger(file, 'record', context.note);
  try {
    return await work(db);
  } catch (error) {
    throw inWords(error, file);
  } finally {
    closeLedger(db);
  }
}

export function actNumber(text: string): number {
  const number = Number(/^(?:act\s*|a)?([1-9]\d*)$/i.exec(text.trim())?.[1]);
  if (!Number.isInteger(number))
    throw new HeldbyError('USAGE', `"${text}" is no act.`, 'Acts are numbered from 1: heldby history');
  return number;
}

/** Who records, when, and with what command. */
export function originOf(context: Context, why: string | undefined): ActOrigin {
  const who = context.environment['HELDBY_WHO'] || userName();
  return {
    at: new Date().toISOString(),
    who,
    command: ['heldby', ...context.arguments].map(quoted).join(' '),
    why,
    program: VERSION,
  };
}

function userName(): string {
  try {
    return userInfo().username;
  } catch {
    return 'unknown';
  }
}

/** As it would be typed again. */
const quoted = (argument: string): string =>
  /^[\w@%+=:,./-]+$/.test(argument) ? argument : `'${argument.replaceAll("'", "'\\''")}'`;
