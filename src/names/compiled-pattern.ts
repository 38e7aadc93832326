import {
  CLASSES,
  codeOf,
  type Direction,
  FIRST_SEPARATOR,
  isSeparator,
  LAST_SEPARATOR,
  type LetterCosts,
  letterCosts,
  OTHER_CLASS,
} from './letter-costs.ts';
import type { Pattern, Unit } from './pattern.ts';

/** A step that cannot be taken, in tables of half bits. */
export const NEVER = 255;

/**
 * What each unit of a pattern costs against each letter, in half bits, so that the inner loop only adds and compares.
 * A lost letter is one letter, whatever it was, and a run any number of them; neither is a letter that was read, so they
 * take no part in look-alikes, doubled letters or letters that changed places.
 */
export type CompiledPattern = {
  /** In the order of comparison. */
  readonly units: Pattern;
  readonly costs: LetterCosts;
  /** `[unit * CLASSES + letter]`: the unit for that letter. */
  readonly one: Uint8Array;
  /** The code of a unit's letter where it lies outside a–z, else 0. */
  readonly own: Uint16Array;
  /** `[unit]`: 1 for a letter that was read. */
  readonly read: Uint8Array;
  /** `[unit * CLASSES + letter]`: this unit and the next for that one letter. */
  readonly twoForOne: Uint8Array;
  /** `[unit * digraphs + digraph - 1]`: the unit for those two letters of the name. */
  readonly oneForTwo: Uint8Array;
  /** `[unit]`: the unit for nothing. */
  readonly added: Uint8Array;
  /** `[unit]`: this unit and the next for nothing. */
  readonly addedTwo: Uint8Array;
  /** `[unit]`: 1 where this unit and the next are letters that were read. */
  readonly pairs: Uint8Array;
  /** `[letter * CLASSES + letter]`: 1 where a step over these two letters of the name is possible. */
  readonly letterPairs: Uint8Array;
  /** `[state]`: 1 behind a run, where letters of the name cost nothing. */
  readonly behindRun: Uint8Array;
  /** The least that a step over two letters of the name costs. */
  readonly leastOfTwo: number;
};

const compiled: Readonly<Record<Direction, WeakMap<Pattern, CompiledPattern>>> = {
  forward: new WeakMap(),
  backward: new WeakMap(),
};

export function compile(pattern: Pattern, direction: Direction = 'forward'): CompiledPattern {
  const known = compiled[direction].get(pattern);
  if (known !== undefined) return known;
  const made = build(direction === 'forward' ? pattern : [...pattern].reverse(), letterCosts(direction));
  compiled[direction].set(pattern, made);
  return made;
}

/** A letter as read: what it may be. */
type Letter = { readonly codes: readonly number[]; readonly dotted: boolean };

const letterOf = (unit: Unit | undefined): Letter | undefined =>
  unit?.kind === 'letter' ? { codes: [unit.letter, ...(unit.also ?? [])].map(codeOf), dotted: unit.dotted } : undefined;

function build(units: Pattern, costs: LetterCosts): CompiledPattern {
  const length = units.length;
  const digraphs = costs.digraphs.length;
  const made: CompiledPattern = {
    units,
    costs,
    one: new Uint8Array(length * CLASSES).fill(NEVER),
    own: new Uint16Array(length),
    read: new Uint8Array(length),
    twoForOne: new Uint8Array(length * CLASSES).fill(NEVER),
    oneForTwo: new Uint8Array(length * digraphs).fill(NEVER),
    added: new Uint8Array(length),
    addedTwo: new Uint8Array(length).fill(NEVER),
    pairs: new Uint8Array(length),
    letterPairs: new Uint8Array(CLASSES * CLASSES),
    behindRun: new Uint8Array(length + 1),
    leastOfTwo: units.some((unit) => unit.kind === 'letter' && unit.dotted)
      ? costs.step.dottedPair
      : costs.step.doubled,
  };
  allow(made.letterPairs, costs.silent.first, costs.silent.second);
  for (const [index, unit] of units.entries()) {
    const letter = letterOf(unit);
    const next = letterOf(units[index + 1]);
    if (unit.kind === 'run') made.behindRun[index + 1] = 1;
    else if (unit.kind === 'separator') fillSeparator(made, index, codeOf(unit.sign));
    else if (letter === undefined) fillLost(made, index);
    else {
      fillLetter(made, index, letter);
      if (next !== undefined) fillPair(made, index, letter, next);
    }
  }
  return made;
}

