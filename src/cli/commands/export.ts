import { existsSync } from 'node:fs';
import { join, resolve } from 'node:path';
import type { Command } from 'commander';
import { HeldbyError } from '../../errors.ts';
import { type ExportedRecord, exportedRecords, exportOrder } from '../../inquiry/export.ts';
import { findKind, type KindName, kindNamed } from '../../ledger/kinds.ts';
import type { Db } from '../../ledger/open.ts';
import { csvLines, entryCsvLines, jsonLine } from '../../report/export-lines.ts';
import { gathered, makeFolder, writeWhole } from '../../report/write-file.ts';
import { asking, type CommonOptions, type Context } from '../context.ts';
import { common, example, optionsOf, printJson } from '../options.ts';

type ExportOptions = CommonOptions & {
  readonly all?: true;
  readonly format: string;
  readonly out?: string;
  readonly force?: true;
  readonly exact?: true;
};

const FORMATS = ['jsonl', 'csv'] as const;

export function register(program: Command, context: Context): void {
  const command = program
    .command('export')
    .description('write records for other programs, in open formats')
    .argument('[kind]', 'which records: people, entries, objects … (heldby list names them all)')
    .option('--all', 'every record of every kind')
    .option('--format <format>', FORMATS.join(', '), 'jsonl')
    .option('--out <file>', 'write a file; for --all --format csv, a folder with one file a kind')
    .option('--force', 'replace the file if it is there')
    .option('--exact', 'csv: cells as they are recorded, for a program; a spreadsheet may take some for formulas');
  common(command)
    .addHelpText(
      'after',
      example(
        'heldby export --all > ledger.jsonl     (heldby import ledger.jsonl reads it back)',
        'heldby export people --format csv --out people.csv',
      ),
    )
    .action((word: string | undefined) => {
      const options = optionsOf<ExportOptions>(command);
      return asking(context, options, (db) => {
        const kinds = kindsAsked(word, options.all === true);
        const format = formatAsked(options.format);
        if (format === 'csv' && kinds.length > 1) exportFolder(db, kinds, context, options);
        else
          exportOne(
            context,
            options,
            format === 'jsonl' ? jsonLines(db, kinds) : csvOf(db, kinds[0] as KindName, options),
          );
      });
    });
}

function kindsAsked(word: string | undefined, all: boolean): readonly KindName[] {
  if ((word === undefined) !== all)
    throw new HeldbyError(
      'USAGE',
      'Say which kind of records, or --all.',
      'heldby export people   or   heldby export --all',
    );
  if (word === undefined) return exportOrder();
  const kind = findKind(word);
  if (!kind)
    throw new HeldbyError(
      'USAGE',
      `There is no kind of record "${word}".`,
      `One of: ${exportOrder()
        .map((name) => kindNamed(name).plural.replaceAll(' ', '-'))
        .join(', ')}.`,
    );
  return [kind.kind];
}

function formatAsked(format: string): (typeof FORMATS)[number] {
  const found = FORMATS.find((each) => each === format);
  if (found) return found;
  throw new HeldbyError('USAGE', `There is no format "${format}" for records.`, `One of: ${FORMATS.join(', ')}.`);
}

function* jsonLines(db: Db, kinds: readonly KindName[]): Iterable<string> {
  for (const record of exportedRecords(db, kinds)) yield jsonLine(record);
}

const csvOf = (db: Db, kind: KindName, options: ExportOptions): Iterable<string> =>
  kind === 'entry'
    ? entryCsvLines(exportedRecords(db, ['series', 'edition', 'entry']), options.exact !== true)
    : csvLines(kind, exportedRecords(db, [kind]), options.exact !== true);

function exportOne(context: Context, options: ExportOptions, pieces: Iterable<string>): void {
  if (options.out === undefined) {
    for (const bytes of gathered(pieces)) if (bytes.length > 0) context.out(Buffer.from(bytes).toString('utf8'));
    return;
  }
  const path = freePath(context, options, options.out);
  writeWhole(path, pieces);
  acknowledge(context, options, [options.out]);
}

/** One CSV a kind that has any records. */
function exportFolder(db: Db, kinds: readonly KindName[], context: Context, options: ExportOptions): void {
  if (options.out === undefined)
    throw new HeldbyError('USAGE', 'CSV of every kind is several files.', 'Say in which folder: --out FOLDER');
  makeFolder(resolve(context.workingFolder, options.out));
  const written: string[] = [];
  for (const kind of kinds) {
    const some: ExportedRecord[] = [...exportedRecords(db, [kind])].slice(0, 1);
    if (some.length === 0) continue;
    const name = join(options.out, `${kindNamed(kind).plural.replaceAll(' ', '-')}.csv`);
    writeWhole(freePath(context, options, name), csvOf(db, kind, options));
    written.push(name);
  }
  acknowledge(context, options, written);
}

function freePath(context: Context, options: ExportOptions, name: string): string {
  const path = resolve(context.workingFolder, name);
  if (existsSync(path) && options.force !== true)
    throw new HeldbyError('CONFLICT', `${name} exists already.`, 'Give another name, or --force to replace it.');
  return path;
}

function acknowledge(context: Context, options: ExportOptions, files: readonly string[]): void {
  if (options.json) printJson(context, { files });
  else context.out(files.length === 0 ? 'There is nothing to write.' : `Wrote ${files.join(', ')}`);
}
