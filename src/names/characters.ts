import { fold } from '../services/fold.ts';

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