function fillSeparator({ one, added, costs }: CompiledPattern, index: number, code: number): void {
  for (let sign = FIRST_SEPARATOR; sign <= LAST_SEPARATOR; sign++)
    one[index * CLASSES + sign] = sign === code ? 0 : costs.step.separator;
  added[index] = costs.step.separator;
}

function fillLost({ one, added, costs }: CompiledPattern, index: number): void {
  for (let code = 1; code <= OTHER_CLASS; code++) if (!isSeparator(code)) one[index * CLASSES + code] = 0;
  added[index] = costs.step.added;
}

function fillLetter(
  { one, own, read, added, oneForTwo, letterPairs, costs }: CompiledPattern,
  index: number,
  letter: Letter,
): void {
  for (let code = 1; code <= OTHER_CLASS; code++)
    if (!isSeparator(code)) one[index * CLASSES + code] = letterFor(letter, code, costs);
  own[index] = letter.codes.find((code) => code > OTHER_CLASS) ?? 0;
  read[index] = 1;
  added[index] = costs.step.added;
  for (const code of letter.codes) allow(letterPairs, code, code);
  for (const [at, { first, second, single, halfBits }] of costs.digraphs.entries())
    if (single !== 0 && letter.codes.includes(single)) {
      oneForTwo[index * costs.digraphs.length + at] = pairCost(halfBits, letter.dotted, costs);
      allow(letterPairs, first, second);
    }
}

const allow = (letterPairs: Uint8Array, before: number, letter: number): void => {
  if (before <= OTHER_CLASS && letter <= OTHER_CLASS) letterPairs[before * CLASSES + letter] = 1;
};

/** A pair of the table costs less where a letter of the reading is unsure. */
const pairCost = (halfBits: number, dotted: boolean, costs: LetterCosts): number =>
  dotted ? Math.min(halfBits, costs.step.dottedPair) : halfBits;

function letterFor({ codes, dotted }: Letter, code: number, costs: LetterCosts): number {
  if (codes.includes(code)) return 0;
  let least = dotted ? costs.step.dotted : costs.step.other;
  for (const own of codes) {
    const pair = own < CLASSES ? (costs.pair[own * CLASSES + code] ?? 0) : 0;
    if (pair > 0) least = Math.min(least, pairCost(pair, dotted, costs));
  }
  return least;
}

/** Two letters of the reading for one of the name, or for none. A letter outside a–z has no class of its own here. */
function fillPair(made: CompiledPattern, index: number, first: Letter, second: Letter): void {
  const { twoForOne, addedTwo, pairs, letterPairs, costs } = made;
  for (const { first: a, second: b, single, halfBits } of costs.digraphs) {
    if (!first.codes.includes(a) || !second.codes.includes(b)) continue;
    const cost = pairCost(halfBits, first.dotted || second.dotted, costs);
    if (single === 0) addedTwo[index] = cost;
    else twoForOne[index * CLASSES + single] = cost;
  }
  for (const code of first.codes)
    if (code <= OTHER_CLASS && second.codes.includes(code)) {
      const at = index * CLASSES + code;
      twoForOne[at] = Math.min(twoForOne[at] ?? NEVER, costs.step.doubled);
    }
  for (const a of first.codes) for (const b of second.codes) allow(letterPairs, b, a);
  pairs[index] = 1;
}
