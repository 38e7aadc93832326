import { HeldbyError } from '../errors.ts';

/** Signs that stand for something else in a regular expression. */
const SPECIAL = /[\\^$.|?+()[\]{}/]/g;
const MOST_CHARACTERS = 300;

/** Whether words can be looked for: a letter or figure is among them, and they are not a whole page. */
export const saysSomething = (words: string): boolean => /[\p{L}\p{N}]/u.test(words) && words.length <= MOST_CHARACTERS;

/**
 * The pattern by which a house's own wording is found: words as they are written, whatever their case and the spaces
 * between them; `*` stands for the rest of a word. Regular expressions are not taken: a badly made one can go on for
 * ever.
 * @example housePattern('Harbour Trust*') finds "HARBOUR  TRUSTEES"
 * @throws HeldbyError VALUE when it says nothing.
 */
export function housePattern(words: string): RegExp {
  const parts = words.trim().split(/\s+/);
  if (!saysSomething(words))
    throw new HeldbyError(
      'VALUE',
      `"${words.slice(0, 40)}" is no wording to look for.`,
      'Write the words as they stand on a mark; * stands for the rest of a word.',
      'pattern',
    );
  const pattern = parts
    .map((part) => part.replace(SPECIAL, '\\$&').replaceAll('*', "[\\p{L}\\p{N}.'’-]*"))
    .join('\\s+');
  return new RegExp(`(?<![\\p{L}\\p{N}])${pattern}(?![\\p{L}\\p{N}])`, 'giu');
}
