import { fold } from './fold.ts';
import { foldedWords } from './folded-words.ts';

/** One key for the ways of writing a place: letters folded, points and hyphens gone, Saint as St. */
export const placeKey = (text: string): string =>
  foldedWords(fold(text).replace(/['’‘]/g, ''))
    .map((word) => (word === 'saint' || word === 'sainte' ? 'st' : word))
    .join(' ');

/** What stands before the first comma or bracket: "Oakhaven" of "Oakhaven, Fenshire". */
const headOf = (text: string): string => text.split(/[,(]/)[0] ?? '';

/** Whether two texts can name one place: alike, or one of them adds no more than where it lies. */
export function samePlace(a: string, b: string): boolean {
  const [wholeA, wholeB] = [placeKey(a), placeKey(b)];
  if (wholeA === '' || wholeB === '') return false;
  return wholeA === wholeB || wholeA === placeKey(headOf(b)) || wholeB === placeKey(headOf(a));
}
