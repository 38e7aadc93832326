import { existsSync, rmSync } from 'node:fs';
import { resolve } from 'node:path';
import type { Command } from 'commander';
import { EXIT, HeldbyError } from '../../errors.ts';
import type { Rejected } from '../../intake/accept-good.ts';
import { type Content, type FileImport, formatOf, importFile } from '../../intake/import-file.ts';
import { LIST_FIELDS, type ListField } from '../../intake/list-fields.ts';
import { hasTitleLines } from '../../intake/title-lines.ts';
import type { Sealed } from '../../ledger/journal.ts';
import { findKind, kindNamed } from '../../ledger/kinds.ts';
import type { Db } from '../../ledger/open.ts';
import { readRecord } from '../../ledger/reading-records.ts';
import { type Context, recordingIn } from '../context.ts';
import { dateOptions } from '../date-options.ts';
import type { ForeignOptions } from '../foreign-file.ts';
import { example, optionsOf, printJson, recordingOptions } from '../options.ts';
import { progress } from '../progress.ts';
import { recordAct } from '../record-command.ts';
import { shown, wrapped } from '../text.ts';
import type { Prepared } from './import-content.ts';
import type { Mapping } from './import-mappings.ts';

type ImportOptions = ForeignOptions & {
  readonly map?: string[];
  readonly mapping?: string;
  readonly series?: string;
  readonly service?: string;
  readonly format?: string;
  readonly sheet?: string;
  readonly encoding?: string;
  readonly acceptGood?: true;
  readonly rejects?: string;
  readonly leaveDiffering?: true;
};

/** So many of a sort are named one by one. */
const NAMED = 10;

const collect = (value: string, before: string[] | undefined): string[] => [...(before ?? []), value];

export function register(program: Command, context: Context): void {
  const command = program
    .command('import')
    .description(
      'record a file of list entries (CSV, XLSX) or of records of any kind (JSON Lines, also a bundle or history of another ledger): all of it, or nothing; a file that is known records nothing new',
    )
    .argument('<file>', 'NAME.csv, NAME.xlsx, NAME.jsonl, or - for standard input')
    .option(
      '--map <field=column>',
      'which column of the list is which field, FIELD= for none; may be given again',
      collect as never,
    )
    .option('--mapping <name>', 'the columns kept under this name; with --map, keep them for the next time')
    .option('--series <series>', 'the list that the entries are from, where the file has no column for it')
    .option('--service <service>', 'the service of a list that is made')
    .option('--format <format>', 'csv, xlsx or jsonl, where the name does not tell')
    .option('--sheet <name>', 'the sheet of a spreadsheet; the first unless you say another')
    .option(
      '--encoding <encoding>',
      'how the text is encoded, where it is not UTF-8: windows-1252, latin1, macintosh, utf-16le',
    )
    .option('--accept-good', 'record the good lines; --rejects FILE gets the others, to be mended')
    .option('--rejects <file>', 'where those lines go; it must not exist yet')
    .option('--leave-differing', 'leave out lines that one thing alone tells from a recorded one')
    .option('--questions <file>', 'of another ledger: write what has to be decided to this file')
    .option('--decisions <file>', 'of another ledger: the same file with the decisions')
    .option('--differences <answer>', 'of another ledger: decide everything alike, mine or theirs');
  recordingOptions(dateOptions(command))
    .addHelpText(
      'after',
      `\nFields of a list: ${LIST_FIELDS.join(', ')}.\nColumns of other names are guessed where only one thing can be meant, and told; --dry-run shows it first.\nLines that one thing alone tells from a recorded one are recorded, and told: there may be a slip in one of the two.\nLines left out: exit status 6.${example(
        'heldby import lists.csv',
        'heldby import roster.csv --series "Roster" --map person=person_id --map rank=office --mapping roster',
        'heldby import roster-2.xlsx --mapping roster --accept-good --rejects to-mend.csv',
        'heldby import records.jsonl --dry-run',
      )}`,
    )
    .action((file: string) => {
      const options = optionsOf<ImportOptions>(command);
      context.purpose('recording');
      checkTogether(options, context);
      return recordingIn(context, options, async (db) => recordFile(db, file, options, context));
    });
}

/** @throws HeldbyError USAGE, CONFLICT */
function checkTogether({ acceptGood, rejects }: ImportOptions, context: Context): void {
  if ((acceptGood === true) !== (rejects !== undefined))
    throw new HeldbyError(
      'USAGE',
      acceptGood ? 'It is not said where the lines go that are not good.' : 'Every line is recorded, or none.',
      'Give both: --accept-good --rejects FILE',
    );
  if (rejects !== undefined && existsSync(resolve(context.workingFolder, rejects)))
    throw new HeldbyError(
      'CONFLICT',
      `${rejects} exists already.`,
      'Give another name; heldby never overwrites a file.',
    );
}

