import type { WeightTable } from '../careers/linkage/linkage.ts';
import type {
  CareersAnswer,
  DoubtAnswer,
  ExchangedAnswer,
  LineSaid,
  NameChangeAnswer,
  ProposedPerson,
} from '../inquiry/careers.ts';
import { chanceInWords } from '../inquiry/careers-certain.ts';
import { csvLine } from '../report/csv.ts';
import { type Context, widthOf } from './context.ts';
import { shown, table, wrapped } from './text.ts';

export const counted = (count: number, one: string, many: string): string => `${count} ${count === 1 ? one : many}`;

export function csvOf({ doubts, nameChanges }: CareersAnswer): string {
  const header = csvLine([
    'one',
    'other',
    'decision',
    'why',
    'asked',
    'chance',
    'settles',
    'one says',
    'other says',
    'grounds',
  ]);
  const grounds = (list: readonly { readonly text: string; readonly bits: number }[]): string =>
    list.map(({ text, bits }) => `${text}: ${bits.toFixed(1)}`).join('; ');
  const lines = [
    ...doubts.map((doubt) =>
      csvLine([
        doubt.one.id,
        doubt.other.id,
        '',
        '',
        doubt.joined ? 'joined' : 'apart',
        doubt.chance,
        doubt.settles,
        doubt.one.says,
        doubt.other.says,
        grounds(doubt.grounds),
      ]),
    ),
    ...nameChanges.map((change) =>
      csvLine([
        change.last.id,
        change.first.id,
        '',
        '',
        'renamed',
        null,
        null,
        change.last.says,
        change.first.says,
        grounds(change.grounds),
      ]),
    ),
  ];
  return [header, ...lines].join('').trimEnd();
}

export function careersInLines(answer: CareersAnswer, onlyDoubts: boolean, context: Context): string[] {
  const { strong, faint } = context.style;
  const width = widthOf(context);
  const {
    entries,
    editions,
    certain,
    waiting,
    people,
    peopleBeyond,
    doubts,
    doubtsBeyond,
    nameChanges,
    exchanged,
    exchangedBeyond,
  } = answer;
  const lines = onlyDoubts
    ? []
    : [
        ...wrapped(
          `${counted(entries.all, 'entry', 'entries')} of ${counted(editions.all, 'edition', 'editions')} (${editions.whole} taken down whole); ${entries.unplaced} of them are nobody’s yet.`,
          width,
        ),
        ...wrapped(
          `Certain: ${counted(certain.entries, 'entry', 'entries')}, of ${counted(certain.newPeople, 'new person', 'new people')} and ${counted(certain.knownPeople, 'person', 'people')} known already; ${waiting} wait for a decision.`,
          width,
        ),
      ];
  for (const person of onlyDoubts ? [] : people) lines.push('', ...personInLines(person, context));
  if (!onlyDoubts && peopleBeyond > 0) lines.push('', faint(`… and ${peopleBeyond} more people (--limit N)`));
  if (doubts.length > 0) lines.push(...(lines.length > 0 ? [''] : []), strong('Doubtful'));
  for (const doubt of doubts) lines.push('', ...doubtInLines(doubt, context));
  if (doubtsBeyond > 0) lines.push('', faint(`… and ${doubtsBeyond} more doubts (--limit N)`));
  if (nameChanges.length > 0)
    lines.push(...(lines.length > 0 ? [''] : []), strong('Names that may have changed, or are spelt otherwise'));
  for (const change of nameChanges) lines.push('', ...changeInLines(change, context));
  if (exchanged.length > 0)
    lines.push(...(lines.length > 0 ? [''] : []), ...exchangedInLines(exchanged, exchangedBeyond, context));
  if (onlyDoubts && lines.length === 0) return ['Nothing is doubtful.'];
  if (doubts.length + nameChanges.length > 0) lines.push('', ...wrapped(EVIDENCE_IN_WORDS, width).map(faint));
  const [asked] = [
    ...doubts.map(({ one, other }) => `${one.id} chance ${other.id}`),
    ...nameChanges.map(({ last, first }) => `${last.id} nameChange ${first.id}`),
    ...people.map(({ last }) => `${last.id} careers`),
  ];
  const next = [
    ...(asked === undefined ? [] : [`Why a figure is what it is: heldby grounds ${asked}, or heldby grounds careers`]),
    ...(certain.entries > 0 && !onlyDoubts ? ['To record what is certain: heldby careers --accept'] : []),
    ...(doubts.length + nameChanges.length > 0
      ? [
          'To decide: heldby careers --review at a terminal, or --csv and --decisions FILE',
          'What stands beside a line on the page and in other years: heldby show ID',
        ]
      : []),
  ];
  return [...lines, ...(next.length > 0 ? ['', ...next] : [])];
}

function personInLines(
  { person, name, entries, added, first, last, leastChance }: ProposedPerson,
  context: Context,
): string[] {
  const { strong, faint } = context.style;
  const width = widthOf(context);
  const known = person === null ? 'new' : `${person.id}, ${added.length} more`;
  const sure = leastChance === null ? '' : `; every join ${chanceInWords(leastChance).replace(/^(?=\d)/, 'at least ')}`;
  return [
    `${strong(shown(name))}  ${faint(`(${known})`)}`,
    ...wrapped(`${counted(entries.length, 'entry', 'entries')}${sure}`, width - 2).map((line) => `  ${line}`),
    ...wrapped(`from ${said(first)}`, width - 2).map((line) => `  ${line}`),
    ...(entries.length > 1 ? wrapped(`to ${said(last)}`, width - 2).map((line) => `  ${line}`) : []),
  ];
}

