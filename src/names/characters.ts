import { fold, isAscii } from '../services/fold.ts';

/**
 * What a character is. Most are plain letters, and are told without a regular expression over all of Unicode: making one
 * takes longer than reading a mark.
 */

const isPlainLetter = (code: number): boolean => (code >= 97 && code <= 122) || (code >= 65 && code <= 90);
const isFigure = (code: number): boolean => code >= 48 && code <= 57;

/** Whether a text begins with a letter. */
export function startsWithLetter(text: string): boolean {
  const code = text.charCodeAt(0); // NaN for an empty text
  return code < 128 ? isPlainLetter(code) : /^\p{L}/u.test(text);
}

/** Whether a text begins with a letter or a figure. */
export function startsWithWord(text: string): boolean {
  const code = text.charCodeAt(0);
  return code < 128 ? isPlainLetter(code) || isFigure(code) : /^[\p{L}\p{N}]/u.test(text);
}

/** Whether a text begins with a capital. */
export const startsWithCapital = (text: string): boolean => isCapital(text.charAt(0));

/** Whether one character is a capital: a letter that has a small form. */
export const isCapital = (char: string): boolean => char !== char.toLowerCase();

/** Whether one character is a small letter that has a capital. */
export const isSmall = (char: string): boolean => char !== char.toUpperCase() && !isCapital(char);

export const hasSmall = (text: string): boolean => [...text].some(isSmall);
export const hasLetter = (text: string): boolean => [...text].some(startsWithLetter);

/** The letters and figures of a word, folded: the key of an abbreviation. */
export function keyOf(word: string): string {
  let key = '';
  for (const char of fold(word)) if (startsWithWord(char)) key += char;
  return key;
}

const pointsBetween = (text: string): RegExp =>
  isAscii(text)
    ? /(?<![A-Za-z\d])([A-Za-z\d]+)\.(?=((?=\d*[A-Z])[A-Za-z\d]+)(\.?))/g
    : /(?<![\p{L}\d])([\p{L}\d]+)\.(?=((?=\d*\p{Lu})[\p{L}\d]+)(\.?))/gu;
const SHORT_STYLES = new Set(['lt', 'mr', 'dr', 'wm']);

/**
 * Places behind points that end a word though no space follows, as cut letters have them: `CAPT.J.HARROWAY`, `J.P.Ferrand`.
 * Letters that stand for words (`R.E.`, `Ph.D.`) and raised ones (`Tho.s`, `THO.S`) stay with theirs.
 */
export function endsWithoutSpace(text: string): readonly number[] {
  if (!/\.[^\s.]/.test(text)) return [];
  const ends: number[] = [];
  for (const match of text.matchAll(pointsBetween(text))) {
    const [, before = '', after = '', point] = match;
    const isWord = after.length > 2 || before.length > 2 || SHORT_STYLES.has(before.toLowerCase());
    if (isWord && (after.length > 1 || point !== '')) ends.push(match.index + before.length + 1);
  }
  return ends;
}