type Done = {
  readonly result: FileImport;
  readonly act: Sealed | undefined;
  readonly rejected: readonly Rejected[];
};

async function recordFile(db: Db, file: string, options: ImportOptions, context: Context): Promise<void> {
  const { recordForeign } = await import('../foreign-file.ts');
  if (await recordForeign(db, file, options, context)) return;
  const { mappingNamed, keepMapping } = await import('./import-mappings.ts');
  const given: Mapping = {
    map: new Map((options.map ?? []).map(mapped)),
    series: options.series,
    service: options.service,
  };
  const mapping = options.mapping === undefined ? given : mappingNamed(db.name, options.mapping, given);
  const keeps = options.mapping !== undefined && given.map.size > 0 && options.dryRun !== true;
  const prepared = needsContent(file, options, context.workingFolder)
    ? await prepare(file, options, context)
    : undefined;
  const attempt = (content: Content | undefined) =>
    recordAct(db, context, options, (into) =>
      importFile(into, file, context.workingFolder, {
        mapping: mapping.map,
        series: mapping.series,
        service: mapping.service,
        format: options.format,
        leaveDiffering: options.leaveDiffering === true,
        dryRun: options.dryRun === true,
        keptAs: keeps ? options.mapping : undefined,
        progress,
        ...(content === undefined ? {} : { content }),
      }),
    );
  let done: Done;
  try {
    done =
      prepared?.pieces === undefined
        ? { ...attempt(prepared?.content), rejected: [] }
        : await inPart(file, prepared, attempt, options, context);
  } catch (error) {
    progress('');
    // Which sheet was read may be all that is wrong.
    if (!options.json) for (const note of prepared?.notes ?? []) context.note(note);
    const { withLikelyEncoding } = await import('./import-content.ts');
    throw withLikelyEncoding(error, file, context.workingFolder);
  }
  progress('');
  if (keeps && options.mapping !== undefined)
    try {
      keepMapping(db.name, options.mapping, {
        ...mapping,
        map: new Map([
          ...done.result.guessed.map(({ field, column }): [ListField, string] => [field, column]),
          ...mapping.map,
        ]),
      });
    } catch (error) {
      // What was recorded stands, and must not be told as refused.
      if (!(error instanceof HeldbyError)) throw error;
      context.note(`The columns are not kept as ${options.mapping}: ${error.message}`);
    }
  for (const note of prepared?.notes ?? []) context.note(note);
  tell(db, done, options, context);
}

/** Whether the file has to be looked at as a whole before it is recorded; the code for that is read only then. */
const needsContent = (
  file: string,
  { format, encoding, sheet, acceptGood }: ImportOptions,
  workingFolder: string,
): boolean =>
  acceptGood === true ||
  encoding !== undefined ||
  sheet !== undefined ||
  /\.xlsx?$/i.test(format === undefined ? file : `.${format}`) ||
  (file !== '-' && formatOf(file, format) === 'csv' && hasTitleLines(resolve(workingFolder, file)));

async function prepare(file: string, options: ImportOptions, context: Context): Promise<Prepared | undefined> {
  const { preparedContent } = await import('./import-content.ts');
  return preparedContent(file, context.workingFolder, {
    format: options.format,
    encoding: options.encoding,
    sheet: options.sheet,
    acceptGood: options.acceptGood === true,
  });
}

/** Records the good lines. The others are on the disk before the act is, so that none is ever in neither place. */
async function inPart(
  file: string,
  { pieces, content }: Prepared,
  attempt: (content: Content) => { result: FileImport; act: Sealed | undefined },
  { rejects = '', dryRun }: ImportOptions,
  context: Context,
): Promise<Done> {
  const [{ acceptGood, rejectsText }, { writeWhole }] = await Promise.all([
    import('../../intake/accept-good.ts'),
    import('../../report/write-file.ts'),
  ]);
  const write = (text: string): void => writeWhole(target, [text]);
  if (pieces === undefined) throw new Error('a file that is recorded in part has no lines');
  const target = resolve(context.workingFolder, rejects);
  const { result: done, rejected } = acceptGood(pieces, (bytes, left) => {
    if (left.length > 0 && dryRun !== true) write(rejectsText(pieces, left));
    try {
      return attempt({ bytes, sha256: left.length === 0 ? content.sha256 : undefined, how: content.how });
    } catch (error) {
      if (left.length > 0 && dryRun !== true) rmSync(target, { force: true });
      throw error;
    }
  });
  if (done !== undefined) return { ...done, rejected };
  if (rejected.length > 0 && dryRun !== true) write(rejectsText(pieces, rejected));
  const nothing: FileImport = {
    file,
    added: {},
    known: 0,
    unplaced: 0,
    differing: [],
    knownFile: false,
    notes: [],
    guessed: [],
  };
  return { result: nothing, act: undefined, rejected };
}

