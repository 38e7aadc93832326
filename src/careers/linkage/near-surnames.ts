import { nameForms } from '../../names/name-forms.ts';
import { type Pattern, patternFrom } from '../../names/pattern.ts';
import { surnameCost } from '../../names/surname-cost.ts';
import { FEW_LETTERS_BITS } from './forename-table.ts';

/** Bits within which two spellings are no more than that; a letter missing, other or added is beyond. */
const SPELLING_BITS = 7;

/** One element of a compound name is another name. */
const LIMITS = { elementBits: Number.POSITIVE_INFINITY, limitBits: FEW_LETTERS_BITS };

/** For each surname those that a slip of the pen or of the printer turns it into, as rows of one table. */
export type NearSurnames = {
  /** The rows of a surname are from `first[s]` up to, not including, `first[s + 1]`. */
  readonly first: Int32Array;
  readonly other: Int32Array;
  /** 1: another spelling, 2: a few letters differ; the levels of the field `surname`. */
  readonly level: Uint8Array;
};

/** The level of two different surnames; 0 where they are not near. */
export function nearness(near: NearSurnames, a: number, b: number): number {
  const until = near.first[a + 1] as number;
  for (let row = near.first[a] as number; row < until; row++)
    if (near.other[row] === b) return near.level[row] as number;
  return 0;
}

/**
 * Pairs are found by what is left of each name when one letter is left out: two names that are one step apart have one of
 * these in common, and so have two with neighbours changed. Mc, Mac and M', and a name with and without its particle, are
 * each looked for in every spelling. Then the costs of the letters decide.
 * @see Mor and Fraenkel, "A Hash Code Method for Detecting and Correcting Spelling Errors", Communications of the ACM 25
 * (1982): dictionaries of words with letters left out.
 */
export function nearSurnames(surnames: readonly string[]): NearSurnames {
  const bins = new Map<string, number[]>();
  const put = (key: string, number: number): void => {
    const bin = bins.get(key);
    if (bin === undefined) bins.set(key, [number]);
    else if (bin.at(-1) !== number) bin.push(number);
  };
  for (const [number, name] of surnames.entries()) {
    if (name === '') continue;
    for (const { text, kind } of nameForms(name)) {
      if (kind !== 'whole' && kind !== 'respelt') continue;
      const letters = text.replace(/[^\p{L}\p{N}]/gu, '');
      put(letters, number);
      for (let at = 0; at < letters.length; at++) put(letters.slice(0, at) + letters.slice(at + 1), number);
    }
  }
  const patterns = new Map<number, Pattern>();
  const levelOf = (a: number, b: number): number => {
    const pattern = patterns.get(a) ?? patternFrom(surnames[a] ?? '');
    patterns.set(a, pattern);
    const bits = surnameCost(pattern, surnames[b] ?? '', LIMITS);
    return bits > FEW_LETTERS_BITS ? 0 : bits <= SPELLING_BITS ? 1 : 2;
  };
  const pairs: { a: number; b: number; level: number }[] = [];
  const seen = new Set<number>();
  for (const bin of bins.values()) {
    for (let i = 0; i < bin.length; i++) {
      for (let j = i + 1; j < bin.length; j++) {
        const [a, b] = [Math.min(bin[i] as number, bin[j] as number), Math.max(bin[i] as number, bin[j] as number)];
        const key = a * surnames.length + b;
        if (seen.has(key)) continue;
        seen.add(key);
        const level = levelOf(a, b);
        if (level > 0) pairs.push({ a, b, level }, { a: b, b: a, level });
      }
    }
  }
  return rowsOf(pairs, surnames.length);
}

function rowsOf(pairs: readonly { a: number; b: number; level: number }[], count: number): NearSurnames {
  const first = new Int32Array(count + 1);
  for (const { a } of pairs) first[a + 1] = (first[a + 1] as number) + 1;
  for (let at = 0; at < count; at++) first[at + 1] = (first[at + 1] as number) + (first[at] as number);
  const next = first.slice();
  const other = new Int32Array(pairs.length);
  const level = new Uint8Array(pairs.length);
  for (const pair of pairs) {
    const row = next[pair.a] as number;
    next[pair.a] = row + 1;
    other[row] = pair.b;
    level[row] = pair.level;
  }
  return { first, other, level };
}
