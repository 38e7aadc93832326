import type { Command } from 'commander';
import type { MarkRole } from '../../dating/delay.ts';
import { HeldbyError } from '../../errors.ts';
import { aboutAnswer } from '../../inquiry/about.ts';
import { type CandidatesAnswer, candidatesForMark, candidatesForText } from '../../inquiry/candidates.ts';
import { ROLES } from '../../ledger/kinds.ts';
import { readDate } from '../../time/read-date.ts';
import type { Day, Span } from '../../time/span.ts';
import { actNumber, asking, type CommonOptions, type Context, widthOf } from '../context.ts';
import { common, example, optionsOf, printJson } from '../options.ts';
import { spanInWords } from '../span-words.ts';
import { shown, wrapped } from '../text.ts';

type CandidatesOptions = CommonOptions & {
  readonly text?: string;
  readonly role?: string;
  readonly between?: readonly [string, string];
  readonly limit?: string;
  readonly surname?: string;
  readonly forenames?: string;
  readonly rank?: string;
  readonly corps?: string;
  readonly place?: string;
};

/** Candidates shown on a terminal, and tried without each of their records. */
const SHOWN = 10;
const TRIED_IN_JSON = 20;

export function register(program: Command, context: Context): void {
  const command = program
    .command('candidates')
    .description('who can have made a mark, ranked, with the reasons, and the chance that it was somebody unrecorded')
    .argument('[mark]', 'a mark of the ledger: its id, key or text')
    .option('--text <text>', 'words just read, instead of a mark')
    .option('--role <role>', `what the words are: ${ROLES.join(', ')} (owner unless you say another)`)
    .option('--between <dates...>', 'two dates between which it was made, whatever else is known')
    .option('--limit <number>', 'how many to show')
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
      return asking(context, options, (db) => {
        if ((words === undefined) === (options.text === undefined)) {
          throw new HeldbyError(
            'USAGE',
            'Say which mark, or which words.',
            'heldby candidates m1   or   heldby candidates --text "Lieut. J. Ferr[..]d"',
          );
        }
        const limit = options.limit === undefined ? undefined : wholeNumber(options.limit);
        const between = options.between === undefined ? undefined : spanBetween(options.between);
        const given = { between, tried: options.json ? TRIED_IN_JSON : SHOWN };
        const answer =
          words !== undefined ? candidatesForMark(db, words, given) : candidatesForText(db, asked(options), given);
        if (options.json) {
          const candidates = limit === undefined ? answer.candidates : answer.candidates.slice(0, limit);
          printJson(context, {
            ...answer,
            candidates,
            about: aboutAnswer(db, options.asOf === undefined ? undefined : actNumber(options.asOf)),
          });
        } else {
          context.out(candidatesInWords(answer, context, limit ?? SHOWN));
          for (const caution of answer.cautions)
            context.note(wrapped(`Caution: ${caution}`, widthOf(context)).join('\n'));
        }
      });
    });
}

function asked(options: CandidatesOptions) {
  const role = options.role ?? 'owner';
  if (!ROLES.includes(role as MarkRole))
    throw new HeldbyError('USAGE', `There is no role "${role}".`, `One of: ${ROLES.join(', ')}.`);
  const parts = Object.fromEntries(
    (['surname', 'forenames', 'rank', 'corps', 'place'] as const).flatMap((part) =>
      options[part] === undefined ? [] : [[part, options[part]]],
    ),
  );
  return { text: options.text ?? '', role: role as MarkRole, parts };
}

function wholeNumber(text: string): number {
  if (!/^[1-9]\d{0,6}$/.test(text))
    throw new HeldbyError('USAGE', `"${text}" is no number of candidates.`, 'Give a whole number, such as --limit 5.');
  return Number(text);
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
  const { from, until } = readDate(first).span;
  if (second === undefined) return { from, until };
  const span = { from, until: readDate(second).span.until };
  if (span.from >= span.until)
    throw new HeldbyError('USAGE', `${second} ends before ${first} begins.`, 'Give the earlier date first.');
  return { from: span.from as Day, until: span.until as Day };
}