const said = ({ id, says, person }: LineSaid): string =>
  `${shown(says)}  ${id}${person === null ? '' : ` (${shown(person.name)} ${person.id})`}`;

/** What the figures beside grounds mean. */
export const EVIDENCE_IN_WORDS =
  'The figure before each ground is evidence in bits: +1 doubles the odds that it is one person, −1 halves them.';

export function doubtInLines(
  { one, other, joined, chance, settles, instead, grounds, exchanged, stray }: DoubtAnswer,
  context: Context,
): string[] {
  const { doubtful, faint } = context.style;
  const width = widthOf(context);
  const put = (text: string): string[] => wrapped(text, width - 2).map((line) => `  ${line}`);
  return [
    ...wrapped(
      `Are these one? ${stray ? `They would be, taken by themselves (a chance of ${chanceInWords(chance)}), but the lines between are of another post; the other may have been taken down under the wrong edition. Until you decide they are taken for two.` : `The chance is ${chanceInWords(chance)}; until you decide they are taken for ${joined ? 'one' : 'two'}.`} An answer settles ${counted(settles, 'pair of entries', 'pairs of entries')}.`,
      width,
    ).map(doubtful),
    ...put(said(one)),
    ...put(said(other)),
    ...(instead === null ? [] : put(`If not, then rather with ${said(instead)}`)),
    ...(exchanged === null ? [] : put(exchangedInShort(exchanged))),
    ...groundsInLines(grounds, width).map(faint),
  ];
}

const exchangedInShort = ({ one, other, like }: ExchangedAnswer): string =>
  `Perhaps ${one.id} (${shown(nameIn(one))}) and ${other.id} (${shown(nameIn(other))}) were exchanged: each says what the other’s lines do in the editions beside (${like.join(', ')}).`;

/** A line begins with the name. */
const nameIn = ({ says }: LineSaid): string => says.slice(0, says.indexOf(','));

/** Lines that may have been exchanged, whether a join of theirs is doubtful or not. */
function exchangedInLines(pairs: readonly ExchangedAnswer[], beyond: number, context: Context): string[] {
  const { strong, faint } = context.style;
  const width = widthOf(context);
  if (pairs.length === 0) return [];
  return [
    strong('Lines that may have been exchanged'),
    ...pairs.flatMap(({ one, other, like }) => [
      '',
      ...[one, other].flatMap((line) => wrapped(said(line), width - 2).map((text) => `  ${text}`)),
      ...wrapped(
        `Each says what the other’s lines do in the editions beside (${like.join(', ')}). Look at the page: if they are misprinted, heldby set-aside ${one.id},${other.id} --why TEXT; if they were misread, heldby amend; if they are right, heldby amend ${one.id},${other.id} note sic --why TEXT`,
        width - 4,
      ).map((text) => faint(`    ${text}`)),
    ]),
    ...(beyond > 0 ? ['', faint(`… and ${beyond} more pairs of lines (--limit N)`)] : []),
  ];
}

export function changeInLines(
  { last, first, before, after, respelt, grounds }: NameChangeAnswer,
  context: Context,
): string[] {
  const { doubtful, faint } = context.style;
  const width = widthOf(context);
  const put = (text: string): string[] => wrapped(text, width - 2).map((line) => `  ${line}`);
  return [
    ...wrapped(
      respelt
        ? `Is ${shown(after)} the same as ${shown(before)}, in another spelling?`
        : `Did ${shown(before)} become ${shown(after)}?`,
      width,
    ).map(doubtful),
    ...put(said(last)),
    ...put(said(first)),
    ...groundsInLines(grounds, width).map(faint),
  ];
}

const groundsInLines = (
  grounds: readonly { readonly text: string; readonly bits: number }[],
  width: number,
): string[] =>
  grounds.flatMap(({ text, bits }) =>
    wrapped(`${bits >= 0 ? '+' : '−'}${Math.abs(bits).toFixed(1)}  ${shown(text)}`, width - 4).map(
      (line) => `    ${line}`,
    ),
  );

/** What is asked of `grounds` about the weights. */
const WHY_WEIGHTS =
  'Why a figure is what it is: heldby grounds careers weight FIELD [LEVEL], found EDITIONS, or newShare';

export function weightsInLines({ rows, found, newShare }: WeightTable, context: Context): string[] {
  const { strong, faint } = context.style;
  const width = widthOf(context);
  const share = (value: number): string => (value < 0.0005 ? value.toExponential(0) : value.toFixed(3));
  const told = rows.map(({ field, level, sameMan, twoMen, bits, byValue }) => [
    field,
    level,
    share(sameMan),
    share(twoMen),
    `${bits.toFixed(1)}${byValue ? '*' : ''}`,
  ]);
  return [
    strong('How two lines agree: the share of successive lines of one person, of lines of two, and what that weighs'),
    ...table([['field', 'how they agree', 'one', 'two', 'bits'], ...told], { right: [2, 3, 4] }),
    faint('Each bit doubles the odds of one person, or halves them where it is negative.'),
    faint('* more for a rare value, less for a common one; the mean is shown'),
    '',
    ...wrapped(
      `Found again, if not seen before: ${found.map(({ editions, chance }) => `${(chance * 100).toFixed(0)} % after ${editions}`).join(', ')} editions. A line in an edition is somebody’s first with a chance of ${share(newShare)}.`,
      width,
    ),
    '',
    ...wrapped(WHY_WEIGHTS, width),
  ];
}
