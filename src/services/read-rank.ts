import { type Day, intersection, type Span, spanThrough } from '../time/span.ts';
import { type BesideAppointment, type BesideStatus, readBeside } from './beside-rank.ts';
import { type Ladder, openRank } from './ladder.ts';
import type { Rank } from './rank.ts';
import { matchesOf, nearestTitles, type RankMatch } from './rank-index.ts';
import { wordsOf } from './rank-words.ts';

type FoundRank = {
  readonly kind: 'found';
  readonly rank: Rank;
  /** "Bt. Major": held by brevet. Undefined where the text says nothing. */
  readonly appointment: BesideAppointment | undefined;
  /** "Capt. h.p.": on half-pay. */
  readonly status: readonly BesideStatus[];
  /** A sentence to show: lists of those days are not known to print this rank. */
  readonly caution: string | undefined;
};

/**
 * What a text names. `decides` says what would settle an ambiguous one: the service, the date, or only a fuller
 * wording; `several` means that the text names more than one rank at once ("Capt. and Bt. Major"). `nearest` are titles.
 */
export type RankReading =
  | FoundRank
  | {
      readonly kind: 'ambiguous';
      readonly ranks: readonly Rank[];
      readonly decides: 'service' | 'date' | 'wording' | 'several';
    }
  | { readonly kind: 'unknown'; readonly nearest: readonly string[] };

export type RankOptions = {
  /** When the text was written or printed; ranks and abbreviations of other times give way. */
  readonly day?: Day | undefined;
  readonly span?: Span | undefined;
  /** The text stands in the rank column of a list, where a single letter can be a rank. */
  readonly column?: boolean | undefined;
};

const MOST_WORDS = 12; // the longest title with words on both sides has fewer
const SLASHED = /^\s*[ta]\//i;

/**
 * Reads a text that is nothing but a rank, with words beside it that say how it was held. Letters are folded; points,
 * hyphens, spaces and markup play no part. The ladder of a service without ranks takes any text as it is written.
 *
 * Of several meanings in one ladder (1) those of the day win, if there are any; (2) of the rest a title in full wins
 * over an abbreviation; (3) what is left is ambiguous. Meanings in several ladders are always ambiguous, unless letters
 * such as R.N. stand beside the rank. Of a rank and an appointment held beside it, in one text, the rank is read.
 */
export function readRank(text: string, ladder: Ladder | readonly Ladder[], options: RankOptions = {}): RankReading {
  const ladders = 'ranks' in ladder ? [ladder] : ladder;
  const words = wordsOf(text);
  const open = ladders.find((each) => each.ranks.length === 0);
  if (words.length === 0 || words.length > MOST_WORDS) return { kind: 'unknown', nearest: [] };
  const known = readWords(words, ladders, options, SLASHED.test(text));
  if (known !== undefined) return known;
  if (open !== undefined) return found(openRank(open.service, text), undefined);
  return readTwo(words, ladders, options) ?? unknownRank(text, ladders);
}

/** What is nearest is worked out where it is asked for: most texts are only tried as ranks, and are none. */
const unknownRank = (text: string, ladders: readonly Ladder[]): RankReading => ({
  kind: 'unknown',
  get nearest() {
    return nearestTitles(text, ladders);
  },
});

/**
 * Two ranks in one text. "Lieut. and Adjt.": the appointment is held beside the rank, and the rank is what the text is
 * about. "Capt. and Bt. Major": two, of which a record can state only one.
 */
function readTwo(words: readonly string[], ladders: readonly Ladder[], options: RankOptions): RankReading | undefined {
  for (let at = 1; at < words.length; at++) {
    const second = words[at] === 'and' ? at + 1 : at;
    const a = readWords(words.slice(0, at), ladders, options, false);
    const b = a && readWords(words.slice(second), ladders, options, false);
    if (a === undefined || b === undefined) continue;
    if (a.kind === 'found' && b.kind === 'found' && a.rank.concurrent !== b.rank.concurrent) {
      const [main, beside] = a.rank.concurrent ? [b, a] : [a, b];
      const also = `${beside.rank.title} was held beside it: record that by itself.`;
      return { ...main, caution: main.caution === undefined ? also : `${main.caution} ${also}` };
    }
    return { kind: 'ambiguous', ranks: [...ranksOf(a), ...ranksOf(b)], decides: 'several' };
  }
  return undefined;
}

