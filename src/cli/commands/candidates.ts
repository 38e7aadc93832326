import type { Command } from 'commander';
import { MARK_ROLES, readRoles, writtenRoles } from '../../dating/mark-roles.ts';
import { HeldbyError } from '../../errors.ts';
import { aboutAnswer } from '../../inquiry/about.ts';
import {
  type CandidatesAnswer,
  candidatesForMark,
  candidatesForText,
  TOLD_IN_PRINT,
  type WordsAsked,
} from '../../inquiry/candidates.ts';
import type { VaryAnswer } from '../../inquiry/vary.ts';
import type { Db } from '../../ledger/open.ts';
import type { PersonName } from '../../ledger/people.ts';
import { refuseLooseSigns } from '../../names/loose-signs.ts';
import { readDate } from '../../time/read-date.ts';
import { refuseUnreckoned } from '../../time/reckoned-years.ts';
import type { Day, Span } from '../../time/span.ts';
import { actNumber, asking, type CommonOptions, type Context, widthOf } from '../context.ts';
import { common, example, optionsOf, printAnswer } from '../options.ts';
import { spanInWords } from '../span-words.ts';
import { shown, wrapped } from '../text.ts';

/** Words that were just read, and what is said to stand in them. */
export type WordsOptions = {
  readonly text?: string;
  readonly role?: string;
  readonly surname?: string;
  readonly forenames?: string;
  readonly rank?: string;
  readonly corps?: string;
  readonly place?: string;
};

type CandidatesOptions = CommonOptions &
  WordsOptions & {
    readonly between?: readonly [string, string];
    readonly limit?: string;
    readonly vary?: true;
  };

/** How many of the first are tried without each of their records: the leader, whose wording depends on it, or more. */
const TRIED_IN_WORDS = 1;
const TRIED_IN_JSON = 20;

export function register(program: Command, context: Context): void {
  const command = program
    .command('candidates')
    .description('who can have made a mark, ranked, with the reasons, and the chance that it was somebody unrecorded')
    .argument('[mark]', 'a mark of the ledger: its id, key or text')
    .option('--text <text>', 'words just read, instead of a mark')
    .option(
      '--role <role>',
      `what the words are: ${MARK_ROLES.join(', ')} (owner unless you say another); or several: "owner 0.7, depository 0.3"`,
    )
    .option('--between <dates...>', 'two dates between which it was made, whatever else is known')
    .option('--limit <number>', 'how many to show')
    .option('--vary', 'how far each assumption can be changed with the same name staying first')
    .option('--surname <text>', 'for --text: the surname in it')
    .option('--forenames <text>', 'for --text: the forenames in it')
    .option('--rank <text>', 'for --text: the rank in it')
    .option('--corps <text>', 'for --text: the corps in it')
    .option('--place <text>', 'for --text: the place in it');
  common(command)
    .addHelpText(
      'after',
      example('heldby candidates m1', 'heldby candidates --text "Lieut. J. Ferr[..]d" --between 1834 1838'),
    )
    .action((words: string | undefined) => {
      const options = optionsOf<CandidatesOptions>(command);
      return asking(context, options, async (db) => {
        if ((words === undefined) === (options.text === undefined)) {
          throw new HeldbyError(
            'USAGE',
            'Say which mark, or which words.',
            'heldby candidates m1   or   heldby candidates --text "Lieut. J. Ferr[..]d"',
          );
        }
        const limit = options.limit === undefined ? undefined : wholeNumber(options.limit);
        const between = options.between === undefined ? undefined : spanBetween(options.between);
        const given = {
          between,
          tried: options.json ? TRIED_IN_JSON : TRIED_IN_WORDS,
          onlyConclusions: options.json !== true,
          wanted: limit ?? (options.json ? undefined : TOLD_IN_PRINT.wanted),
          leastShare: limit === undefined && !options.json ? TOLD_IN_PRINT.leastShare : undefined,
        };
        const answer =
          words !== undefined ? candidatesForMark(db, words, given) : candidatesForText(db, wordsAsked(options), given);
        const varied = options.vary ? await variedFor(db, words, options, between) : undefined;
        if (options.json) {
          printAnswer(context, db, {
            ...answer,
            ...(varied === undefined ? {} : { vary: varied }),
            about: aboutAnswer(db, options.asOf === undefined ? undefined : actNumber(options.asOf)),
          });
        } else {
          context.out(candidatesInWords(answer, context));
          if (varied !== undefined) context.out(`\n${varyInLines(varied, context).join('\n')}`);
          for (const caution of answer.cautions)
            context.note(wrapped(`Caution: ${caution}`, widthOf(context)).join('\n'));
        }
      });
    });
}

