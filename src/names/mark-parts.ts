import { HeldbyError } from '../errors.ts';
import { findRankInText, type RankInText } from '../services/find-rank.ts';
import { isAscii } from '../services/fold.ts';
import type { Ladder } from '../services/ladder.ts';
import type { Rank } from '../services/rank.ts';
import { type RankOptions, ranksStyled, readRank } from '../services/read-rank.ts';
import type { DateReading } from '../time/date-reading.ts';
import type { Span } from '../time/span.ts';
import { keyOf } from './characters.ts';
import { isKnownForename } from './forename-forms.ts';
import { takeBehindRank, takeBeside, takeForeignRank, takeGiver, takeListedRank } from './mark-bystanders.ts';
import { takeName } from './mark-name.ts';
import { plainMark } from './mark-plain.ts';
import {
  keyNamesCorps,
  takeCorps,
  takeDate,
  takeKnownPlace,
  takeNumbers,
  takePlace,
  takeSeat,
  takeService,
} from './mark-surroundings.ts';
import {
  freeRuns,
  type MarkText,
  type MarkWord,
  markText,
  type PartName,
  shownWords,
  takeAs,
  wordsText,
} from './mark-text.ts';
import { isHonour, isInitials, isTitle } from './name.ts';
import type { Reading } from './reading.ts';

export type MarkContext = {
  readonly ladders: readonly Ladder[];
  readonly knownCorps?: readonly string[];
  readonly knownPlaces?: readonly string[];
  /** When the mark was put on, where that is known: it decides between the meanings of an abbreviation. */
  readonly when?: Span;
};

/** Parts that the researcher gives; an empty text says that the mark has none. */
export type PartOverrides = Partial<Readonly<Record<'surname' | 'forenames' | 'rank' | 'corps' | 'place', string>>>;

/** Words of a mark that were taken for one part. `from` and `until` count UTF-16 units in the text as given. */
type FoundPart = {
  readonly part: PartName;
  readonly text: string;
  readonly from: number;
  readonly until: number;
};

export type MarkParts = {
  readonly reading: Reading;
  /** Every rank that the style can stand for, of every ladder given. */
  readonly rank: { readonly text: string; readonly ranks: readonly Rank[] } | undefined;
  /** In the signs of a transcription, as `patternFrom` and `readForenames` take them. */
  readonly surname: string | undefined;
  readonly forenames: string | undefined;
  /** The service that letters beside the name, such as R.N., stand for: `navy`. */
  readonly service: string | undefined;
  readonly corps: string | undefined;
  readonly place: string | undefined;
  readonly date: { readonly text: string; readonly reading: DateReading } | undefined;
  /** What was not understood. */
  readonly rest: readonly string[];
  /** What was found where, in the order of the text; what an override replaces is shown as it was found. */
  readonly found: readonly FoundPart[];
};

/**
 * Reads the parts of a mark from its text, in this order: 1. a date with a year; who gave the thing, and ranks of no ladder
 * at hand, which are passed over; 2. the rank at the head of a segment (a
 * line, or what stands between commas), behind titles, or behind the name; 3. letters of a service, which limit the rank, or a corps: one that is known, or one with a
 * numeral or a word for a kind of corps; 4. a known place; 5. the place of an office; 6. the name; 7. a place behind the name.
 * The rest is reported. Words that were erased are read only where nothing else names anybody.
 * @throws HeldbyError READING where the signs do not close; RANK where a rank given is none of the ladders.
 * @example readMark('Lieut. J. Ferr[..]d', { ladders }).surname === 'Ferr[..]d'
 */
export function readMark(text: string, context: MarkContext, overrides: PartOverrides = {}): MarkParts {
  const plain = plainMark(text);
  if (plain.text === text) return readPlain(text, context, overrides);
  // Of a crest alone nothing is left to read.
  const parts = readPlain(plain.text.trim() === '' ? '[---]' : plain.text, context, overrides);
  return { ...parts, reading: { ...parts.reading, text }, rest: [...plain.beside, ...parts.rest] };
}

