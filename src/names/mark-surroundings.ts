import { HeldbyError } from '../errors.ts';
import { serviceOfLetters } from '../services/beside-rank.ts';
import { corpsKey } from '../services/corps-key.ts';
import { fold } from '../services/fold.ts';
import { ordinalAt } from '../services/ordinals.ts';
import { placeKey } from '../services/place.ts';
import type { DateReading } from '../time/date-reading.ts';
import { readDate } from '../time/read-date.ts';
import { hasLetter, hasSmall, startsWithCapital } from './characters.ts';
import { compile } from './compiled-pattern.ts';
import { isKnownForename } from './forename-forms.ts';
import { letterCost } from './letter-rows.ts';
import { POSSESSIVE } from './mark-name.ts';
import { freeRuns, type MarkWord, shownWords, takeAs, typedWords, wordsText } from './mark-text.ts';
import data from './mark-words.json' with { type: 'json' };
import { isInitials, isTitle } from './name.ts';
import { startsSurname } from './name-forms.ts';
import { foldName, patternFrom } from './pattern.ts';

/** What stands around the name in a mark: dates, corps and places. Each function marks the words it takes. */

type WordSets = {
  readonly corps: ReadonlySet<string>;
  readonly before: ReadonlySet<string>;
  readonly beside: ReadonlySet<string>;
};
let sets: WordSets | undefined;

function wordSets(): WordSets {
  sets ??= { corps: new Set(data.corps), before: new Set(data['before corps']), beside: new Set(data['beside corps']) };
  return sets;
}

const MOST_WORDS = 8;

/** Every stretch of free words of one segment, the longest first from each beginning. */
function* stretches(words: readonly MarkWord[]): Generator<readonly MarkWord[]> {
  for (const run of freeRuns(words))
    for (let start = 0; start < run.length; start++)
      for (let length = Math.min(MOST_WORDS, run.length - start); length > 0; length--)
        yield run.slice(start, start + length);
}

const YEAR = /(?<!\d)(?:1[4-9]|20)\d\d(?!\d)|\bM[DCLXVI]{3,}\b/;
const BEGINS_DATE =
  /^(?:\d|jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec|spring|summer|autumn|winter|ca?$|circa$|about$|before$|after$|M[DCLXVI]{3,}$)/i;

/** The first date with a year. */
export function takeDate(
  words: readonly MarkWord[],
): { readonly text: string; readonly reading: DateReading } | undefined {
  for (const stretch of stretches(words)) {
    const text = wordsText(stretch).replace(/[.:]$/, '');
    if (!BEGINS_DATE.test(stretch[0]?.key ?? '') && !BEGINS_DATE.test(stretch[0]?.text ?? '')) continue;
    const reading = YEAR.test(text) ? dateOf(text) : undefined;
    if (reading === undefined) continue;
    takeAs('date', stretch);
    takeBefore(words, stretch, data['beside date'], 'date');
    return { text, reading };
  }
  return undefined;
}

function dateOf(text: string): DateReading | undefined {
  try {
    return readDate(text);
  } catch (error) {
    if (error instanceof HeldbyError) return undefined;
    throw error;
  }
}

/** Takes the small words that lead up to a part along with it. */
function takeBefore(
  words: readonly MarkWord[],
  taken: readonly MarkWord[],
  small: readonly string[],
  part: 'date' | 'corps' | 'place',
): void {
  let at = words.indexOf(taken[0] as MarkWord) - 1;
  for (; at >= 0; at--) {
    const word = words[at];
    if (
      word === undefined ||
      word.part !== undefined ||
      word.segment !== taken[0]?.segment ||
      !small.includes(word.key)
    )
      return;
    takeAs(part, [word]);
  }
}