/** Every rank that a style on an object can stand for, in each ladder that has it; a service without ranks takes it as it is. */
export function ranksStyled(text: string, ladders: readonly Ladder[], options: RankOptions = {}): readonly Rank[] {
  const open = ladders.filter((ladder) => ladder.ranks.length === 0);
  const closed = ladders.filter((ladder) => ladder.ranks.length > 0);
  const known = closed.length === 0 ? [] : ranksOf(readRank(text, closed, options));
  return wordsOf(text).length === 0 ? [] : [...known, ...open.map((ladder) => openRank(ladder.service, text))];
}

const ranksOf = (reading: RankReading): readonly Rank[] =>
  reading.kind === 'found'
    ? [reading.rank]
    : reading.kind === 'ambiguous' && reading.decides !== 'several'
      ? reading.ranks
      : [];

/** The reading that needs the fewest words beside the rank. */
function readWords(
  words: readonly string[],
  ladders: readonly Ladder[],
  options: RankOptions,
  slashed: boolean,
): Exclude<RankReading, { kind: 'unknown' }> | undefined {
  const column = options.column ?? false;
  for (let length = words.length; length > 0; length--) {
    for (let start = 0; start + length <= words.length; start++) {
      const key = words.slice(start, start + length).join('');
      const perLadder = ladders.map((ladder) => matchesOf(key, ladder).filter((match) => column || !match.columnOnly));
      if (perLadder.every((matches) => matches.length === 0)) continue;
      const beside = readBeside([...words.slice(0, start), ...words.slice(start + length)], { column, slashed });
      if (beside === undefined) continue;
      const ofService = perLadder.filter(
        (_, index) => beside.service === undefined || ladders[index]?.service === beside.service,
      );
      const settled = ofService.map((matches) => settle(matches, options)).filter((matches) => matches.length > 0);
      const matches = settled.flat();
      const [only, other] = matches;
      if (only === undefined) continue;
      if (other === undefined)
        return found(only.definition.rank, caution(only, options), beside.appointment, beside.status);
      return {
        kind: 'ambiguous',
        ranks: matches.map((match) => match.definition.rank),
        decides: decides(settled, matches, options),
      };
    }
  }
  return undefined;
}

const found = (
  rank: Rank,
  cautionText: string | undefined,
  appointment?: BesideAppointment | undefined,
  status: readonly BesideStatus[] = [],
): FoundRank => ({ kind: 'found', rank, appointment, status, caution: cautionText });

const spanOf = ({ day, span }: RankOptions): Span | undefined =>
  span ?? (day === undefined ? undefined : spanThrough(day, day));

const ofThoseDays = ({ definition, used }: RankMatch, when: Span): boolean =>
  intersection(definition.existed, when) !== undefined && intersection(used, when) !== undefined;

function settle(matches: readonly RankMatch[], options: RankOptions): readonly RankMatch[] {
  const when = spanOf(options);
  const current = when === undefined ? matches : matches.filter((match) => ofThoseDays(match, when));
  const left = current.length > 0 ? current : matches;
  const exact = left.filter((match) => match.exact);
  return exact.length === 1 ? exact : left;
}

function decides(
  settled: readonly unknown[],
  matches: readonly RankMatch[],
  options: RankOptions,
): 'service' | 'date' | 'wording' {
  if (settled.length > 1) return 'service';
  const limited = matches.some(({ definition, used }) =>
    [definition.existed, used].some((span) => Number.isFinite(span.from) || Number.isFinite(span.until)),
  );
  return limited && spanOf(options) === undefined ? 'date' : 'wording';
}

function caution({ definition }: RankMatch, options: RankOptions): string | undefined {
  const when = spanOf(options);
  if (when === undefined || intersection(definition.existed, when) !== undefined) return undefined;
  const { title, service } = definition.rank;
  return `${title} is known in the ${service} ladder ${definition.limits} only.`;
}