function readPlain(text: string, context: MarkContext, overrides: PartOverrides): MarkParts {
  const { reading, words: read }: MarkText = markText(text);
  const words = withPoints(read, closed(context.ladders));
  const erased = words.filter(({ typed }) => /^⟦[^⟦⟧]*⟧$/.test(typed));
  if (erased.length > 0 && erased.length < words.length) {
    takeAs('rest', erased);
    const parts = partsOf(reading, words, context, overrides);
    if (parts.surname !== undefined) return parts;
  }
  return partsOf(
    reading,
    erased.length > 0 ? withPoints(markText(text).words, closed(context.ladders)) : words,
    context,
    overrides,
  );
}

/**
 * `Lieu[t.]`, `W[m.]`: where a word that is restored in part is an abbreviation, the point at its end is that of the
 * abbreviation, and no lost letter.
 */
function withPoints(words: readonly MarkWord[], ladders: readonly Ladder[]): readonly MarkWord[] {
  return words.map((word) => {
    if (!word.typed.endsWith('][.]')) return word;
    const text = word.text.replace(/\[\.\]$/, '.');
    const isAbbreviation =
      isTitle(text) || isHonour(text) || isKnownForename(word.key) || ranksStyled(text, ladders).length > 0;
    return isAbbreviation ? { ...word, text, typed: word.typed.replace(/\]\[\.\]$/, '\\.]') } : word;
  });
}

function partsOf(
  reading: Reading,
  words: readonly MarkWord[],
  context: MarkContext,
  overrides: PartOverrides,
): MarkParts {
  const date = takeDate(words);
  takeGiven(words, ['rank', 'corps', 'place'], overrides);
  takeGiver(words);
  takeBeside(words, closed(context.ladders));
  takeListedRank(words, closed(context.ladders));
  const options = context.when === undefined ? {} : { span: context.when };
  const styled = takeRank(words, context.ladders, options);
  if (styled === undefined) takeForeignRank(words);
  takeBehindRank(words, closed(context.ladders));
  const services = new Set(context.ladders.map((ladder) => ladder.service));
  const service = takeService(words, services, context.knownCorps ?? []);
  const rank = styled && ofService(styled, service);
  const corps = takeCorps(words, context.knownCorps ?? [], rank !== undefined || Boolean(overrides.rank));
  const knownPlace = takeKnownPlace(words, context.knownPlaces ?? []);
  takeNumbers(words);
  const seat = rank === undefined ? undefined : takeSeat(words, rank.until, context.knownPlaces ?? []);
  const name = takeName(words, rank?.until ?? 0);
  takeGiven(words, ['forenames', 'surname'], overrides);
  const place = knownPlace ?? seat ?? takePlace(words, name.until, context.knownPlaces ?? []);
  takeAs(
    'rest',
    words.filter((word) => word.part === undefined),
  );
  const given = (part: keyof PartOverrides, found: string | undefined): string | undefined => {
    const override = overrides[part];
    return override === undefined ? found : override.trim() === '' ? undefined : override;
  };
  return {
    reading,
    rank: overrides.rank === undefined ? rank : rankGiven(overrides.rank, context.ladders, options),
    surname: given('surname', name.surname),
    forenames: given('forenames', name.forenames),
    service,
    corps: given('corps', corps),
    place: given('place', place),
    date,
    rest: found(words)
      .filter(({ part }) => part === 'rest')
      .map((part) => part.text),
    found: found(words),
  };
}

/**
 * The words of parts that are given, where nothing else has taken them: those of a rank, corps or place are no part of the
 * name, whatever they look like, and those of a name are not left over.
 */
function takeGiven(
  words: readonly MarkWord[],
  parts: readonly (keyof PartOverrides)[],
  overrides: PartOverrides,
): void {
  for (const part of parts) {
    const keys = (overrides[part] ?? '')
      .split(/\s+/)
      .map(keyOf)
      .filter((key) => key !== '');
    if (keys.length === 0) continue;
    const start = words.findIndex((_, at) =>
      keys.every((key, i) => words[at + i]?.key === key && words[at + i]?.part === undefined),
    );
    if (start >= 0) takeAs(part, words.slice(start, start + keys.length));
  }
}

