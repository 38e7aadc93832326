import data from './letter-costs.json' with { type: 'json' };

/**
 * The letter costs as tables for the inner loops: whole numbers of **half bits**, letters as codes.
 * Codes: a–z are 1 to 26, the separators 27 to 29, every other letter or figure its UTF-16 code (48 and up).
 */
export const HALF_BITS = 2;

export const FIRST_SEPARATOR = 27;
export const LAST_SEPARATOR = 29;
const SEPARATORS = " -'";

/** Row length of tables that are indexed by a letter; class 31 is every letter outside a–z. */
export const CLASSES = 32;
export const OTHER_CLASS = 31;

export const codeOf = (char: string): number => {
  const code = char.charCodeAt(0);
  if (code >= 97 && code <= 122) return code - 96;
  const separator = SEPARATORS.indexOf(char);
  return separator < 0 ? code : FIRST_SEPARATOR + separator;
};

export const charOf = (code: number): string => {
  if (code <= 26) return String.fromCharCode(code + 96);
  return code <= LAST_SEPARATOR ? SEPARATORS.charAt(code - FIRST_SEPARATOR) : String.fromCharCode(code);
};

export const isSeparator = (code: number): boolean => code >= FIRST_SEPARATOR && code <= LAST_SEPARATOR;

type Step = keyof typeof data.steps;

/** Two letters of one side for one letter of the other, or for none (`single` 0). */
type Digraph = {
  readonly first: number;
  readonly second: number;
  readonly single: number;
  readonly halfBits: number;
  readonly reason: string;
};

export type LetterCosts = {
  readonly step: Readonly<Record<Step, number>>;
  /** Half bits of a pair of single letters at `a * CLASSES + b`; 0 where they are no pair. */
  readonly pair: Uint8Array;
  /** At `first * CLASSES + second`: 1 + the place in `digraphs`; 0 where the letters are none. */
  readonly digraphAt: Uint8Array;
  readonly digraphs: readonly Digraph[];
  /** Half bits of the two letters that may be silent. */
  readonly silent: Digraph;
  readonly reasonOfPair: (a: number, b: number) => string;
  readonly reasonOf: (step: Step) => string;
};

/** Names are compared from their first letter on, or from their last back. */
export type Direction = 'forward' | 'backward';

const tables: Partial<Record<Direction, LetterCosts>> = {};

/** Built on first use. Backward, the two letters of a digraph come in the other order. */
export function letterCosts(direction: Direction): LetterCosts {
  const known = tables[direction] ?? build(direction);
  tables[direction] = known;
  return known;
}

function build(direction: Direction): LetterCosts {
  const pair = new Uint8Array(CLASSES * CLASSES);
  const digraphAt = new Uint8Array(CLASSES * CLASSES);
  const reasons = new Map<number, string>();
  const digraphs: Digraph[] = [];
  for (const { letters, bits, reason } of data.pairs) {
    const [from = '', to = ''] = letters;
    const halfBits = bits * HALF_BITS;
    const [a, b] = [codeOf(from.charAt(0)), codeOf(from.charAt(1))];
    const single = to === '' ? 0 : codeOf(to);
    if (from.length === 1) {
      for (const at of [a * CLASSES + single, single * CLASSES + a]) {
        pair[at] = halfBits;
        reasons.set(at, reason);
      }
    } else {
      const [first, second] = direction === 'forward' ? [a, b] : [b, a];
      digraphs.push({ first, second, single, halfBits, reason });
      digraphAt[first * CLASSES + second] = digraphs.length;
    }
  }
  const silent = digraphs.find(({ single }) => single === 0);
  if (silent === undefined) throw new Error('The table of letter costs has no silent letters.');
  const step = Object.fromEntries(Object.entries(data.steps).map(([name, { bits }]) => [name, bits * HALF_BITS]));
  return {
    step: step as Record<Step, number>,
    pair,
    digraphAt,
    digraphs,
    silent,
    reasonOfPair: (a, b) => reasons.get(a * CLASSES + b) ?? '',
    reasonOf: (name) => data.steps[name].reason,
  };
}