function tell(db: Db, { result, act, rejected }: Done, options: ImportOptions, context: Context): void {
  const leftOut = (options.leaveDiffering ? result.differing.length : 0) + rejected.length;
  if (leftOut > 0) context.exitStatus(EXIT.unresolved);
  if (options.json) {
    printJson(context, {
      act: options.dryRun ? null : (act?.id ?? null),
      ...(options.dryRun ? { dryRun: true } : {}),
      ...result,
      new: newOf(result),
      rejected: rejected.map(({ line, says }) => ({ line, says })),
      rejects: rejected.length > 0 && !options.dryRun ? options.rejects : null,
    });
    return;
  }
  for (const note of result.notes) noteWrapped(note, context);
  for (const { line, id, field, value } of result.differing.slice(0, NAMED)) {
    const recorded = readRecord(db, kindNamed('entry'), Number(id.slice(1)))?.fields[field] ?? 'nothing';
    context.note(
      `Line ${line} ${options.leaveDiffering ? 'is not recorded: it' : 'is recorded, and'} differs from ${id} in its ${field === 'dated' ? 'date of rank' : field}, ${shown(value === '' ? 'nothing' : value)} (recorded: ${shown(String(recorded))}).`,
    );
  }
  if (result.differing.length > NAMED) context.note(`… and ${result.differing.length - NAMED} more lines that differ`);
  if (result.differing.length > 0)
    context.note(
      'If one of the two is a slip, correct the record (heldby amend ID FIELD VALUE --why …), or undo the import and give it again with --leave-differing.',
    );
  for (const { line, says } of rejected.slice(0, NAMED))
    noteWrapped(`Line ${line} is to be mended: ${shown(says)}`, context);
  if (rejected.length > NAMED) context.note(`… and ${rejected.length - NAMED} more`);
  if (rejected.length > 0)
    context.note(
      options.dryRun
        ? 'Nothing was written.'
        : `${rejected.length} ${rejected.length === 1 ? 'line' : 'lines'} to mend: ${options.rejects}`,
    );
  const said = inWords(result, rejected.length);
  if (result.knownFile)
    context.out(`Nothing new to record: ${result.file} is recorded already, with all that it holds`);
  else if (act === undefined) context.out(`Nothing new to record: ${said}`);
  else context.out(options.dryRun ? `Would be recorded: ${said}` : `Recorded in act ${act.id}: ${said}`);
  if (result.unplaced > 0 && act !== undefined && !options.dryRun)
    context.note(
      `${result.unplaced === 1 ? 'One entry is' : `${result.unplaced} entries are`} nobody’s yet, and it is people who are asked about.\nNext: heldby careers   (puts entries together into people)`,
    );
}

/** A terminal breaks lines inside words; a script that reads them wants them whole. */
const noteWrapped = (text: string, context: Context): void =>
  context.note(context.columns === undefined ? text : wrapped(text, context.columns).join('\n'));

function mapped(pair: string): [ListField, string] {
  const at = pair.indexOf('=');
  const field = pair.slice(0, Math.max(at, 0)).trim() as ListField;
  if (at < 1 || !LIST_FIELDS.includes(field))
    throw new HeldbyError(
      'USAGE',
      `--map ${pair} is not understood.`,
      `Write --map FIELD=COLUMN; fields: ${LIST_FIELDS.join(', ')}.`,
    );
  return [field, pair.slice(at + 1).trim()];
}

/** Lines of a list that became entries; of records, all of them. */
const newOf = ({ added }: FileImport): number =>
  Object.hasOwn(added, 'editions') &&
  Object.hasOwn(added, 'entries') &&
  Object.hasOwn(added, 'people') &&
  Object.keys(added).length === 3
    ? (added['entries'] ?? 0)
    : Object.values(added).reduce((sum, count) => sum + count, 0);

/** "lists.csv: 214 new, 83 known, 3 differ (2 editions, 214 entries)". */
function inWords(result: FileImport, rejected: number): string {
  const { added, known, differing, file } = result;
  const parts = Object.entries(added)
    .filter(([, count]) => count > 0)
    .map(([plural, count]) => `${count} ${count === 1 ? singular(plural) : plural}`);
  const lines = [
    ...(newOf(result) > 0 || known + differing.length + rejected === 0 ? [`${newOf(result)} new`] : []),
    ...(known > 0 ? [`${known} known`] : []),
    ...(differing.length > 0 ? [`${differing.length} ${differing.length === 1 ? 'differs' : 'differ'}`] : []),
    ...(rejected > 0 ? [`${rejected} to mend`] : []),
  ];
  return `${file}: ${lines.join(', ')}${parts.length > 0 ? ` (${parts.join(', ')})` : ''}`;
}

const singular = (plural: string): string => findKind(plural)?.called.replace(/^an? /, '') ?? plural.replace(/s$/, '');