/** The ranks of the service that stands beside; all, where the style is none of that service's. */
function ofService(rank: TakenRank, service: string | undefined): TakenRank {
  const ranks = rank.ranks.filter((each) => each.service === service);
  return ranks.length === 0 ? rank : { ...rank, ranks };
}

type TakenRank = { readonly text: string; readonly ranks: readonly Rank[]; readonly until: number };

/** Ladders that know their ranks; of the others any word would be one. */
const closed = (ladders: readonly Ladder[]): readonly Ladder[] => ladders.filter(({ ranks }) => ranks.length > 0);

function takeRank(words: readonly MarkWord[], given: readonly Ladder[], options: RankOptions): TakenRank | undefined {
  const ladders = closed(given);
  if (ladders.length === 0) return undefined;
  return (
    rankAtHead(words, ladders, options) ?? rankAlone(words, ladders, options) ?? rankBehind(words, ladders, options)
  );
}

/** `Lieut.`, and nothing else: its point tells it from a name. */
function rankAlone(
  words: readonly MarkWord[],
  ladders: readonly Ladder[],
  options: RankOptions,
): TakenRank | undefined {
  const [only, another] = freeRuns(words);
  if (only === undefined || another !== undefined || !wordsText(only).endsWith('.')) return undefined;
  const ranks = ranksStyled(wordsText(only), ladders, options);
  return ranks.length === 0 ? undefined : taken(only, ranks);
}

function rankAtHead(
  words: readonly MarkWord[],
  ladders: readonly Ladder[],
  options: RankOptions,
): TakenRank | undefined {
  for (const run of freeRuns(words)) {
    const start = run.findIndex(
      (word) =>
        !isTitle(word.text) || findRankInText(wordsText(words.slice(words.indexOf(word))), ladders)?.start === 0,
    );
    const first = run[start];
    if (first === undefined) continue;
    const behind = words.slice(words.indexOf(first));
    const rank = findRankInText(wordsText(behind), ladders, options);
    const isRaised = hasRaisedEnd(first.text);
    if (rank?.start === 0 && (isRaised || wordsWithin(behind, rank.end) > 0)) {
      // "The Lord Bishop"; but whoever is told from the bearer of the rank is not nobody: "Mrs Col. Holt".
      takeAs(
        'title',
        run.slice(0, start).filter(({ key }) => !WIVES.has(key)),
      );
      const length = Math.max(isRaised ? 1 : 0, headLength(behind, rank, ladders));
      return taken(behind.slice(0, length + besideLength(behind.slice(length), ladders)), rank.ranks);
    }
    const beside = besideLength(behind.slice(1), ladders); // "Capt & Adjt" is no firm
    if (beside > 0) {
      const ranks = ranksStyled(first.text, ladders, options);
      if (ranks.length > 0) return taken(behind.slice(0, 1 + beside), ranks);
    }
  }
  return undefined;
}

/** Letters that stood raised behind the point of an abbreviation: `Cap.ne`. */
const hasRaisedEnd = (word: string): boolean =>
  isAscii(word) ? /^[A-Za-z]+\.[a-z]{1,3}$/.test(word) : /^\p{L}+\.\p{Ll}{1,3}$/u.test(word);

const WIVES = new Set(['mrs', 'madame', 'mme', 'frau']);

/** How many words the rank takes; said twice, as in "Ven. Archdeacon", all of them. */
function headLength(words: readonly MarkWord[], rank: RankInText, ladders: readonly Ladder[]): number {
  const length = wordsWithin(words, rank.end);
  const again = findRankInText(wordsText(words.slice(length)), ladders);
  const isSame =
    again?.start === 0 &&
    again.ranks.every(({ id, service }) => rank.ranks.some((each) => each.id === id && each.service === service));
  return again !== undefined && isSame ? length + wordsWithin(words.slice(length), again.end) : length;
}