/** Read only where it is asked for: it takes a hundred times the work of the answer. */
async function variedFor(
  db: Db,
  words: string | undefined,
  options: CandidatesOptions,
  between: Span | undefined,
): Promise<VaryAnswer> {
  const { varyMark, varyText } = await import('../../inquiry/vary.ts');
  return words === undefined ? varyText(db, wordsAsked(options), between) : varyMark(db, words, between);
}

function varyInLines({ leader, varied, steady, tried }: VaryAnswer, context: Context): string[] {
  const { strong, faint } = context.style;
  const width = widthOf(context);
  if (leader === null) return ['Nobody leads whom another assumption could put second.'];
  const figure = (value: number): string => String(Number(value.toPrecision(3)));
  const called = (who: PersonName | null | undefined): string =>
    who === null ? 'somebody unrecorded' : shown(who?.name ?? '');
  const lines = wrapped(`${shown(leader.name)} stays first as long as, all else as it is:`, width).map(strong);
  for (const { name, value, unit, from, to, below, above } of varied) {
    const ends = [
      ...(from === null ? [] : [`at least ${figure(from)} (below, ${called(below)})`]),
      ...(to === null ? [] : [`at most ${figure(to)} (above, ${called(above)})`]),
    ];
    lines.push(
      ...wrapped(`${name} = ${figure(value)} ${unit} is ${ends.join(', and ')}`, width - 2).map((line) => `  ${line}`),
    );
  }
  if (varied.length === 0) lines.push('  whatever single assumption is changed');
  const others = steady.length === 0 ? '' : `, as are ${steady.length} others that bear on it (${steady.join(', ')})`;
  lines.push(
    ...wrapped(`Each was tried from a ${tried}th of its value to ${tried} times it${others}.`, width).map(faint),
  );
  return lines;
}

/** @throws HeldbyError USAGE */
export function wordsAsked(options: WordsOptions): WordsAsked {
  const role = options.role ?? 'owner';
  const roles = readRoles(role);
  if ('fault' in roles)
    throw new HeldbyError('USAGE', `${roles.fault.charAt(0).toUpperCase()}${roles.fault.slice(1)}.`, roles.hint);
  const parts = Object.fromEntries(
    (['surname', 'forenames', 'rank', 'corps', 'place'] as const).flatMap((part) =>
      options[part] === undefined ? [] : [[part, options[part]]],
    ),
  );
  const text = options.text ?? '';
  refuseLooseSigns(text);
  return { text, role: writtenRoles(roles), parts };
}

function wholeNumber(text: string): number {
  if (!/^[1-9]\d{0,6}$/.test(text))
    throw new HeldbyError('USAGE', `"${text}" is no number of candidates.`, 'Give a whole number, such as --limit 5.');
  return Number(text);
}

function reckoned(text: string): Span {
  const { span } = readDate(text);
  refuseUnreckoned(text, span);
  return span;
}

/** From the first day of the first date to the last day of the second; one date alone is a span of its own. */
export function spanBetween(dates: readonly string[]): Span {
  const [first, second, third] = dates;
  if (first === undefined || third !== undefined)
    throw new HeldbyError(
      'USAGE',
      '--between takes two dates.',
      'Write --between 1834 1838, with quotation marks around a date of several words.',
    );
  const { from, until } = reckoned(first);
  if (second === undefined) return { from, until };
  const span = { from, until: reckoned(second).until };
  if (span.from >= span.until)
    throw new HeldbyError('USAGE', `${second} ends before ${first} begins.`, 'Give the earlier date first.');
  return { from: span.from as Day, until: span.until as Day };
}

