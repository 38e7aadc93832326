import { type CompiledPattern, NEVER } from './compiled-pattern.ts';
import { CLASSES, codeOf, isSeparator, OTHER_CLASS } from './letter-costs.ts';

/** More than any name costs, and small enough that a step may be added to it. */
export const UNREACHED = 0x3fff;

/** Unreached cells in front of each row, so that a step over two units needs no check. */
const PAD = 2;

/**
 * The table of least costs in half bits: a row for each number of letters of the name, a column for each state of the
 * pattern (units consumed). Row 0 is the empty name. A row needs the two above it only, so names that begin alike share
 * their first rows: the caller keeps `letters` and fills in rows from the first letter that differs.
 */
export type LetterRows = {
  readonly pattern: CompiledPattern;
  /** Number of units; the last column holds the cost of the whole pattern. */
  readonly states: number;
  readonly stride: number;
  readonly cells: Int16Array;
  /** Codes of the name's letters. */
  readonly letters: Uint16Array;
  /** First and last column of each row that is within the limit, and the least cost there. */
  readonly first: Int16Array;
  readonly last: Int16Array;
  readonly least: Int16Array;
  /** Costs beyond this are kept as unreached, in half bits; for each column. */
  readonly limits: Int16Array;
  readonly limit: number;
};

/** A lower limit for the first columns: `states` of them. */
export type EarlyLimit = { readonly states: number; readonly limit: number };

/** @param limit in half bits, at most UNREACHED - 1. */
export function letterRows(
  pattern: CompiledPattern,
  longestName: number,
  limit: number,
  early: EarlyLimit = { states: 0, limit },
): LetterRows {
  const states = pattern.units.length;
  const stride = states + 1 + PAD;
  const rows: LetterRows = {
    pattern,
    states,
    stride,
    cells: new Int16Array((longestName + 1) * stride).fill(UNREACHED),
    letters: new Uint16Array(longestName),
    first: new Int16Array(longestName + 1),
    last: new Int16Array(longestName + 1),
    least: new Int16Array(longestName + 1),
    limits: new Int16Array(states + 1).fill(Math.min(limit, UNREACHED - 1)).fill(early.limit, 0, early.states),
    limit: Math.min(limit, UNREACHED - 1),
  };
  fillEmptyName(rows);
  return rows;
}

function fillEmptyName({ pattern, cells, states, first, last, least, limits }: LetterRows): void {
  cells[PAD] = 0;
  let end = 0;
  for (let state = 1; state <= states; state++) {
    const one = (cells[PAD + state - 1] ?? 0) + (pattern.added[state - 1] ?? 0);
    const two = (cells[PAD + state - 2] ?? 0) + (pattern.addedTwo[state - 2] ?? NEVER);
    const cost = Math.min(one, two);
    const isReached = cost <= (limits[state] ?? 0);
    cells[PAD + state] = isReached ? cost : UNREACHED;
    if (isReached) end = state;
  }
  first[0] = 0;
  last[0] = end;
  least[0] = 0;
}

/**
 * Fills the row of the first `depth` letters. The steps into a cell:
 * 1. one unit for one letter; 2. a letter of the name that is missing; 3. a unit that is added; 4. two units for one
 * letter; 5. one unit for two letters (look-alikes, or a doubled letter); 6. two units that are silent; 7. two letters
 * of the name that are silent; 8. two letters that have changed places.
 */
