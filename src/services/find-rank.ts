import { readBeside } from './beside-rank.ts';
import { isAscii } from './fold.ts';
import type { Ladder } from './ladder.ts';
import type { Rank } from './rank.ts';
import { matchesOf } from './rank-index.ts';
import { keyOf } from './rank-words.ts';
import { type RankOptions, ranksStyled } from './read-rank.ts';

/** A rank before a name: the text from `start` up to, not including, `end`. */
export type RankInText = {
  /** The first of `ranks`; its title serves for all where the ladders agree. */
  readonly rank: Rank;
  /** Every rank, of every ladder given, that the style can stand for. */
  readonly ranks: readonly Rank[];
  readonly start: number;
  readonly end: number;
};

const wordsIn = (text: string): RegExp =>
  isAscii(text) ? /[A-Za-z0-9^[\](){}]+|&/g : /[\p{L}\p{M}\p{N}^[\](){}⟨⟩]+|&/gu;
const saysMore = (after: string): boolean =>
  isAscii(after) ? /[A-Za-z0-9[]/.test(after) : /[\p{L}\p{N}[]/u.test(after);
const isJoined = (after: string): boolean => (isAscii(after) ? /^-[A-Za-z]/.test(after) : /^[-‐]\p{L}/u.test(after));

const MOST_WORDS = 7; // "Captain and Lieutenant-Colonel" with words before it
const POINTS_AFTER = /^[.:,;]+/;
/** What makes the words before it a firm's name: "Major & Co." */
const FIRM = /^\s*(?:&|and\b|co\b|sons?\b|bros\b|brothers\b|ltd\b|limited\b)/i;

type Word = { readonly text: string; readonly start: number; readonly end: number };

/**
 * The rank at the head of the words on an object: "Lieut. J. Ferr[..]d", "late Bt. Major Holt". The longest wording
 * wins, so that "Lieut.-Col." is no lieutenant. Not a rank at the head of words are
 * (1) single letters and initials, which are forenames there, also behind a rank: "Lieut. T. Holt" is a T. Holt;
 * (2) a wording that nothing follows: it is a surname as well as a rank;
 * (3) a word joined to the next by a hyphen, "Major-Holt";
 * (4) a word before "& Co." and the like, which is a firm;
 * (5) a word that a lost letter cuts off, "Cap[.]".
 * @param options when it was written: of several meanings those of the day count, if there are any.
 */
export function findRankInText(
  text: string,
  ladders: readonly Ladder[],
  options: RankOptions = {},
): RankInText | undefined {
  const words: Word[] = [];
  for (const match of text.matchAll(wordsIn(text))) {
    if (words.length === MOST_WORDS) break;
    words.push({ text: match[0], start: match.index, end: match.index + match[0].length });
  }
  const keys = words.map((word) => (word.text === '&' ? 'and' : keyOf(word.text)));
  const isStyle = (start: number, end: number): boolean => {
    const key = keys.slice(start, end).join('');
    return ladders.some((ladder) => matchesOf(key, ladder).some((match) => !match.columnOnly && !match.initials));
  };
  for (let length = words.length; length > 0; length--) {
    const first = words[0];
    const last = words[length - 1];
    if (first === undefined || last === undefined) return undefined;
    const after = text.slice(last.end);
    const cut = words.slice(0, length).some((word) => word.text.split('[').length !== word.text.split(']').length);
    if (cut || !saysMore(after) || isJoined(after) || FIRM.test(after)) continue;
    for (let start = 0; start < length; start++) {
      if (!isStyle(start, length)) continue;
      if (isInitial(last, words[length - 2]) && isStyle(start, length - 1)) continue;
      if (readBeside(keys.slice(0, start), { column: false, slashed: false }) === undefined) continue;
      const ranks = ranksStyled(text.slice(words[start]?.start, last.end), ladders, options);
      const rank = ranks[0];
      if (rank === undefined) continue;
      return { rank, ranks, start: first.start, end: last.end + (POINTS_AFTER.exec(after)?.[0].length ?? 0) };
    }
  }
  return undefined;
}

/** A single letter apart from the word before it, or a capital: not the raised t of "Lieut.t". */
const isInitial = ({ text, start }: Word, before: Word | undefined): boolean =>
  text.length === 1 && before !== undefined && (start > before.end + 1 || text !== text.toLowerCase());
