import words from './data/rank-words.json' with { type: 'json' };
import { fold } from './fold.ts';
import { foldedWords } from './folded-words.ts';

const MARKUP = /<\/?su[bp]>/g;
const APOSTROPHE = /['’‘]/g;

/** What most titles and abbreviations are written with: nothing in it needs care. */
const PLAIN = /^[\w .,/-]*$/;

/** The words of a title or an abbreviation, folded; markup, brackets, points, hyphens and apostrophes are gone. */
export function wordsOf(text: string): readonly string[] {
  if (PLAIN.test(text)) return text.toLowerCase().match(/[a-z0-9]+/g) ?? [];
  return foldedWords(
    fold(text)
      .replace(MARKUP, '')
      .replace(APOSTROPHE, '')
      .replace(/[[\](){}⟨⟩^]/g, '')
      .replace(/&/g, ' and '),
  );
}

/** The letters and figures of a text alone: two ways of writing one abbreviation have one key. */
export const keyOf = (text: string): string => wordsOf(text).join('');

/** A name for use in commands and files: "Lieutenant-Colonel" is `lieutenant-colonel`. Empty where there is no letter. */
export const idOf = (text: string): string => wordsOf(text).join('-');

/** What each written word can stand for: `com` for commander, commodore … */
export type Vocabulary = {
  get(written: string): readonly string[] | undefined;
  /** Every written word known from printed lists, with what it stands for. */
  readonly listed: ReadonlyMap<string, readonly string[]>;
};

let listed: ReadonlyMap<string, readonly string[]> | undefined;

/** The words known from printed lists, each standing for itself too; made once for all ladders. */
function listedWords(): ReadonlyMap<string, readonly string[]> {
  if (listed !== undefined) return listed;
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
  listed = known;
  return known;
}

/** The words known from printed lists and the given further ones. */
export function vocabulary(further: Iterable<string>): Vocabulary {
  const known = listedWords();
  const own = new Map<string, readonly string[]>();
  for (const word of further) {
    const meanings = known.get(word) ?? [];
    if (!meanings.includes(word)) own.set(word, [...meanings, word]);
  }
  return { get: (written) => own.get(written) ?? known.get(written), listed: known };
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