/** How many words "and Adjt." takes behind a rank. */
function besideLength(words: readonly MarkWord[], ladders: readonly Ladder[]): number {
  if (!['&', 'and'].includes(words[0]?.text.toLowerCase() ?? '')) return 0;
  const second = words.slice(1);
  const rank = findRankInText(wordsText(second), ladders);
  return rank === undefined || rank.start > 0 ? 0 : 1 + wordsWithin(second, rank.end);
}

/** How many words lie before that place of their text; a point or a comma may stand behind the last. */
function wordsWithin(words: readonly MarkWord[], end: number): number {
  let length = 0;
  while (length < words.length && wordsText(words.slice(0, length + 1)).length <= end + 1) length++;
  // "Lieut. T. Holt": before a name a single letter is a forename, not "temporary".
  while (length > 1 && length < words.length && words[length - 1]?.key.length === 1) length--;
  return length;
}

const MOST_RANK_WORDS = 5;

/** A segment that is a rank and nothing else: "J. Ferrand, Captain"; or an abbreviation behind a name: "Ferrand Capt." */
function rankBehind(
  words: readonly MarkWord[],
  ladders: readonly Ladder[],
  options: RankOptions,
): TakenRank | undefined {
  const [head, ...others] = freeRuns(words);
  for (const run of others) {
    const ranks = ranksStyled(wordsText(run), ladders, options);
    const letters = run.every(({ text }) => isInitials(text));
    // "Ferrand, R.A." is of the Royal Artillery sooner than a rear-admiral.
    if (letters && (keyNamesCorps(wordsText(run)) || isHonour(wordsText(run)))) continue;
    if (ranks.length > 0 && run.length <= MOST_RANK_WORDS) return taken(run, ranks);
  }
  const run = head ?? [];
  for (let start = 1; start < run.length; start++) {
    if (!run.slice(0, start).some(({ key }) => key.length > 1)) continue;
    for (let length = Math.min(MOST_RANK_WORDS, run.length - start); length > 0; length--) {
      const style = run.slice(start, start + length);
      const ranks = ranksStyled(wordsText(style), ladders, options);
      const isTitleInFull = ranks.some(({ title }) => title.toLowerCase() === wordsText(style).toLowerCase());
      const isLast = start + length === run.length;
      if (ranks.length > 0 && !(isTitleInFull && isLast) && style.some(({ key }) => key.length > 1))
        return taken(style, ranks);
    }
  }
  return undefined;
}

function taken(words: readonly MarkWord[], ranks: readonly Rank[]): TakenRank {
  takeAs('rank', words);
  return { text: shownWords(words), ranks, until: words.at(-1)?.until ?? 0 };
}

/**
 * A rank that the researcher says a mark has.
 * @throws HeldbyError RANK for one that no ladder has.
 */
export function rankGiven(text: string, ladders: readonly Ladder[], options: RankOptions): MarkParts['rank'] {
  if (text.trim() === '') return undefined;
  const ranks = ranksStyled(text, ladders, options);
  if (ranks.length > 0) return { text, ranks };
  const reading = readRank(text, closed(ladders));
  const nearest =
    reading.kind === 'unknown' && reading.nearest.length > 0 ? ` Nearest: ${reading.nearest.join(', ')}.` : '';
  throw new HeldbyError(
    'RANK',
    `"${text}" is no rank of any service known here.`,
    `Write it as a list prints it.${nearest}`,
  );
}

/** Words of one part that follow each other, put together. */
function found(words: readonly MarkWord[]): readonly FoundPart[] {
  const groups: MarkWord[][] = [];
  for (const word of words) {
    const last = groups.at(-1)?.at(-1);
    if (last?.part === word.part && last?.segment === word.segment) groups.at(-1)?.push(word);
    else groups.push([word]);
  }
  return groups.map((group) => ({
    part: group[0]?.part ?? 'rest',
    text: shownWords(group),
    from: group[0]?.from ?? 0,
    until: group.at(-1)?.until ?? 0,
  }));
}
