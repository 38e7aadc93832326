import type { Command } from 'commander';
import { format } from 'date-fns/format';
import { HeldbyError } from '../../errors.ts';
import { type Borne, type ListedRecord, listOf, type RecordAnswer, recordShown } from '../../inquiry/records.ts';
import { actsAbout } from '../../ledger/acts-about.ts';
import { findKind, KINDS, kindNamed, parseId } from '../../ledger/kinds.ts';
import { resolveAny } from '../../ledger/refs.ts';
import { type ActRow, actsNewestFirst } from '../../ledger/undo.ts';
import { actNumber, asking, type CommonOptions, type Context, widthOf } from '../context.ts';
import { nearestOf } from '../nearest.ts';
import { common, example, optionsOf, printAnswer, printCsv, printJson } from '../options.ts';
import { fitted, shown, table, wrapped } from '../text.ts';

type ListOptions = CommonOptions & { readonly where?: string[]; readonly limit?: string; readonly csv?: true };

const LISTED = 200;
const collect = (value: string, before: string[] | undefined): string[] => [...(before ?? []), value];

export function register(program: Command, context: Context): void {
  const show = program
    .command('show')
    .description('one record: what it says, who recorded it, and what rests on it')
    .argument('<record>', 'its id, key, or words that pick it out');
  common(show)
    .addHelpText('after', example('heldby show p1', 'heldby show 214'))
    .action((words: string) => {
      const options = optionsOf<CommonOptions>(show);
      return asking(context, options, (db) => {
        const answer = recordShown(db, words);
        if (options.json) printAnswer(context, db, { ...answer, acts: answer.acts.map(actInAnswer) });
        else context.out(recordInLines(answer, context).join('\n'));
      });
    });

  const list = program
    .command('list')
    .description('the records of one kind')
    .argument(
      '<kind>',
      `people, editions, entries, objects, marks, searches … (${KINDS.map(({ plural }) => plural.replaceAll(' ', '-')).join(', ')})`,
    )
    .option('--where <field=value>', 'only those whose field holds these words; may be given again', collect as never)
    .option('--limit <number>', `how many to list (${LISTED} unless you say another)`)
    .option('--csv', 'print CSV');
  common(list)
    .addHelpText('after', example('heldby list people', 'heldby list entries --where edition=1834'))
    .action((name: string) => {
      const options = optionsOf<ListOptions>(list);
      return asking(context, options, (db) => {
        const kind = findKind(name);
        if (!kind) {
          const plurals = KINDS.map(({ plural }) => plural.replaceAll(' ', '-'));
          const near = nearestOf(name, plurals);
          throw new HeldbyError(
            'USAGE',
            `There is no kind of record "${name}".`,
            `${near === undefined ? '' : `Did you mean ${near}? `}One of: ${plurals.join(', ')}.`,
          );
        }
        const limit =
          options.limit === undefined
            ? options.json || options.csv
              ? Number.MAX_SAFE_INTEGER
              : LISTED
            : Number(options.limit);
        if (!Number.isInteger(limit) || limit < 1)
          throw new HeldbyError(
            'USAGE',
            `"${options.limit}" is no number of records.`,
            'Give a whole number, such as --limit 50.',
          );
        const found = listOf(db, kind, (options.where ?? []).map(filter), limit);
        if (options.json) printAnswer(context, db, found);
        else if (options.csv) context.out(csv(found.records));
        else {
          context.out(
            listInLines(found.records, widthOf(context), context).join('\n') || `There are no ${kind.plural}.`,
          );
          if (found.total > found.records.length)
            context.note(`${found.records.length} of ${found.total}; --limit N shows more.`);
        }
      });
    });

  const history = program
    .command('history')
    .description(
      'what was done, newest first; or everything that was done to one record and to what says more of it: marks, readings, names, who is the same',
    )
    .argument('[record]', 'its id or key')
    .option('--limit <number>', 'how many acts (50 unless you say another)')
    .option('--csv', 'print CSV');
  common(history)
    .addHelpText('after', example('heldby history', 'heldby history e410', 'heldby history 214'))
    .action((words: string | undefined) => {
      const options = optionsOf<CommonOptions & { readonly limit?: string; readonly csv?: true }>(history);
      return asking(context, options, (db) => {
        const limit = options.limit === undefined ? 50 : Number(options.limit);
        if (!Number.isInteger(limit) || limit < 1)
          throw new HeldbyError(
            'USAGE',
            `"${options.limit}" is no number of acts.`,
            'Give a whole number, such as --limit 50.',
          );
        const through = options.asOf === undefined ? undefined : actNumber(options.asOf);
        let acts: ActRow[];
        let isOfLot = false;
        if (words === undefined) acts = actsNewestFirst(db, limit, through);
        else {
          const id = parseId(/^[a-z]{1,2}\d+$/.test(words) ? words : resolveAny(db, words));
          if (!id)
            throw new HeldbyError('REFERENCE', `There is no record ${words}.`, 'Use an id such as p12, m3, e410.');
          const all = actsAbout(db, id.kind, id.row).filter((act) => through === undefined || act.id <= through);
          if (all.length === 0)
            throw new HeldbyError(
              'REFERENCE',
              `There never was a record ${words}.`,
              'Use an id such as p12, m3, e410.',
            );
          acts = all.slice(0, limit);
          isOfLot = id.kind.kind === 'object' || id.kind.kind === 'mark';
        }
        if (options.json) printJson(context, { acts: acts.map(actInAnswer) });
        else if (options.csv) printCsv(context, ACT_COLUMNS, acts.map(actInAnswer));
        else
          context.out(acts.flatMap((act) => actInLines(act, context)).join('\n') || 'Nothing has been recorded yet.');
        if (isOfLot && !options.json && !options.csv)
          context.note(
            `How the lots have read since, and with which act the lead went over: heldby changes ${acts.at(-1)?.id}`,
          );
      });
    });
}

