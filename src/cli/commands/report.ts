import { readFileSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import type { Command } from 'commander';
import { EXIT, HeldbyError } from '../../errors.ts';
import { withKeys } from '../../inquiry/keys.ts';
import { lotQuestions } from '../../inquiry/lot-questions.ts';
import { objectNamed } from '../../inquiry/object-marks.ts';
import { lotsInOrder, reportOf } from '../../inquiry/report.ts';
import type { LotReport } from '../../inquiry/report-lot.ts';
import { timelineOf } from '../../inquiry/timeline.ts';
import type { Db } from '../../ledger/open.ts';
import { lastActId } from '../../ledger/undo.ts';
import { writeBatch } from '../../report/batch.ts';
import { closing, type LotToPrint } from '../../report/compose.ts';
import { indexedLot, indexPage, openList } from '../../report/index-page.ts';
import { everyPhrase } from '../../report/phrases.ts';
import { ENDINGS, holdsPicture, type Printer, printerOf, type ReportFormat } from '../../report/print.ts';
import { defaultStyle, readStyle, STYLE_KEYS, type Style } from '../../report/style.ts';
import { wordsOf } from '../../report/words.ts';
import { actNumber, asking, type CommonOptions, type Context, widthOf } from '../context.ts';
import { changedLots, lotLines } from '../lot-changes.ts';
import { common, example, optionsOf, printJson } from '../options.ts';
import { wrapped } from '../text.ts';

type ReportOptions = CommonOptions & {
  readonly all?: true;
  readonly format?: string;
  readonly out?: string;
  readonly style?: string;
  readonly strict?: true;
  readonly since?: string;
  readonly open?: true;
  readonly styleKeys?: true;
  readonly phrases?: true;
};

export function register(program: Command, context: Context): void {
  const command = program
    .command('report')
    .description(
      'what goes to the catalogue: date, attribution and provenance of a lot, with grounds, notes and cautions',
    )
    .argument('[object...]', 'objects by their reference, key or id')
    .option('--all', 'every object of the ledger')
    .option('--format <format>', `${Object.keys(ENDINGS).join(', ')} (text unless you say another)`)
    .option('--out <folder>', 'one file a lot and an index in this folder; only what changed is written')
    .option('--style <file>', 'the style of the house, a JSON file; --style-keys explains it')
    .option('--since <act>', 'not the reports, but what differs in them since the state after this act')
    .option('--open', 'only the list of what is still open, with the next step')
    .option('--strict', 'exit status 6 when a lot is unresolved')
    .option('--style-keys', 'explain every key of a style file')
    .option('--phrases', 'print every phrase with its name, as JSON');
  common(command)
    .addHelpText(
      'after',
      example('heldby report 214', 'heldby report --all --format html --out catalogue --style house.json --strict'),
    )
    .action((objects: readonly string[]) => {
      const options = optionsOf<ReportOptions>(command);
      if (options.styleKeys) return explainStyle(context, options);
      if (options.phrases) return printJson(context, everyPhrase());
      const format = formatOf(options);
      const style = styleOf(context, options.style);
      return asking(context, options, async (db) => {
        const lots = lotsAsked(db, objects, options);
        if (options.since !== undefined) return printChanges(db, lots, style, context, options);
        const asked: Asked = { db, names: lots, format, style, print: await printerOf(format), options };
        if (options.out !== undefined) writeFolder(asked, context);
        else printLots(asked, context);
      });
    });
}

function formatOf({ format, json }: ReportOptions): ReportFormat {
  if (format === undefined) return json ? 'json' : 'text';
  if (!Object.hasOwn(ENDINGS, format))
    throw new HeldbyError('USAGE', `There is no format "${format}".`, `One of: ${Object.keys(ENDINGS).join(', ')}.`);
  return format as ReportFormat;
}

function lotsAsked(db: Db, objects: readonly string[], { all }: ReportOptions): readonly string[] {
  if ((objects.length === 0) !== (all === true))
    throw new HeldbyError('USAGE', 'Say which objects, or --all.', 'heldby report 214   or   heldby report --all');
  return all ? lotsInOrder(db) : objects;
}

function styleOf(context: Context, file: string | undefined): Style {
  if (file === undefined) return defaultStyle();
  const path = resolve(context.workingFolder, file);
  return readStyle(textOf(path, file), (name) => textOf(resolve(dirname(path), name), name));
}

function textOf(path: string, given: string): string {
  try {
    return readFileSync(path, 'utf8');
  } catch {
    throw new HeldbyError('USAGE', `${given} cannot be read.`, 'Look at its name, folder and rights.', given);
  }
}

const asOfOf = ({ asOf }: ReportOptions): number | undefined => (asOf === undefined ? undefined : actNumber(asOf));

type Asked = {
  readonly db: Db;
  readonly names: readonly string[];
  readonly format: ReportFormat;
  readonly style: Style;
  readonly print: Printer;
  readonly options: ReportOptions;
};

function printLots({ db, names, format, style, print, options }: Asked, context: Context): void {
  if (format === 'docx' && !options.open)
    throw new HeldbyError('USAGE', 'A document for word processors is no text to print.', 'Say where: --out FOLDER');
  const given = names.map((name) => lotToPrint(db, name, format, style, options));
  const lots = given.map(({ lot }) => lot);
  const columns = options.style === undefined && context.columns !== undefined ? widthOf(context) : style.columns;
  if (options.open) {
    const words = wordsOf(style);
    const indexed = lots.map((lot) => indexedLot(lot, words, null));
    if (format === 'json') context.out(indexPage(indexed, words, 'json', lots[0] ? closing(lots[0], words) : ''));
    else context.out(openList(indexed, words, columns));
  } else context.out(Buffer.from(print.lots(given, { ...style, columns })).toString('utf8'));
  endStrictly(lots, style, context, options);
}

/** One lot, with its calendar where the form holds one; both from the same answers. */
function lotToPrint(db: Db, name: string, format: ReportFormat, style: Style, options: ReportOptions): LotToPrint {
  const ask = lotQuestions(db);
  try {
    const lot = withKeys(db, reportOf(db, name, asOfOf(options), ask));
    return { lot, timeline: holdsPicture(format, style) ? timelineOf(db, lot.object.id, ask) : undefined };
  } catch (error) {
    if (!(error instanceof HeldbyError) || error.code === 'REFERENCE' || error.code === 'AMBIGUOUS') throw error;
    throw new HeldbyError(error.code, error.message, error.hint, `object ${name}`);
  }
}

function writeFolder({ db, names, format, style, print, options }: Asked, context: Context): void {
  const words = wordsOf(style);
  const ending = ENDINGS[format];
  const progress = progressOf(names.length);
  // Read first, one after the other: the references give the names of the files.
  const given = names.map((name, place) => {
    progress(place);
    return lotToPrint(db, name, format, style, options);
  });
  const lots = given.map(({ lot }) => lot);
  progress(names.length);
  const folder = resolve(context.workingFolder, options.out ?? '.');
  const result = writeBatch(
    folder,
    ending,
    given.map((each) => ({
      ref: each.lot.object.ref,
      bytes: () => print.lots([each], style),
    })),
    (files) => {
      const indexed = lots.map((lot, place) => indexedLot(lot, words, files[place] ?? null));
      const end = lots[0] === undefined ? '' : closing(lots[0], words);
      return [{ name: `index.${ending}`, bytes: print.index(indexed, words, end, lots[0]?.about.date ?? '') }];
    },
  );
  if (options.json) printJson(context, { folder: options.out, ...result });
  else {
    const counted = `${result.written.length} written, ${result.unchanged} unchanged`;
    context.out(`${counted}: ${options.out}`);
  }
  endStrictly(lots, style, context, options);
}

/** What differs in the reports since an earlier state, lot by lot. */
function printChanges(
  db: Db,
  names: readonly string[],
  style: Style,
  context: Context,
  options: ReportOptions,
): Promise<void> {
  const since = actNumber(options.since ?? '');
  const after = { db, act: asOfOf(options) ?? lastActId(db) };
  const wanted = options.all ? undefined : names.map((name) => `o${objectNamed(db, name).id}`);
  return asking(context, { ...options, asOf: String(since) }, (then) => {
    const lots = changedLots({ db: then, act: since }, after, wanted, style);
    const words = wordsOf(style);
    if (options.json || options.format === 'json') printJson(context, { from: since, to: after.act, lots });
    else context.out(lotLines(lots, words, widthOf(context), context.style.strong).join('\n').replace(/^\n/, ''));
  });
}

/** One line on a terminal, written over and over; nothing elsewhere. */
function progressOf(count: number): (done: number) => void {
  if (!process.stderr.isTTY || count < 2) return () => undefined;
  return (done) => {
    process.stderr.write(done < count ? `\r${done} of ${count} lots` : `\r${' '.repeat(30)}\r`);
  };
}

function endStrictly(lots: readonly LotReport[], style: Style, context: Context, { strict }: ReportOptions): void {
  if (!strict) return;
  const words = wordsOf(style);
  const unresolved = lots.filter((lot) => indexedLot(lot, words, null).unresolved);
  if (unresolved.length === 0) return;
  context.note(
    `Unresolved: ${unresolved.map(({ object }) => object.ref).join(', ')}. What is open, with the next step: heldby report --all --open`,
  );
  context.exitStatus(EXIT.unresolved);
}

function explainStyle(context: Context, { json }: ReportOptions): void {
  if (json) {
    printJson(context, STYLE_KEYS);
    return;
  }
  const width = widthOf(context);
  const lines = STYLE_KEYS.flatMap(({ key, meaning, default: otherwise }) => [
    context.style.strong(key),
    ...wrapped(`${meaning}.`, width - 4).map((line) => `    ${line}`),
    ...wrapped(`unless said: ${JSON.stringify(otherwise)}`, width - 4).map((line) =>
      context.style.faint(`    ${line}`),
    ),
  ]);
  context.out(lines.join('\n'));
}
