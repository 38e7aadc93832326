import type { Command } from 'commander';
import { HeldbyError } from '../../errors.ts';
import { aboutAnswer } from '../../inquiry/about.ts';
import { type SearchCell, type SearchesAnswer, searchesOf } from '../../inquiry/searches.ts';
import { csvLine } from '../../report/csv.ts';
import { actNumber, asking, type CommonOptions, type Context, widthOf } from '../context.ts';
import { common, example, optionsOf, printAnswer } from '../options.ts';
import { fitted, padded, shown, wrapped } from '../text.ts';

type SearchesOptions = CommonOptions & {
  readonly person?: readonly string[];
  readonly limit?: string;
  readonly csv?: true;
};

/** People shown where nobody is named. */
const SHOWN = 30;

const collect = (value: string, before: string[] | undefined): string[] => [...(before ?? []), value];

export function register(program: Command, context: Context): void {
  const command = program
    .command('searches')
    .description(
      'what was looked up in a series: who is listed in which edition, who was not found, where nobody has looked',
    )
    .argument('[series]', 'its id, key or name; the only one there is unless you say')
    .option('--person <person>', 'somebody to show; may be given again', collect as never)
    .option('--limit <number>', `how many people to show where none is named (${SHOWN} unless you say another)`)
    .option('--csv', 'print CSV: a line for each person, a column for each edition');
  common(command)
    .addHelpText(
      'after',
      `
A nil search is read by all else that is known: where a gap of the service can
hold it (before it, after it, between two posts) it is a gap, and bounds the
tenures; where none can, the printer left the name out. Nil searches and sweeps
themselves: heldby list searches
${example('heldby searches', 'heldby searches "Coast Survey" --person "Julian Peter Ferrand" --person p7')}`,
    )
    .action((words: string | undefined) => {
      const options = optionsOf<SearchesOptions>(command);
      return asking(context, options, (db) => {
        const answer = searchesOf(db, words, {
          people: options.person ?? [],
          limit: options.limit === undefined ? SHOWN : wholeNumber(options.limit),
        });
        if (options.json) {
          const asOf = options.asOf === undefined ? undefined : actNumber(options.asOf);
          printAnswer(context, db, { ...answer, about: aboutAnswer(db, asOf) });
        } else if (options.csv) context.out(csvOf(answer));
        else context.out(searchesInLines(answer, context).join('\n'));
      });
    });
}

function wholeNumber(text: string): number {
  if (!/^[1-9]\d{0,5}$/.test(text))
    throw new HeldbyError('USAGE', `"${text}" is no number of people.`, 'Give a whole number, such as --limit 50.');
  return Number(text);
}

const stateOf = ({ state, reading }: SearchCell): string => (reading === null ? state : `${state} (${reading})`);

function csvOf({ editions, people }: SearchesAnswer): string {
  const header = csvLine(['person', 'id', ...editions.map(({ label }) => label)]);
  const lines = people.map(({ person, cells }) =>
    csvLine([
      person.name,
      person.id,
      ...cells.map((cell) => (cell.rank === null ? stateOf(cell) : `${stateOf(cell)}: ${cell.rank}`)),
    ]),
  );
  return [header, ...lines].join('').trimEnd();
}

/** One sign for each cell: what was seen, and how a nil search is read. */
function signOf({ state, reading }: SearchCell): string {
  if (state === 'listed') return reading === null ? '■' : '◪';
  if (state === 'swept') return '□';
  if (state === 'not looked') return '·';
  switch (reading) {
    case 'printer':
    case 'likely break':
      return '×';
    case 'before':
    case 'after':
    case 'between':
      return '○';
    default:
      return '?';
  }
}

const LEGEND =
  '■ listed  ○ not found: a gap  × not found: an omission of the printer  ? not found: not to be told  □ every bearer of the surname taken down, and not among them  ◪ listed, though a search did not find it  · not yet looked at';

const MOST_LABEL = 28;

function searchesInLines(answer: SearchesAnswer, context: Context): string[] {
  const { strong, faint, doubtful } = context.style;
  const width = widthOf(context);
  const { series, editions, people, peopleBeyond } = answer;
  const lines = [strong(shown(`${series.name}  ${series.id}`))];
  if (editions.length === 0)
    return [...lines, '', `It has no edition yet: heldby edition add ${series.id} LABEL --as-at DATE`];
  if (people.length === 0) return [...lines, '', 'Nobody is recorded in it yet, and nobody was looked for.'];
  const labels = people.map(({ person }) => fitted(shown(`${person.name}  ${person.id}`), MOST_LABEL));
  const labelWidth = Math.max(...labels.map((label) => label.length));
  const columns = Math.max(1, width - labelWidth - 2);
  for (let from = 0; from < editions.length; from += columns) {
    const part = editions.slice(from, from + columns);
    lines.push(
      '',
      ...upright(part.map(({ label }) => shown(label))).map((line) => faint(`${' '.repeat(labelWidth)}  ${line}`)),
    );
    for (const [at, { cells }] of people.entries())
      lines.push(
        `${padded(labels[at] ?? '', labelWidth)}  ${cells
          .slice(from, from + columns)
          .map(signOf)
          .join('')}`,
      );
  }
  lines.push('', ...wrapped(LEGEND, width).map(faint));
  for (const { person, cells, listed, notFound, notLooked } of people) {
    const told = cells.flatMap((cell, at) => (cell.says === null ? [] : [{ cell, label: editions[at]?.label ?? '' }]));
    if (told.length === 0) continue;
    lines.push(
      '',
      `${strong(shown(`${person.name}  ${person.id}`))}  ${faint(`listed in ${listed}, not found in ${notFound}, not looked at in ${notLooked}`)}`,
    );
    for (const { cell, label } of told) {
      const paint = cell.reading === 'printer' || cell.reading === 'likely break' ? doubtful : (text: string) => text;
      lines.push(
        ...wrapped(`${shown(label)}: not found, ${shown(cell.says ?? '')}  ${cell.ids.join(' ')}`, width - 2).map(
          (line) => paint(`  ${line}`),
        ),
      );
    }
  }
  if (peopleBeyond > 0) lines.push('', faint(`… and ${peopleBeyond} more people: --limit N, or --person P`));
  return lines;
}

/** Labels written from above downwards, each over its own column, their ends level. */
function upright(labels: readonly string[]): string[] {
  const height = Math.max(...labels.map((label) => [...label].length));
  return Array.from({ length: height }, (_, row) =>
    labels.map((label) => [...label.padStart(height)][row] ?? ' ').join(''),
  );
}
