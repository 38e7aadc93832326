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
 * A lost letter stands for whichever letter serves best, and so does a run for any number of them: the cost of a damaged
 * reading is the least over all ways to fill its gaps, so losing a letter never makes a name fit worse.
 */
export type CompiledPattern = {
  /** In the order of comparison. */
  readonly units: Pattern;
  readonly costs: LetterCosts;
  /** `[unit * CLASSES + letter]`: the unit for that letter. */
  readonly one: Uint8Array;
  /** The code of a unit's letter where it lies outside a–z, else 0. */
  readonly own: Uint16Array;
  /**
   * Steps over two letters of the reading are kept at the unit before the last of them. Where that is a run, it is taken
   * as empty and the letter in front of it is the first: such a step begins at the state `pairFrom[unit]`.
   */
  readonly pairFrom: Uint16Array;
  /** `[unit * CLASSES + letter]`: that letter of the reading and the next for that one letter. */
  readonly twoForOne: Uint8Array;
  /** `[unit * digraphs + digraph - 1]`: the unit for those two letters of the name. */
  readonly oneForTwo: Uint8Array;
  /** `[unit]`: the unit for nothing. */
  readonly added: Uint8Array;
  /** `[unit]`: that letter and the next for nothing. */
  readonly addedTwo: Uint8Array;
  /** `[unit]`: 1 where that letter and the next may have changed places. */
  readonly swaps: Uint8Array;
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

/** Which letters a unit may be read as: `wild` for any. */
type Spec = { readonly codes: readonly number[]; readonly wild: boolean; readonly dotted: boolean };

function specOf(unit: Unit | undefined): Spec | undefined {
  if (unit === undefined || unit.kind === 'separator') return undefined;
  if (unit.kind !== 'letter') return { codes: [], wild: true, dotted: false };
  return { codes: [unit.letter, ...(unit.also ?? [])].map(codeOf), wild: false, dotted: unit.dotted };
}

const reads = (spec: Spec, code: number): boolean => spec.wild || spec.codes.includes(code);

function build(units: Pattern, costs: LetterCosts): CompiledPattern {
  const length = units.length;
  const digraphs = costs.digraphs.length;
  const made: CompiledPattern = {
    units,
    costs,
    pairFrom: Uint16Array.from(units, (_unit, index) => index),
    one: new Uint8Array(length * CLASSES).fill(NEVER),
    own: new Uint16Array(length),
    twoForOne: new Uint8Array(length * CLASSES).fill(NEVER),
    oneForTwo: new Uint8Array(length * digraphs).fill(NEVER),
    added: new Uint8Array(length),
    addedTwo: new Uint8Array(length).fill(NEVER),
    swaps: new Uint8Array(length),
    behindRun: new Uint8Array(length + 1),
    leastOfTwo: units.some((unit) => unit.kind === 'letter' && unit.dotted)
      ? costs.step.dottedPair
      : costs.step.doubled,
  };
  for (const [index, unit] of units.entries()) {
    if (unit.kind === 'run') made.behindRun[index + 1] = 1;
    else if (unit.kind === 'separator') fillSeparator(made, index, codeOf(unit.sign), costs);
    else fillLetter(made, index, unit, costs);
  }
  for (const [index, unit] of units.entries()) {
    const [first, second, third] = [unit, units[index + 1], units[index + 2]].map(specOf);
    if (first === undefined || second === undefined) continue;
    fillTwo(made, index, first, second);
    if (units[index + 1]?.kind !== 'run' || third === undefined) continue;
    made.pairFrom[index + 1] = index;
    fillPair(made, index + 1, first, third);
  }
  return made;
}

function fillSeparator(made: CompiledPattern, index: number, code: number, costs: LetterCosts): void {
  for (let sign = FIRST_SEPARATOR; sign <= LAST_SEPARATOR; sign++)
    made.one[index * CLASSES + sign] = sign === code ? 0 : costs.step.separator;
  made.added[index] = costs.step.separator;
}

function fillLetter(made: CompiledPattern, index: number, unit: Unit, costs: LetterCosts): void {
  const spec = specOf(unit);
  if (spec === undefined) return;
  const row = index * CLASSES;
  for (let code = 1; code <= OTHER_CLASS; code++)
    if (!isSeparator(code)) made.one[row + code] = spec.wild ? 0 : letterFor(spec, code, costs);
  made.own[index] = spec.codes.find((code) => code > OTHER_CLASS) ?? 0;
  made.added[index] = costs.step.added;
  for (const [at, digraph] of costs.digraphs.entries())
    if (digraph.single !== 0 && reads(spec, digraph.single))
      made.oneForTwo[index * costs.digraphs.length + at] = pairCost(digraph.halfBits, spec.dotted, costs);
}

/** A pair of the table costs less where a letter of the reading is unsure. */
const pairCost = (halfBits: number, dotted: boolean, costs: LetterCosts): number =>
  dotted ? Math.min(halfBits, costs.step.dottedPair) : halfBits;

function letterFor(spec: Spec, code: number, costs: LetterCosts): number {
  if (spec.codes.includes(code)) return 0;
  let least = spec.dotted ? costs.step.dotted : costs.step.other;
  for (const own of spec.codes) {
    const pair = own < CLASSES ? (costs.pair[own * CLASSES + code] ?? 0) : 0;
    if (pair > 0) least = Math.min(least, pairCost(pair, spec.dotted, costs));
  }
  return least;
}

/**
 * A letter and its neighbour. A run beside a letter can lend the other half of two letters; as the run itself costs
 * nothing, that is a step over the one letter.
 */
function fillTwo(made: CompiledPattern, index: number, first: Spec, second: Spec): void {
  const runFirst = made.units[index]?.kind === 'run';
  if (!runFirst && made.units[index + 1]?.kind !== 'run') {
    fillPair(made, index, first, second);
    return;
  }
  const alone = runFirst ? index + 1 : index;
  for (const { code, cost } of pairSteps(first, second, made.costs)) {
    if (code === 0) made.added[alone] = Math.min(made.added[alone] ?? NEVER, cost);
    else lower(made.one, alone * CLASSES + code, cost);
  }
}

/** Two letters of the reading that follow each other, kept at `index`. */
function fillPair(made: CompiledPattern, index: number, first: Spec, second: Spec): void {
  for (const { code, cost } of pairSteps(first, second, made.costs)) {
    if (code === 0) lower(made.addedTwo, index, cost);
    else lower(made.twoForOne, index * CLASSES + code, cost);
  }
  made.swaps[index] = 1;
}

const lower = (table: Uint8Array, at: number, cost: number): void => {
  table[at] = Math.min(table[at] ?? NEVER, cost);
};

/** What two letters of the reading cost for one letter of the name, or for none (code 0). */
function pairSteps(first: Spec, second: Spec, costs: LetterCosts): { code: number; cost: number }[] {
  const dotted = first.dotted || second.dotted;
  const steps = costs.digraphs
    .filter((digraph) => reads(first, digraph.first) && reads(second, digraph.second))
    .map(({ single, halfBits }) => ({ code: single, cost: pairCost(halfBits, dotted, costs) }));
  for (let code = 1; code <= OTHER_CLASS; code++)
    if (!isSeparator(code) && doubles(first, second, code)) steps.push({ code, cost: costs.step.doubled });
  return steps;
}

/** Whether two letters can be one written twice; a letter outside a–z has no class of its own. */
const doubles = (first: Spec, second: Spec, code: number): boolean =>
  code === OTHER_CLASS ? first.wild && second.wild : reads(first, code) && reads(second, code);
