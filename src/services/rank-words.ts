import words from './data/rank-words.json' with { type: 'json' };
import { fold } from './fold.ts';

const MARKUP = /<\/?su[bp]>/g;
const APOSTROPHE = /['’‘]/g;
const WORD = /[\p{L}\p{N}]+/gu;

/** The words of a title or an abbreviation, folded; markup, brackets, points, hyphens and apostrophes are gone. */
export const wordsOf = (text: string): readonly string[] =>
  fold(text)
    .replace(MARKUP, '')
    .replace(APOSTROPHE, '')
    .replace(/[[\](){}⟨⟩^]/g, '')
    .replace(/&/g, ' and ')
    .match(WORD) ?? [];

/** The letters and figures of a text alone: two ways of writing one abbreviation have one key. */
export const keyOf = (text: string): string => wordsOf(text).join('');

/** A name for use in commands and files: "Lieutenant-Colonel" is `lieutenant-colonel`. Empty where there is no letter. */
export const idOf = (text: string): string => wordsOf(text).join('-');

/** What each written word can stand for: `com` for commander, commodore … */
export type Vocabulary = ReadonlyMap<string, readonly string[]>;

/** The words known from printed lists, each standing for itself too, and the given further words. */
export function vocabulary(further: Iterable<string>): Vocabulary {
  const known = new Map<string, string[]>();
  const add = (written: string, meant: string): void => {
    const meanings = known.get(written);
    if (meanings === undefined) known.set(written, [meant]);
    else if (!meanings.includes(meant)) meanings.push(meant);
  };
  for (const [word, spellings] of Object.entries(words.words)) {
    add(word, word);
    for (const spelling of spellings) add(spelling, word);
  }
  for (const word of further) add(word, word);
  return known;
}

/** Longer keys are no rank; the limit keeps hostile input from costing time. */
const LONGEST_KEY = 80;

/**
 * Every way to cut a key into known words, each given as the key of the words meant: `ltcol` gives
 * `lieutenantcolonel`. Spaces, points and hyphens are gone from a key, so where they stood plays no part.
 */
export function meanings(key: string, known: Vocabulary): ReadonlySet<string> {
  if (key.length > LONGEST_KEY) return new Set();
  const fromHere: Set<string>[] = [];
  fromHere[key.length] = new Set(['']);
  for (let start = key.length - 1; start >= 0; start--) {
    const found = new Set<string>();
    for (let end = start + 1; end <= key.length; end++) {
      for (const word of known.get(key.slice(start, end)) ?? []) {
        for (const rest of fromHere[end] ?? []) found.add(word + rest);
      }
    }
    fromHere[start] = found;
  }
  return fromHere[0] ?? new Set();
}