function candidatesInWords(answer: CandidatesAnswer, context: Context): string {
  const { strong, faint, doubtful, good } = context.style;
  const width = widthOf(context);
  const { mark, window, candidates, unrecorded } = answer;
  const several = mark.readings.length > 1;
  const lines = [
    strong(shown(`“${mark.text}”${mark.id === null ? '' : `  ${mark.id}`}  (${mark.role})`)),
    ...mark.readings.flatMap(({ id, text, by, reading, rest }, at) => [
      ...(at === 0 ? [] : [shown(`“${text}”  ${id}${by === null ? '' : `  read by ${by}`}`)]),
      ...wrapped(`read as: ${partsInWords(reading)}`, width),
      ...(rest.length > 0 ? wrapped(`not understood: ${rest.map(shown).join(', ')}`, width).map(doubtful) : []),
    ]),
    ...(several ? [faint(`each of the ${mark.readings.length} readings counts alike`)] : []),
    `put on ${spanInWords(window)}${window.grounds.length > 0 ? faint(`  [${window.grounds.join(' ')}]`) : ''}`,
    '',
  ];
  const indent = ' '.repeat(12);
  const put = (text: string, paint: (line: string) => string = (line) => line): void => {
    lines.push(...wrapped(text, width - indent.length).map((line) => paint(`${indent}${line}`)));
  };
  for (const each of candidates) {
    const flags = [
      ...(each.standing === 'in-post' ? [] : [each.standing]),
      ...(each.provisional ? ['provisional'] : []),
    ];
    const paint = each.share >= 0.6 ? good : (text: string) => text;
    const who = [each.person.id, ...(each.person.key === null ? [] : [shown(each.person.key)])].join(' ');
    const post = [each.rank, each.corps]
      .filter((part) => part !== null)
      .map(shown)
      .join(', ');
    lines.push(
      `${String(each.position).padStart(2)}  ${paint(percent(each.share))}  ${strong(shown(each.person.name))}  ${faint(who)}${flags.length > 0 ? doubtful(`  (${flags.join(', ')})`) : ''}`,
    );
    if (post !== '') put(post);
    put(each.wording);
    put(overlapInWords(each));
    put(`if by this person: ${spanInWords(each.markedBetween)}`, faint);
    const bits = PARTS.filter((part) => each.bits[part] > 0).map((part) => `${part} ${each.bits[part]}`);
    const as = several && each.readAs !== null ? `, read as ${each.readAs}` : '';
    put(`disagreement: ${bits.length === 0 ? 'none' : `${bits.join(', ')} bits`}${as}`, faint);
    if (each.relations.length > 0)
      put(
        `${each.rank === null ? 'their life' : 'the tenure'}, against those days: ${each.relations.join(', ')}${each.tenures.length > 0 ? `  [${each.tenures.join(' ')}]` : ''}`,
        faint,
      );
  }
  if (answer.further.count > 0) {
    lines.push(
      faint(
        `    … and ${answer.further.count} more, together ${percent(answer.further.share).trim()}  (--limit N shows more)`,
      ),
    );
  }
  if (candidates.length === 0) {
    lines.push(
      doubtful('Nobody recorded fits this reading.'),
      ...wrapped(
        answer.unplaced.count > 0
          ? unplacedInWords(answer.unplaced)
          : 'That is no finding about the owner: look at the reading again, or take down more of the lists.',
        width,
      ),
    );
    for (const { person, bits } of answer.beyond)
      lines.push(`  beyond the limit: ${shown(person.name)}  ${person.id}  (surname ${bits} bits away)`);
  } else
    lines.push(
      `    ${percent(unrecorded.share)}  somebody unrecorded ${faint(`(${unrecorded.expected < 0.01 ? unrecorded.expected.toExponential(1) : unrecorded.expected.toFixed(2)} such people expected)`)}`,
    );
  if (answer.noHolder.share > 0)
    lines.push(
      `    ${percent(answer.noHolder.share)}  ${roleNames(mark.roles.filter(({ namesHolder }) => !namesHolder))}: it names no holder then`,
    );
  for (const each of answer.ruledOut.slice(0, RULED_OUT_SHOWN))
    lines.push(
      ...wrapped(ruledOutInWords(each, mark.reading.rank !== null), width - 2).map((line) => faint(`  ${line}`)),
    );
  if (answer.ruledOut.length > RULED_OUT_SHOWN)
    lines.push(faint(`  … and ${answer.ruledOut.length - RULED_OUT_SHOWN} more of the name are no candidates`));
  if (answer.unplaced.count > 0 && candidates.length > 0)
    lines.push(...wrapped(unplacedInWords(answer.unplaced), width - 2).map((line) => doubtful(`  ${line}`)));
  lines.push(...rolesInLines(answer, width));
  return lines.join('\n');
}

