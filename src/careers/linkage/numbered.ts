/** Numbers for distinct texts, in the order of their first use. */
export class Numbered {
  readonly texts: string[] = [];
  readonly #numbers = new Map<string, number>();

  of(text: string): number {
    const known = this.#numbers.get(text);
    if (known !== undefined) return known;
    this.#numbers.set(text, this.texts.length);
    return this.texts.push(text) - 1;
  }
}

/** The same function, reckoned once for each distinct wording. */
export function once(make: (text: string) => number): (text: string) => number {
  const made = new Map<string, number>();
  return (text) => {
    let number = made.get(text);
    if (number === undefined) {
      number = make(text);
      made.set(text, number);
    }
    return number;
  };
}

/** Order of texts by their letters, the same on every machine. */
export const compareTexts = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

/** For each number below `count` how often it stands among the values; -1 is no number. */
export function countValues(values: Int32Array, count: number): Int32Array {
  const counts = new Int32Array(count);
  for (const value of values) if (value >= 0) counts[value] = (counts[value] as number) + 1;
  return counts;
}
