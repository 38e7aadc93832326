import { isKnownForename } from '../names/forename-forms.ts';
import { isHonour, isInitials, isTitle } from '../names/name.ts';
import { corpsKey } from '../services/corps-key.ts';
import { fold } from '../services/fold.ts';
import type { Ladder } from '../services/ladder.ts';
import { lettersApart } from '../services/letters-apart.ts';
import { readRank } from '../services/read-rank.ts';
import type { Known } from './compact-line-parts.ts';

/** So many letters of a word may be slips of the fingers; a shorter word with one is sooner another word. */
const SHORTEST_WORD = 5;
const LONG_WORD = 8;
const slipsIn = (word: string): number => (word.length < LONG_WORD ? 1 : 2);

/** Of a short name a letter makes another (Corbet, Cornet): it is a slip only where its letters are out of order. */
const SHORTEST_RANK = 7;
/** Shorter ones are sooner initials. */
const SHORTEST_WITHIN = 3;
const inOrder = (word: string): string => [...word].sort().join('');

const isSlip = (typed: string, meant: string): boolean =>
  typed !== meant &&
  Math.min(typed.length, meant.length) >= SHORTEST_WORD &&
  lettersApart(typed, meant) <= slipsIn(meant);

/** A sentence where a corps that is new is a known one but for a slip in one word. */
export function corpsSlip(typed: string, known: ReadonlyMap<string, string>): string | undefined {
  const words = corpsKey(typed).split(' ');
  const meant = [...known].find(([key]) => {
    const each = key.split(' ');
    const other = words.flatMap((word, at) => (word === each[at] ? [] : [at]));
    const [at] = other;
    if (each.length !== words.length || other.length !== 1 || at === undefined) return false;
    const [typedWord = '', knownWord = ''] = [words[at], each[at]];
    return !/\d/.test(typedWord + knownWord) && isSlip(typedWord, knownWord);
  })?.[1];
  return meant === undefined ? undefined : `no corps “${typed}” is known yet: is it ${meant}?`;
}

/** A sentence where the word before a name is a rank but for a slip; it would become a forename. */
export function rankSlip(name: string, { ranks }: Ladder): string | undefined {
  const [first = '', ...others] = name.split(' ');
  const typed = fold(first).replaceAll(/[^a-z]/g, '');
  if (others.length === 0 || first.endsWith(',') || isKnownForename(typed)) return undefined;
  if (isInitials(first) || isTitle(first) || isHonour(first)) return undefined;
  const meant = ranks
    .flatMap(({ rank, forms }) => [rank.title, ...forms.map(({ text }) => text)])
    .find((text) => {
      const title = fold(text);
      const alike = title.length >= SHORTEST_RANK || inOrder(title) === inOrder(typed);
      return alike && isSlip(typed, title) && title.startsWith(typed.charAt(0));
    });
  return meant === undefined
    ? undefined
    : `“${first}” is taken for a forename: is it the rank ${meant}? If it is a name, keep it`;
}

/** A sentence where a rank stands within a name, `Mjor Maj Philip Holt`: the word before it is then no forename. */
export function rankWithin(name: string, known: Known): string | undefined {
  const words = name.split(/\s+/).slice(1, -1);
  const rank = words.find((word) => {
    const typed = fold(word).replaceAll(/[^a-z]/g, '');
    if (typed.length < SHORTEST_WITHIN || isKnownForename(typed) || isTitle(word) || isHonour(word)) return false;
    // In full it is a forename sooner than a slip: Major, General, Marshal.
    const reading = readRank(word, known.ladder, { column: true, span: known.asAt });
    return reading.kind === 'found' && fold(reading.rank.title) !== typed;
  });
  return rank === undefined ? undefined : `“${rank}” stands within the name: is it the rank? If it is a name, keep it`;
}

/** A sentence where small letters before a name are taken for initials and can be a rank, `qm hobday`. */
export function initialsSlip(typed: string, known: Known): string | undefined {
  const first = /^(\p{Ll}{2,3})\s+\p{Ll}/u.exec(typed)?.[1];
  if (first === undefined || !isInitials(first.toUpperCase())) return undefined;
  const reading = readRank(first, known.ladder, { column: true, span: known.asAt });
  const meant = reading.kind === 'found' ? reading.rank.title : undefined;
  return meant === undefined
    ? undefined
    : `“${first}” is taken for initials: is it the rank ${meant} (^${first})? If they are initials, keep them`;
}