/** The first three letters in a row: a text that does not hold them does not hold the name. */
const scentOf = (name: string): string => /[^\s\d.'’-]{3}/.exec(fold(name))?.[0] ?? '';

/** A particle with a word behind it belongs to a surname (`La Follette`), whatever corps or place it may also stand for. */
function leadsSurname(words: readonly MarkWord[], stretch: readonly MarkWord[]): boolean {
  const [only, another] = stretch;
  const next = words[words.indexOf(stretch.at(-1) as MarkWord) + 1];
  return (
    only !== undefined &&
    another === undefined &&
    startsSurname(only.key) &&
    next?.segment === only.segment &&
    next.part === undefined
  );
}

/** The longest stretch that names one of the known ones, the last of several. */
function takeKnown(
  words: readonly MarkWord[],
  known: readonly string[],
  keyOf: (text: string) => string,
  part: 'corps' | 'place',
): string | undefined {
  const scent = fold(wordsText(words));
  const keys = new Set(known.filter((name) => scent.includes(scentOf(name))).map(keyOf));
  keys.delete('');
  if (keys.size === 0) return undefined;
  let best: readonly MarkWord[] | undefined;
  for (const stretch of stretches(words)) {
    const key = stretch.length < (best?.length ?? 0) ? '' : keyOf(wordsText(stretch));
    const isKnown = keys.has(key) && hasLetter(key) && !wordSets().beside.has(stretch[0]?.key ?? '');
    const isThere = part === 'corps' || !(isName(words, stretch) || isGoal(words, stretch));
    if (isKnown && !leadsSurname(words, stretch) && isThere) best = stretch;
  }
  while (best !== undefined && TRAILING.has(best.at(-1)?.key ?? '')) best = best.slice(0, -1);
  return best === undefined ? undefined : takeStretch(words, best, part, known);
}

/** Whether a stretch that is a place as well is the name here: behind rank or forenames, or with no other name about. */
function isName(words: readonly MarkWord[], stretch: readonly MarkWord[]): boolean {
  const before = words[words.indexOf(stretch[0] as MarkWord) - 1];
  const isBehind = before !== undefined && before.segment === stretch[0]?.segment;
  if (isBehind && (before.part === 'rank' || isForename(before) || isTitle(before.text))) return true;
  const others = words.filter((word) => word.part === undefined && !stretch.includes(word));
  return !others.some((word) => word.key.length > 1 && !isForename(word) && !data.place.includes(word.key));
}

/** "Lieut. Holt to Bombay": where a thing was sent tells nothing of where its owner was known. */
const isGoal = (words: readonly MarkWord[], stretch: readonly MarkWord[]): boolean => {
  const before = words[words.indexOf(stretch[0] as MarkWord) - 1];
  return before?.segment === stretch[0]?.segment && data.goal.includes(before?.key ?? '');
};

const isForename = ({ text, key }: MarkWord): boolean => isInitials(text) || isKnownForename(key);

/**
 * Takes a stretch as corps or place. Where letters of it are lost, it is the one known corps or place that fills the gaps
 * at no cost; if there is none, or more than one, it was not understood.
 */
function takeStretch(
  words: readonly MarkWord[],
  stretch: readonly MarkWord[],
  part: 'corps' | 'place',
  known: readonly string[],
): string | undefined {
  const text = shownWords(stretch).replace(part === 'place' ? END_OF_PLACE : END_OF_CORPS, '');
  const filled = text.includes('[') ? fillingOf(stretch, known) : text;
  if (filled === undefined) {
    takeAs('rest', stretch);
    return undefined;
  }
  if (part === 'corps' && TELLS_NO_CORPS.test(filled)) {
    takeAs('rest', stretch); // the number is lost
    return undefined;
  }
  takeAs(part, stretch);
  takeBefore(words, stretch, part === 'corps' ? data['beside corps'] : data.place, part);
  return filled;
}

/** Of one regiment as of any other. */
const TELLS_NO_CORPS =
  /^(?:regiment|regt|reg|rgt|battalion|batt|bn|corps|compan(?:y|ie)|coy|troop|squadron|battery|depot)\.?$/i;

/** A point behind a word is the end of the line; behind a short word of a corps it marks an abbreviation. */
const END_OF_PLACE = /(?<=[^\s\d.'’-]{4})\.$/;
const END_OF_CORPS = /(?<=[^\s\d.'’-]{6})\.$/;

function fillingOf(stretch: readonly MarkWord[], known: readonly string[]): string | undefined {
  const pattern = compile(patternFrom(typedWords(stretch)));
  const fitting = known.filter((name) => letterCost(pattern, foldName(name), 0) === 0);
  const [only, ...others] = [...new Map(fitting.map((name) => [foldName(name), name])).values()];
  return others.length > 0 ? undefined : only;
}

/** Words that tell nothing of a corps and belong to what follows. */
const TRAILING = new Set(['no', 'of', 'the', 'and', 'his', 'her', 'late']);

/**
 * The corps: 1. one that is known by this name; 2. what begins with a numeral, up to its last word that names a kind of
 * corps, or where the numeral is an ordinal, to the end of the segment; 3. a word that names a kind of corps with the
 * words that go before such, or the whole segment where nothing else stands in it;
 * 4. a ship.
 * @param hasRank a lone ordinal is a corps where a rank is borne.
 */
export function takeCorps(words: readonly MarkWord[], known: readonly string[], hasRank: boolean): string | undefined {
  const text = takeKnown(words, known, corpsKey, 'corps');
  if (text !== undefined) return text;
  for (const run of freeRuns(words)) {
    const stretch = numbered(run, hasRank) ?? ship(run) ?? named(run, words);
    if (stretch === undefined) continue;
    return takeStretch(words, stretch, 'corps', known);
  }
  return undefined;
}

/** Whether a word, by itself or as an abbreviation, names a kind of corps. */
function namesCorps({ text, key }: MarkWord): boolean {
  if (wordSets().corps.has(key)) return true;
  if (isTitle(text) && hasSmall(text)) return false; // "Ld." is no light dragoons
  // "Vol." and "Eng." are abbreviations; "re" is not the Royal Engineers, and "Ft" no name
  return startsWithCapital(text) && (text.length > 2 || text.includes('.')) && keyNamesCorps(text);
}

export const keyNamesCorps = (text: string): boolean =>
  corpsKey(text)
    .split(' ')
    .some((each) => wordSets().corps.has(each));

/** `[---]th`, `[.]4th`: no surname where a word for a corps follows. */
const DAMAGED_ORDINAL = /^\[(?:\.|---)\](?:\[\.\]|\d)*(?:st|nd|rd|th|d)\.?$/i;
const IS_ORDINAL = /^(?:\d+\/)?\d+(?:st|nd|rd|th|d)\.?$/i;

function numbered(run: readonly MarkWord[], hasRank: boolean): readonly MarkWord[] | undefined {
  for (let start = 0; start < run.length; start++) {
    const begins = run[start];
    const at = begins?.key === 'no' ? start + 1 : start;
    const number = run[at]?.text ?? '';
    const isNumber =
      /^\d/.test(number) ||
      DAMAGED_ORDINAL.test(number) ||
      ordinalAt([run[at]?.key ?? '', run[at + 1]?.key ?? ''], 0, false) !== undefined;
    if (begins === undefined || !isNumber) continue;
    const rest = run.slice(start);
    const last = rest.findLastIndex(namesCorps);
    if (last > 0) return rest.slice(0, last + 1);
    if (rest[1]?.text.startsWith('[')) return rest.slice(0, 2);
    const isOrdinal = IS_ORDINAL.test(number);
    if (isOrdinal && rest.length > 1 && startsWithCapital(rest[1]?.text ?? '')) return rest;
    if (isOrdinal && (hasRank || Number.parseInt(number, 10) > 4)) return rest.slice(0, 1);
  }
  return undefined;
}

function ship(run: readonly MarkWord[]): readonly MarkWord[] | undefined {
  const isVessel = (at: number): boolean =>
    data.vessels.includes(run[at]?.key ?? '') && (at === 0 || ['hm', 'the'].includes(run[at - 1]?.key ?? ''));
  const start = run.findIndex(({ key }, at) => data.ships.includes(key) || isVessel(at));
  if (start < 0 || start >= run.length - 1) return undefined;
  return run.slice(run[start - 1]?.key === 'hm' ? start - 1 : start);
}

function named(run: readonly MarkWord[], words: readonly MarkWord[]): readonly MarkWord[] | undefined {
  const last = run.findLastIndex((word, at) => namesCorps(word) && !areForenamesBefore(run, at));
  const segment = words.filter((word) => word.segment === run[0]?.segment);
  const alone = segment.length === run.length && run[0]?.segment !== words[0]?.segment;
  if (alone && last < 0 && keyNamesCorps(wordsText(run))) return run; // "R. E."
  if (last < 0) return undefined;
  if (alone) return run.slice(0, last + 1);
  let start = last;
  const isRoyal = (at: number): boolean => run[at]?.text === 'R.' && run.slice(0, at).some(({ key }) => key.length > 1); // "Holt R. Art."
  while (
    start > 0 &&
    (wordSets().before.has(run[start - 1]?.key ?? '') || namesCorps(run[start - 1] as MarkWord) || isRoyal(start - 1))
  )
    start--;
  while (start < last && wordSets().beside.has(run[start]?.key ?? '')) start++;
  // "Horse", "Foot", "Guards" and "Company" by themselves behind initials are surnames.
  if (
    start === last &&
    !(run[last]?.text ?? '').includes('.') &&
    run.slice(0, start).every((word) => word.key.length === 1)
  )
    return undefined;
  return run.slice(start, last + 1);
}

/** "R. E. Holt": letters that stand for a corps as well, but are followed by a name and come behind none. */
function areForenamesBefore(run: readonly MarkWord[], at: number): boolean {
  const next = run[at + 1];
  const isLetters = isInitials(run[at]?.text ?? '');
  return (
    isLetters &&
    next !== undefined &&
    next.key.length > 1 &&
    next.key !== 'no' &&
    !namesCorps(next) &&
    run.slice(0, at).every(isForename)
  );
}

/**
 * The service that letters or words behind the name stand for, `R.N.`, `R. Navy`, where a ladder of it is at hand and no corps bears that name.
 * It limits the ranks, and is no corps: lists of the service name ships or regiments there.
 */
export function takeService(
  words: readonly MarkWord[],
  services: ReadonlySet<string>,
  knownCorps: readonly string[],
): string | undefined {
  for (const run of freeRuns(words))
    for (const [at, word] of run.entries()) {
      const service = word.text === word.text.toUpperCase() ? serviceOfLetters(word.key) : undefined;
      if (service === undefined || !services.has(service) || areForenamesBefore(run, at)) continue;
      if (knownCorps.some((corps) => corpsKey(corps) === corpsKey(word.text))) continue;
      takeAs('service', [word]);
      return service;
    }
  for (const stretch of stretches(words)) {
    const key = stretch.map((word) => word.key).join('');
    const service = stretch.length > 1 ? serviceOfLetters(key) : undefined;
    if (service === undefined || knownCorps.some((corps) => corpsKey(corps) === corpsKey(wordsText(stretch)))) continue;
    if (key.length < SHORTEST_SERVICE && !isBehindName(words, stretch)) continue; // "R. N. Ferrand"
    if (!services.has(service)) {
      if (service === 'civil') takeAs('rest', stretch); // no place
      continue;
    }
    takeAs('service', stretch);
    return service;
  }
  return undefined;
}

const SHORTEST_SERVICE = 4;

/** Whether a name stands before these words, and nothing behind them, in their segment. */
function isBehindName(words: readonly MarkWord[], stretch: readonly MarkWord[]): boolean {
  const [first, last] = [words.indexOf(stretch[0] as MarkWord), words.indexOf(stretch.at(-1) as MarkWord)];
  const [before, next] = [words[first - 1], words[last + 1]];
  const isAfterName = before !== undefined && (before.segment !== stretch[0]?.segment || before.key.length > 1);
  return isAfterName && before.part === undefined && next?.segment !== stretch[0]?.segment;
}

/** A place that is known by this name, or else a great town. */
export const takeKnownPlace = (words: readonly MarkWord[], known: readonly string[]): string | undefined =>
  takeKnown(words, known, placeKey, 'place') ?? takeKnown(words, data.towns, placeKey, 'place');

/** The place of an office: "Vicar of Oakhaven". */
export function takeSeat(words: readonly MarkWord[], rankUntil: number, known: readonly string[]): string | undefined {
  const run = freeRuns(words.filter((word) => word.from >= rankUntil))[0];
  if (
    run === undefined ||
    !data.place.includes(run[0]?.key ?? '') ||
    words.find((word) => word.from >= rankUntil) !== run[0]
  )
    return undefined;
  const end = run.findIndex((word, at) => at > 0 && !mayBePlace(word));
  const seat = run.slice(0, end < 0 ? run.length : end);
  if (seat.length < 2) return undefined;
  takeAs('place', seat.slice(0, 1));
  return takeStretch(words, seat.slice(1), 'place', known);
}

/** Numbers that belong to no corps and no date: "No. 4". */
export function takeNumbers(words: readonly MarkWord[]): void {
  for (const run of freeRuns(words))
    for (const [at, word] of run.entries())
      if (/^\d+$/.test(word.key)) takeAs('rest', run[at - 1]?.key === 'no' ? run.slice(at - 1, at + 1) : [word]);
}

/** A place behind the name: 1. behind "of" or "at"; 2. the first free words that are nothing but capitalised words. */
export function takePlace(words: readonly MarkWord[], behind: number, known: readonly string[]): string | undefined {
  for (const run of freeRuns(words.filter((word) => word.from >= behind))) {
    const before = words[words.indexOf(run[0] as MarkWord) - 1];
    if (before?.segment === run[0]?.segment && POSSESSIVE.test(before?.text ?? '')) continue; // "Ferrand's Baggage"
    const after = run.findIndex((word) => data.place.includes(word.key));
    const stretch = after >= 0 ? run.slice(after + 1) : run;
    if (stretch.length > MOST_PLACE_WORDS || !isCapitalised(stretch[0]?.text ?? '')) continue;
    if (!stretch.every(mayBePlace) || stretch.some(namesCorps)) continue;
    takeAs('place', run.slice(after, after + 1));
    return takeStretch(words, stretch, 'place', known);
  }
  return undefined;
}

const MOST_PLACE_WORDS = 4;
const SMALL = new Set(['le', 'la', 'upon', 'on', 'by', 'the', 'sur', 'cum']);
const mayBePlace = ({ text, key }: MarkWord): boolean =>
  (isCapitalised(text) &&
    !/\d/.test(text) &&
    key.length > 1 &&
    !isInitials(text) &&
    !data.things.includes(key) &&
    !data.trades.includes(key) &&
    !data['ends name anyhow'].includes(key) &&
    !data.firm.includes(key)) ||
  SMALL.has(key);

const isCapitalised = (text: string): boolean => text.startsWith('[') || startsWithCapital(text);