export function fillRow(rows: LetterRows, depth: number): void {
  const { pattern, cells, states, stride, letters, first, last, least, limits } = rows;
  const { costs, one, own, read, oneForTwo, added, addedTwo, swaps, behindRun } = pattern;
  const base = depth * stride + PAD;
  const above = base - stride;
  const twoAbove = above - stride;
  const hasTwo = depth > 1;
  const letter = letters[depth - 1] as number;
  const before = hasTwo ? (letters[depth - 2] as number) : 0;
  const letterClass = Math.min(letter, OTHER_CLASS);
  const missing = isSeparator(letter) ? costs.step.separator : costs.step.missing;
  const pairs = hasTwo && !isSeparator(letter) && !isSeparator(before);
  const doubled = pairs && letter === before;
  const digraph = pairs && letter <= 26 && before <= 26 ? (costs.digraphAt[before * CLASSES + letter] as number) : 0;
  const digraphCount = costs.digraphs.length;
  const silentCost = digraph > 0 && costs.digraphs[digraph - 1] === costs.silent ? costs.silent.halfBits : 0;
  const doubledCost = costs.step.doubled;
  const swapCost = costs.step.transposed;

  cells.fill(UNREACHED, base, base + states + 1);
  let from = first[depth - 1] as number;
  let to = last[depth - 1] as number;
  if (hasTwo) {
    if ((first[depth - 2] as number) < from) from = first[depth - 2] as number;
    if ((last[depth - 2] as number) > to) to = last[depth - 2] as number;
  }
  to += 2;
  let rowFirst = states + 1;
  let rowLast = -1;
  let rowLeast = UNREACHED;
  for (let state = from; state <= states; state++) {
    let best = (cells[above + state] as number) + (behindRun[state] === 1 ? 0 : missing);
    if (silentCost > 0) {
      const cost = (cells[twoAbove + state] as number) + silentCost;
      if (cost < best) best = cost;
    }
    if (state > 0) {
      const unit = state - 1;
      const direct = own[unit] === letter ? 0 : (one[unit * CLASSES + letterClass] as number);
      let cost = (cells[above + unit] as number) + direct;
      if (cost < best) best = cost;
      cost = (cells[base + unit] as number) + (added[unit] as number);
      if (cost < best) best = cost;
      if (doubled && direct === 0 && read[unit] === 1) {
        cost = (cells[twoAbove + unit] as number) + doubledCost;
        if (cost < best) best = cost;
      } else if (digraph > 0) {
        cost = (cells[twoAbove + unit] as number) + (oneForTwo[unit * digraphCount + digraph - 1] as number);
        if (cost < best) best = cost;
      }
      if (state > 1) {
        const pair = state - 2;
        cost = (cells[above + pair] as number) + twoFor(pattern, pair, letter);
        if (cost < best) best = cost;
        cost = (cells[base + pair] as number) + (addedTwo[pair] as number);
        if (cost < best) best = cost;
        if (pairs && !doubled && swaps[pair] === 1) {
          cost = (cells[twoAbove + pair] as number) + swapCost;
          if (cost < best && fits(one, own, pair, letter) && fits(one, own, unit, before)) best = cost;
        }
      }
    }
    if (best <= (limits[state] as number)) {
      cells[base + state] = best;
      if (rowLast < 0) rowFirst = state;
      rowLast = state;
      if (best < rowLeast) rowLeast = best;
    } else if (state > to && rowLast < state - 1) break; // nothing within the limit leads further
  }
  first[depth] = rowFirst;
  last[depth] = rowLast;
  least[depth] = rowLeast;
}

/** Whether a unit can be that letter. */
const fits = (one: Uint8Array, own: Uint16Array, unit: number, letter: number): boolean =>
  own[unit] === letter || one[unit * CLASSES + Math.min(letter, OTHER_CLASS)] === 0;

/** Two letters of the reading for one; a letter outside a–z written twice has no place in the table. */
function twoFor({ twoForOne, own, costs }: CompiledPattern, pair: number, letter: number): number {
  if (letter <= OTHER_CLASS) return twoForOne[pair * CLASSES + letter] as number;
  return own[pair] === letter && own[pair + 1] === letter ? costs.step.doubled : NEVER;
}

/** Whether no name that begins with these letters can be within the limit. */
export const isDead = ({ first, states, least, pattern, limit }: LetterRows, depth: number): boolean =>
  (first[depth] as number) > states && (depth === 0 || (least[depth - 1] as number) + pattern.leastOfTwo > limit);

/** Half bits of the whole pattern against the first `depth` letters; UNREACHED beyond the limit. */
export const costAt = ({ cells, stride, states }: LetterRows, depth: number): number =>
  cells[depth * stride + PAD + states] as number;

/** Half bits at any cell. */
export const cellAt = ({ cells, stride }: LetterRows, depth: number, state: number): number =>
  depth < 0 || state < 0 ? UNREACHED : (cells[depth * stride + PAD + state] as number);

/** Half bits between the pattern and one folded name. */
export function letterCost(pattern: CompiledPattern, folded: string, limit: number): number {
  return costAt(allRows(pattern, folded, limit), folded.length);
}

/** Every row of one folded name; rows behind a dead one stay unreached. */
export function allRows(pattern: CompiledPattern, folded: string, limit: number): LetterRows {
  const rows = letterRows(pattern, folded.length, limit);
  for (let depth = 1; depth <= folded.length; depth++) {
    rows.letters[depth - 1] = codeOf(folded.charAt(depth - 1));
    fillRow(rows, depth);
    if (isDead(rows, depth)) break;
  }
  return rows;
}
