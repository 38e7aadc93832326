import type { Command } from 'commander';
import { withKeys } from '../inquiry/keys.ts';
import type { Db } from '../ledger/open.ts';
import { type CsvCell, csvLine } from '../report/csv.ts';
import type { CommonOptions, Context } from './context.ts';

/** Adds the options that every command takes, also behind the command's own name. */
export const common = (command: Command): Command =>
  command
    .option('--ledger <file>', 'the ledger to use')
    .option('--as-of <act>', 'answer as the ledger stood after that act')
    .option('--json', 'print JSON');

/** For commands that record. */
export const recordingOptions = (command: Command): Command =>
  common(command)
    .option('--why <text>', 'the reason, kept in the journal')
    .option('--key <key>', 'your own stable name for the record')
    .option('--dry-run', 'say what would be recorded, and record nothing');

/** The options of a command with those given before its name. */
export const optionsOf = <T extends CommonOptions>(command: Command): T => command.optsWithGlobals() as T;

/** One line an example, at the end of the help. */
export const example = (...lines: string[]): string =>
  `\nExample:\n${lines.map((line) => `  ${line}`).join('\n')}\n\nExit status: as for every command, see heldby --help.`;

export const printJson = (context: Context, value: unknown): void => context.out(JSON.stringify(value, null, 2));

/** A list as CSV, safe for a spreadsheet: the columns are the fields named. */
export const printCsv = <T extends string>(
  context: Context,
  columns: readonly T[],
  rows: readonly Readonly<Partial<Record<T, CsvCell>>>[],
): void =>
  context.out(
    [columns, ...rows.map((row) => columns.map((each) => row[each]))].map((cells) => csvLine(cells)).join(''),
  );

/** An answer on records of a ledger: the key of each stands beside its id. */
export const printAnswer = (context: Context, db: Db, value: unknown): void => printJson(context, withKeys(db, value));
