import { existsSync } from 'node:fs';
import { join, resolve } from 'node:path';
import type { Command } from 'commander';
import { HeldbyError } from '../../errors.ts';
import { type ExportedRecord, exportedRecords, exportOrder } from '../../inquiry/export.ts';
import type { KindName } from '../../ledger/kind.ts';
import { findKind, kindNamed } from '../../ledger/kinds.ts';
import type { Db } from '../../ledger/open.ts';
import { layPhotos, photoHashes, photosFolder } from '../../ledger/photos.ts';
import { csvLines, entryCsvLines, jsonLine } from '../../report/export-lines.ts';
import { safeJson } from '../../report/safe-text.ts';
import { gathered, makeFolder, writeWhole } from '../../report/write-file.ts';
import { actNumber, asking, type CommonOptions, type Context } from '../context.ts';
import { common, example, optionsOf, printJson } from '../options.ts';

type ExportOptions = CommonOptions & {
  readonly all?: true;
  readonly format: string;
  readonly out?: string;
  readonly force?: true;
  readonly exact?: true;
  readonly base?: string;
  readonly living?: true;
  readonly acts?: true;
};

const FORMATS = ['jsonl', 'csv', 'linked-art', 'csl-json', 'sqlite-plain'] as const;
type Format = (typeof FORMATS)[number];

export function register(program: Command, context: Context): void {
  const command = program
    .command('export')
    .description('write records for other programs, in open formats')
    .argument('[kind]', 'which records: people, entries, objects … (heldby list names them all)')
    .option('--all', 'every record of every kind')
    .option('--format <format>', FORMATS.join(', '), 'jsonl')
    .option('--out <file>', 'write a file; for --all --format csv, a folder with one file a kind')
    .option('--force', 'replace the file if it is there')
    .option('--acts', 'jsonl of everything: the whole history, act by act, to be read into an empty ledger')
    .option('--base <address>', 'linked-art: where your documents lie, such as https://house.example/ledger/')
    .option('--living', 'linked-art: name people who may be living, too')
    .option('--exact', 'csv: cells as they are recorded, for a program; a spreadsheet may take some for formulas');
  common(command)
    .addHelpText(
      'after',
      example(
        'heldby export --all > ledger.jsonl     (heldby import ledger.jsonl reads it back)',
        'heldby export --all --acts > history.jsonl     (with who, when and why)',
        'heldby export people --format csv --out people.csv',
        'heldby export objects --format linked-art --base https://house.example/ledger/',
        'heldby export --all --format sqlite-plain --out plain.sqlite',
      ),
    )
    .action((word: string | undefined) => {
      const options = optionsOf<ExportOptions>(command);
      return asking(context, options, async (db) => {
        const kinds = kindsAsked(word, options.all === true);
        const format = formatAsked(options.format);
        if (options.acts && (format !== 'jsonl' || options.all !== true))
          throw new HeldbyError('USAGE', 'A history is JSON Lines of everything.', 'heldby export --all --acts');
        if (format === 'sqlite-plain') return exportDatabase(db, context, options);
        if (format === 'csv' && kinds.length > 1) return exportFolder(db, kinds, context, options);
        const photos = format === 'jsonl' && kinds.includes('photo') ? layPictures(db, context, options) : 0;
        exportOne(context, options, await linesOf(db, format, kinds, options), photos);
      });
    });
}

/** What a format needs is read only when it is asked for. */
async function linesOf(
  db: Db,
  format: Exclude<Format, 'sqlite-plain'>,
  kinds: readonly KindName[],
  options: ExportOptions,
): Promise<Iterable<string>> {
  switch (format) {
    case 'jsonl': {
      if (!options.acts) return jsonLines(db, kinds);
      const { historyLines } = await import('../../inquiry/export-history.ts');
      return textLines(historyLines(db, options.asOf === undefined ? undefined : actNumber(options.asOf)));
    }
    case 'csv':
      return csvOf(db, kinds[0] as KindName, options);
    case 'csl-json': {
      const { cslItems } = await import('../../report/csl.ts');
      return jsonList(cslItems(exportedRecords(db, [...new Set<KindName>(['series', ...kinds])])));
    }
    case 'linked-art': {
      const { linkedDocuments } = await import('../linked-documents.ts');
      return jsonList(linkedDocuments(db, kinds, options));
    }
  }
}

function* textLines(items: Iterable<unknown>): Iterable<string> {
  for (const item of items) yield `${safeJson(item)}\n`;
}

/** A list as JSON, one item a line. */
function* jsonList(items: Iterable<unknown>): Iterable<string> {
  let before = '[\n';
  for (const item of items) {
    yield `${before}${safeJson(item)}`;
    before = ',\n';
  }
  yield before === '[\n' ? '[]\n' : '\n]\n';
}

async function exportDatabase(db: Db, context: Context, options: ExportOptions): Promise<void> {
  if (options.out === undefined)
    throw new HeldbyError('USAGE', 'A database is no text to print.', 'Say which file: --out plain.sqlite');
  const { plainTables } = await import('../../inquiry/export-plain.ts');
  const { PLAIN_VIEWS, writePlainDatabase } = await import('../../ledger/plain-database.ts');
  writePlainDatabase(freePath(context, options, options.out), plainTables(db), PLAIN_VIEWS);
  acknowledge(context, options, [options.out]);
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

function formatAsked(format: string): Format {
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

/** Pictures go beside the file, where an import finds them again. @returns how many. */
function layPictures(db: Db, context: Context, options: ExportOptions): number {
  const { out } = options;
  const hashes = photoHashes(db);
  if (hashes.length === 0) return 0;
  if (out === undefined) {
    context.note('The pictures are not in the text: with --out FILE they are laid beside it.');
    return 0;
  }
  const { laid, missing } = layPhotos(db.name, freePath(context, options, out), hashes);
  if (missing > 0) context.note(`${missing} of the pictures cannot be found beside the ledger: heldby verify`);
  return laid;
}

function exportOne(context: Context, options: ExportOptions, pieces: Iterable<string>, photos: number): void {
  if (options.out === undefined) {
    for (const bytes of gathered(pieces)) if (bytes.length > 0) context.out(Buffer.from(bytes).toString('utf8'));
    return;
  }
  const path = freePath(context, options, options.out);
  writeWhole(path, pieces);
  acknowledge(context, options, [options.out, ...(photos > 0 ? [photosFolder(options.out)] : [])]);
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
