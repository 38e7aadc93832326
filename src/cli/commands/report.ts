import { readFileSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import type { Command } from 'commander';
import { EXIT, HeldbyError } from '../../errors.ts';
import { objectNamed } from '../../inquiry/object-marks.ts';
import { lotsInOrder } from '../../inquiry/report.ts';
import type { Db } from '../../ledger/open.ts';
import { lastActId } from '../../ledger/undo.ts';
import { closing } from '../../report/compose.ts';
import { type IndexedLot, indexedLot, indexPage, openList } from '../../report/index-page.ts';
import { everyPhrase } from '../../report/phrases.ts';
import { ENDINGS, holdsPhotographs, holdsPicture, printerOf, type ReportFormat } from '../../report/print.ts';
import { defaultStyle, readStyle, STYLE_KEYS, type Style } from '../../report/style.ts';
import { wordsOf } from '../../report/words.ts';
import { actNumber, asking, type CommonOptions, type Context, widthOf } from '../context.ts';
import { changedLots, lotLines } from '../lot-changes.ts';
import { lotsInThreads } from '../lot-threads.ts';
import { type LotAsked, lotToPrint } from '../lot-to-print.ts';
import { common, example, optionsOf, printJson } from '../options.ts';
import { type Form, writeFolder } from '../report-folder.ts';
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
    .option(
      '--format <format>',
      `${Object.keys(ENDINGS).join(', ')} (text unless you say another); with --out several with commas, or all`,
    )
    .option(
      '--out <folder>',
      'one file a lot and an index in this folder: only what changed, put in place when all of it is made; a run that is cut short at that is finished by the next',
    )
    .option('--style <file>', 'the style of the house, a TOML or JSON file; --style-keys explains it')
    .option('--since <act>', 'not the reports, but what differs in them since the state after this act')
    .option('--open', 'only the list of what is still open, with the next step')
    .option('--strict', 'exit status 6 when a lot is unresolved')
    .option('--style-keys', 'explain every key of a style file')
    .option('--phrases', 'print every phrase with its name, as JSON');
  common(command)
    .addHelpText(
      'after',
      example(
        'heldby report 214',
        'heldby report --all --format html,docx --out catalogue --style house.toml --strict',
      ),
    )
    .action((objects: readonly string[]) => {
      const options = optionsOf<ReportOptions>(command);
      if (options.styleKeys) return explainStyle(context, options);
      if (options.phrases) return printJson(context, everyPhrase());
      const formats = formatsOf(options);
      const style = styleOf(context, options.style);
      return asking(context, options, async (db) => {
        const lots = lotsAsked(db, objects, options);
        if (options.since !== undefined) return printChanges(db, lots, style, context, options);
        const forms: Form[] = [];
        for (const format of formats) forms.push({ format, printer: await printerOf(format) });
        const asked: Asked = { db, names: lots, forms, style, options };
        if (options.out !== undefined) writeLots(asked, options.out, context);
        else printLots(asked, context);
      });
    });
}

function formatsOf({ format, json, out }: ReportOptions): ReportFormat[] {
  const known = Object.keys(ENDINGS) as ReportFormat[];
  if (format === undefined) return [json && out === undefined ? 'json' : 'text'];
  if (format === 'all' && out !== undefined) return known;
  const wanted = [...new Set(format.split(','))];
  const unknown = wanted.find((each) => !Object.hasOwn(ENDINGS, each));
  if (unknown !== undefined)
    throw new HeldbyError('USAGE', `There is no format "${unknown}".`, `One of: ${known.join(', ')}.`);
  if (wanted.length > 1 && out === undefined)
    throw new HeldbyError('USAGE', 'Several formats make several files.', 'Say where: --out FOLDER');
  return wanted as ReportFormat[];
}

function lotsAsked(db: Db, objects: readonly string[], { all }: ReportOptions): readonly string[] {
  if ((objects.length === 0) !== (all === true))
    throw new HeldbyError('USAGE', 'Say which objects, or --all.', 'heldby report 214   or   heldby report --all');
  return all ? lotsInOrder(db) : objects;
}

function styleOf(context: Context, file: string | undefined): Style {
  if (file === undefined) return defaultStyle();
  const path = resolve(context.workingFolder, file);
  return readStyle(textOf(path, file), file, (name) => textOf(resolve(dirname(path), name), name));
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
  readonly forms: readonly Form[];
  readonly style: Style;
  readonly options: ReportOptions;
};

function printLots({ db, names, forms, style, options }: Asked, context: Context): void {
  const [form] = forms;
  if (form === undefined) return;
  const { format, printer } = form;
  if (format === 'docx' && !options.open)
    throw new HeldbyError('USAGE', 'A document for word processors is no text to print.', 'Say where: --out FOLDER');
  const given = names.map((name) => lotToPrint(db, name, askedOf(forms, style, options)));
  const lots = given.map(({ lot }) => lot);
  const columns = options.style === undefined && context.columns !== undefined ? widthOf(context) : style.columns;
  if (options.open) {
    const words = wordsOf(style);
    const indexed = lots.map((lot) => indexedLot(lot, words, null));
    if (format === 'json') context.out(indexPage(indexed, words, 'json', lots[0] ? closing(lots[0], words) : ''));
    else context.out(openList(indexed, words, columns));
  } else context.out(Buffer.from(printer.lots(given, { ...style, columns })).toString('utf8'));
  const words = wordsOf(style);
  endStrictly(
    lots.map((lot) => indexedLot(lot, words, null)),
    context,
    options,
  );
}

/** One file a lot and form, and an index. */
function writeLots({ db, names, forms, style, options }: Asked, folder: string, context: Context): void {
  const refs = names.map((name) => objectNamed(db, name).ref);
  const lots = lotsInThreads(db, names, askedOf(forms, style, options));
  try {
    const { lots: indexed, ...result } = writeFolder(
      resolve(context.workingFolder, folder),
      forms,
      style,
      refs,
      lots.at,
    );
    if (result.finished.length > 0)
      context.note(
        `A run before this one was cut short: ${result.finished.length} of its files were put in their places first.`,
      );
    if (options.json) printJson(context, { folder, ...result });
    else context.out(`${result.written.length} written, ${result.unchanged} unchanged: ${folder}`);
    endStrictly(indexed, context, options);
  } finally {
    lots.close();
  }
}

const askedOf = (forms: readonly Form[], style: Style, options: ReportOptions): LotAsked => ({
  withPicture: forms.some(({ format }) => holdsPicture(format, style)),
  withPhotographs: forms.some(({ format }) => holdsPhotographs(format, style)),
  asOf: asOfOf(options),
});

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

function endStrictly(
  lots: readonly Pick<IndexedLot, 'ref' | 'unresolved'>[],
  context: Context,
  { strict }: ReportOptions,
): void {
  if (!strict) return;
  const unresolved = lots.filter((lot) => lot.unresolved);
  if (unresolved.length === 0) return;
  context.note(
    `Unresolved: ${unresolved.map(({ ref }) => ref).join(', ')}. What is open, with the next step: heldby report --all --open`,
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
