import { lettersApart } from '../services/letters-apart.ts';

/** So many letters may be wrong for each that is right. */
const WRONG_FOR_RIGHT = 0.4;

/**
 * The name that is written most like a word, if any is near: the fewest letters added, left out, changed, or changed
 * about with their neighbour; a name that begins with the word before any other.
 * @see Lowrance and Wagner, "An Extension of the String-to-String Correction Problem", Journal of the ACM 22 (1975).
 */
export function nearestOf(word: string, names: readonly string[]): string | undefined {
  const wanted = word.toLowerCase();
  const begun = names.filter((name) => wanted.length > 1 && name.toLowerCase().startsWith(wanted));
  if (begun[0] !== undefined) return begun[0];
  const [best] = names
    .map((name) => ({ name, letters: lettersApart(wanted, name.toLowerCase()) }))
    .sort((a, b) => a.letters - b.letters);
  return best !== undefined && best.letters <= Math.max(1, WRONG_FOR_RIGHT * Math.min(wanted.length, best.name.length))
    ? best.name
    : undefined;
}