function filter(pair: string): { field: string; value: string } {
  const at = pair.indexOf('=');
  if (at < 1)
    throw new HeldbyError(
      'USAGE',
      `--where ${pair} is not understood.`,
      'Write --where FIELD=WORDS, such as --where surname=Ferrand.',
    );
  return { field: pair.slice(0, at).trim(), value: pair.slice(at + 1).trim() };
}

const said = (value: unknown): string => (Array.isArray(value) ? value.join(', ') : String(value));

function recordInLines({ record, borne, about, acts, resting, neighbours }: RecordAnswer, context: Context): string[] {
  const { strong, faint } = context.style;
  const width = widthOf(context);
  const rows = Object.entries(record.fields).map(([name, value]) => [
    name,
    shown(said(value)) + (about[name] === undefined ? '' : faint(`  ${shown(about[name])}`)),
  ]);
  const lines = [
    `${strong(`${kindNamed(record.type as 'person').called.replace(/^an? /, '')}  ${record.id}`)}${record.key === null ? '' : faint(`  key ${shown(record.key)}`)}`,
    ...table(rows).map((line) => `  ${line}`),
  ];
  if (borne !== undefined) lines.push('', ...wrapped(borneInWords(borne), width));
  for (const { title, items } of neighbours)
    lines.push('', strong(title), ...items.map((item) => `  ${fitted(shown(item), width - 2)}`));
  if (resting.length > 0)
    lines.push(
      '',
      ...wrapped(
        `On it rest: ${resting.slice(0, 40).join(' ')}${resting.length > 40 ? ` … and ${resting.length - 40} more` : ''}`,
        width,
      ),
    );
  lines.push('', ...acts.flatMap((act) => actInLines(act, context)));
  return lines;
}

function borneInWords({ person, link, why }: Borne): string {
  if (person === null && link === null) return 'Nobody’s yet. Who it may be: heldby careers';
  const who = person === null ? 'Taken from everybody' : `Borne by ${shown(person.name)} (${person.id})`;
  if (link === null) return `${who}, as it was recorded.`;
  return `${who}, by decision ${link}${why === null ? '' : `: ${shown(why)}`}. To take it back: heldby withdraw ${link} --why TEXT`;
}

function listInLines(records: readonly ListedRecord[], width: number, context: Context): string[] {
  const idWidth = Math.max(0, ...records.map(({ id }) => id.length));
  return records.map(
    ({ id, called }) => `${context.style.strong(id.padEnd(idWidth))}  ${fitted(shown(called), width - idWidth - 2)}`,
  );
}

const ACT_COLUMNS = ['id', 'at', 'who', 'command', 'why', 'program', 'rows', 'undoes', 'void', 'hash'] as const;

const actInAnswer = ({ hash, undoes, void: isVoid, ...act }: ActRow) => ({
  ...act,
  undoes,
  void: isVoid === 1,
  hash: hash.toString('hex'),
});

function actInLines(act: ActRow, context: Context): string[] {
  const { strong, faint, doubtful } = context.style;
  const state = [...(act.void === 1 ? ['undone'] : []), ...(act.undoes === null ? [] : [`undoes act ${act.undoes}`])];
  const width = widthOf(context);
  return [
    `${strong(`act ${act.id}`)}  ${format(new Date(act.at), 'd MMM yyyy HH:mm')}  ${shown(act.who)}${state.length > 0 ? doubtful(`  (${state.join(', ')})`) : ''}`,
    ...wrapped(shown(act.command), width - 2).map((line) => faint(`  ${line}`)),
    // The command often says it itself.
    ...(act.why === null || act.command.includes(act.why)
      ? []
      : wrapped(`why: ${shown(act.why)}`, width - 2).map((line) => `  ${line}`)),
  ];
}

/** RFC 4180; every field that a spreadsheet could take for a formula is led by an apostrophe. */
function csv(records: readonly ListedRecord[]): string {
  const columns = [
    'id',
    'key',
    ...new Set(records.flatMap(({ fields }) => Object.keys(fields))),
    ...(records.some(({ borneBy }) => borneBy !== undefined) ? ['borneBy'] : []),
  ];
  const cell = (value: unknown): string => {
    const text = value === undefined || value === null ? '' : said(value);
    const safe = /^[=+\-@\t\r]/.test(text) ? `'${text}` : text;
    return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
  };
  const rows = records.map((record) =>
    columns.map((column) =>
      cell(
        column === 'id' || column === 'key' || column === 'borneBy' ? (record[column] ?? null) : record.fields[column],
      ),
    ),
  );
  return [columns, ...rows].map((row) => row.join(',')).join('\r\n');
}