/** How much hangs on the role: who leads under each alone. */
function rolesInLines({ mark: { roles }, candidates: [leader] }: CandidatesAnswer, width: number): string[] {
  if (roles.length < 2) return [];
  const told = roles.map(({ role, weight, namesHolder, leaderShare, first, window }) => {
    const put = `put on ${spanInWords(window)}`;
    if (!namesHolder) return `${role} (${percent(weight).trim()}): names no holder, ${put}`;
    if (leader === undefined || leaderShare === null || first === null)
      return `${role} (${percent(weight).trim()}): nobody recorded fits, ${put}`;
    const own = `${shown(leader.person.name)} ${percent(leaderShare).trim()}`;
    const other =
      first.person.id === leader.person.id ? '' : `, behind ${shown(first.person.name)} ${percent(first.share).trim()}`;
    return `${role} (${percent(weight).trim()}): ${own}${other}, ${put}`;
  });
  return [
    '',
    'How much hangs on what the mark is; if it is for certain that of a',
    ...told.flatMap((text) => wrapped(text, width - 2).map((line) => `  ${line}`)),
  ];
}

const roleNames = (roles: readonly { readonly role: string }[]): string => roles.map(({ role }) => role).join(' or ');

const RULED_OUT_SHOWN = 5;

const UNPLACED_SHOWN = 3;

/** Lines of the name that belong to nobody yet, and what is to be done with them. */
function unplacedInWords({ count, entries }: CandidatesAnswer['unplaced']): string {
  const named = [...entries.slice(0, UNPLACED_SHOWN), ...(count > UNPLACED_SHOWN ? ['…'] : [])].join(', ');
  const lines = count === 1 ? 'A line of such a name is' : `${count} lines of such a name are`;
  return `${lines} nobody’s yet, and not weighed (${named}). Put them together into people first: heldby careers`;
}

/** Why somebody whose name agrees is no candidate. */
function ruledOutInWords({ person, ground, inRank }: CandidatesAnswer['ruledOut'][number], hasRank: boolean): string {
  const who = `no candidate: ${shown(person.name)}  ${person.id}`;
  if (ground === 'rank') return `${who}, not known to have held that rank`;
  const days = inRank.map((span) => spanInWords(span)).join(', ');
  return `${who}, ${hasRank ? 'in that rank' : 'of age and alive'} on none of those days${days === '' ? '' : ` but ${days}`}`;
}

const PARTS = ['surname', 'forenames', 'rank', 'corps', 'place'] as const;

const partsInWords = (reading: CandidatesAnswer['mark']['reading']): string =>
  (['rank', 'forenames', 'surname', 'service', 'corps', 'place'] as const)
    .flatMap((part) => (reading[part] === null ? [] : [shown(`${part} ${reading[part]}`)]))
    .join(' · ') || 'nothing that could name anybody';

const percent = (share: number): string => `${(share * 100).toFixed(share > 0 && share < 0.001 ? 2 : 1).padStart(5)} %`;

function overlapInWords({ rank, certainOverlap, possibleOverlap }: CandidatesAnswer['candidates'][number]): string {
  if (possibleOverlap === null)
    return rank === null ? 'not known to have lived in those days' : 'no post of theirs reaches into those days';
  const possible = `${rank === null ? 'of age and alive' : 'in post'} possibly on ${possibleOverlap.days} of those days`;
  return certainOverlap === null
    ? `${possible}, on none for certain`
    : `${possible}, certainly on ${certainOverlap.days}: ${spanInWords(certainOverlap)}`;
}