function candidatesInWords(answer: CandidatesAnswer, context: Context, limit: number): string {
  const { strong, faint, doubtful, good } = context.style;
  const width = widthOf(context);
  const { mark, window, candidates, unrecorded } = answer;
  const { reading } = mark;
  const parts = (['rank', 'forenames', 'surname', 'corps', 'place'] as const).flatMap((part) =>
    reading[part] === null ? [] : [`${part} ${reading[part]}`],
  );
  const lines = [
    strong(shown(`“${mark.text}”${mark.id === null ? '' : `  ${mark.id}`}  (${mark.role})`)),
    ...wrapped(`read as: ${parts.map(shown).join(' · ') || 'nothing that could name anybody'}`, width),
    ...(mark.rest.length > 0 ? wrapped(`not understood: ${mark.rest.map(shown).join(', ')}`, width).map(doubtful) : []),
    `made ${spanInWords(window)}${window.grounds.length > 0 ? faint(`  [${window.grounds.join(' ')}]`) : ''}`,
    '',
  ];
  for (const each of candidates.slice(0, limit)) {
    const flags = [
      ...(each.standing === 'in-post' ? [] : [each.standing]),
      ...(each.provisional ? ['provisional'] : []),
    ];
    const paint = each.share >= 0.6 ? good : (text: string) => text;
    lines.push(
      `${String(each.position).padStart(2)}  ${paint(percent(each.share))}  ${strong(shown(each.person.name))}  ${each.person.id}${each.rank === null ? '' : `, ${each.rank}`}${flags.length > 0 ? doubtful(`  (${flags.join(', ')})`) : ''}`,
    );
    lines.push(...wrapped(each.wording, width - 12).map((line) => `            ${line}`));
    lines.push(`            ${overlapInWords(each)}`);
    lines.push(faint(`            if by ${shown(each.person.name)}: ${spanInWords(each.markedBetween)}`));
    const bits = (['surname', 'forenames', 'rank', 'corps', 'place'] as const)
      .filter((part) => each.bits[part] > 0)
      .map((part) => `${part} ${each.bits[part]}`);
    lines.push(
      ...wrapped(
        `disagreement: ${bits.length === 0 ? 'none' : `${bits.join(', ')} bits`}; tenure against window: ${each.relations.join(', ') || 'none'}${each.tenures.length > 0 ? `  [${each.tenures.join(' ')}]` : ''}`,
        width - 12,
      ).map((line) => faint(`            ${line}`)),
    );
  }
  if (candidates.length > limit)
    lines.push(
      faint(
        `    … and ${candidates.length - limit} more, together ${percent(candidates.slice(limit).reduce((sum, { share }) => sum + share, 0)).trim()}  (--limit N shows more)`,
      ),
    );
  if (candidates.length === 0) {
    lines.push(
      doubtful('Nobody recorded fits this reading.'),
      'That is no finding about the owner: look at the reading again, or take down more of the lists.',
    );
    for (const { person, bits } of answer.beyond)
      lines.push(`  beyond the limit: ${shown(person.name)}  ${person.id}  (surname ${bits} bits away)`);
  } else
    lines.push(
      `    ${percent(unrecorded.share)}  somebody unrecorded ${faint(`(${unrecorded.expected < 0.01 ? unrecorded.expected.toExponential(1) : unrecorded.expected.toFixed(2)} such people expected)`)}`,
    );
  return lines.join('\n');
}

const percent = (share: number): string => `${(share * 100).toFixed(share > 0 && share < 0.001 ? 2 : 1).padStart(5)} %`;

function overlapInWords({ certainOverlap, possibleOverlap }: CandidatesAnswer['candidates'][number]): string {
  const certain =
    certainOverlap === null
      ? 'on no day of it for certain'
      : `certainly on ${certainOverlap.days} days of it (${spanInWords(certainOverlap)})`;
  const possible = possibleOverlap === null ? 'not in the rank then' : `possibly on ${possibleOverlap.days} days`;
  return `${certain}; ${possible}`;
}
