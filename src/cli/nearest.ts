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
    .map((name) => ({ name, letters: distance(wanted, name.toLowerCase()) }))
    .sort((a, b) => a.letters - b.letters);
  return best !== undefined && best.letters <= Math.max(1, WRONG_FOR_RIGHT * Math.min(wanted.length, best.name.length))
    ? best.name
    : undefined;
}

function distance(a: string, b: string): number {
  let twoAbove: number[] = [];
  let above = Array.from({ length: b.length + 1 }, (_, at) => at);
  for (let i = 1; i <= a.length; i += 1) {
    const row = [i];
    for (let j = 1; j <= b.length; j += 1) {
      const same = a[i - 1] === b[j - 1];
      let least = Math.min((above[j] ?? 0) + 1, (row[j - 1] ?? 0) + 1, (above[j - 1] ?? 0) + (same ? 0 : 1));
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1])
        least = Math.min(least, (twoAbove[j - 2] ?? 0) + 1);
      row.push(least);
    }
    twoAbove = above;
    above = row;
  }
  return above[b.length] ?? 0;
}
