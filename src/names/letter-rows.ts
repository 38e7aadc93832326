import { type CompiledPattern, NEVER } from './compiled-pattern.ts';
import { CLASSES, codeOf, isSeparator, OTHER_CLASS } from './letter-costs.ts';

/** More than any name costs, and small enough that a step may be added to it. */
export const UNREACHED = 0x3fff;

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
  limit: number;
};

/** A lower limit for the first columns: `states` of them. */
export type EarlyLimit = { readonly states: number; readonly limit: number };

/** @param limit in half bits, at most UNREACHED - 1. */
export function letterRows(
  pattern: CompiledPattern,
  longestName: number,
  limit: number,
  early?: EarlyLimit,
): LetterRows {
  const states = pattern.units.length;
  const stride = states + 1;
  const rows: LetterRows = {
    pattern,
    states,
    stride,
    cells: new Int16Array((longestName + 1) * stride),
    letters: new Uint16Array(longestName),
    first: new Int16Array(longestName + 1),
    last: new Int16Array(longestName + 1),
    least: new Int16Array(longestName + 1),
    limits: new Int16Array(states + 1),
    limit: -1,
  };
  setLimit(rows, limit, early);
  return rows;
}

function setLimit(rows: LetterRows, limit: number, early?: EarlyLimit): void {
  if (early === undefined && rows.limit === limit) return;
  rows.limit = Math.min(limit, UNREACHED - 1);
  rows.limits.fill(rows.limit);
  if (early !== undefined) rows.limits.fill(early.limit, 0, early.states);
  fillEmptyName(rows);
}

function fillEmptyName({ pattern, cells, states, first, last, least, limits }: LetterRows): void {
  let end = 0;
  cells.fill(UNREACHED, 0, states + 1);
  for (let state = 0; state <= states; state++) {
    const one = state > 0 ? (cells[state - 1] ?? 0) + (pattern.added[state - 1] ?? NEVER) : 0;
    const two = state > 1 ? (cells[state - 2] ?? 0) + (pattern.addedTwo[state - 2] ?? NEVER) : UNREACHED;
    const cost = Math.min(one, two);
    if (cost > (limits[state] ?? 0)) continue;
    cells[state] = cost;
    end = state;
  }
  first[0] = 0;
  last[0] = end;
  least[0] = 0;
}

/**
 * Fills the row of the first `depth` letters, from each reached cell of the rows above on. Over one letter of the name:
 * 1. one unit for it; 2. it is missing from the reading; 3. two units for it. Over two letters of the name, `fillTwo`.
 * Over none: 4. a unit is added; 5. two units are silent.
 */
export function fillRow(rows: LetterRows, depth: number): void {
  const { pattern, cells, states, stride, letters, first, last, least, limits } = rows;
  const { costs, one, own, pairs, added, addedTwo, behindRun } = pattern;
  const base = depth * stride;
  const above = base - stride;
  const letter = letters[depth - 1] as number;
  const letterClass = Math.min(letter, OTHER_CLASS);
  const missing = isSeparator(letter) ? costs.step.separator : costs.step.missing;

  cells.fill(UNREACHED, base, base + stride);
  let from = first[depth - 1] as number;
  let to = last[depth - 1] as number;
  for (let state = from; state <= to; state++) {
    const cost = cells[above + state] as number;
    if (cost === UNREACHED) continue;
    const missed = behindRun[state] === 1 ? cost : cost + missing;
    if (missed < (cells[base + state] as number)) cells[base + state] = missed;
    if (state === states) break;
    const direct = letter > OTHER_CLASS && own[state] === letter ? 0 : (one[state * CLASSES + letterClass] as number);
    if (cost + direct < (cells[base + state + 1] as number)) cells[base + state + 1] = cost + direct;
    if (pairs[state] === 0) continue;
    const two = cost + twoFor(pattern, state, letter);
    if (two < (cells[base + state + 2] as number)) cells[base + state + 2] = two;
  }
  if (depth > 1 && mayTakeTwo(pattern, letters[depth - 2] as number, letter)) {
    fillTwo(rows, depth);
    if ((first[depth - 2] as number) < from) from = first[depth - 2] as number;
    if ((last[depth - 2] as number) > to) to = last[depth - 2] as number;
  }

  to += 2; // how far the steps above may have led
  let rowFirst = states + 1;
  let rowLast = -1;
  let rowLeast = UNREACHED;
  for (let state = from; state <= states; state++) {
    const cost = cells[base + state] as number;
    if (cost > (limits[state] as number)) {
      cells[base + state] = UNREACHED;
      if (state > to && rowLast < state - 1) break;
      continue;
    }
    if (rowLast < 0) rowFirst = state;
    rowLast = state;
    if (cost < rowLeast) rowLeast = cost;
    if (state === states) break;
    const one = cost + (added[state] as number);
    if (one < (cells[base + state + 1] as number)) cells[base + state + 1] = one;
    if (pairs[state] === 0) continue;
    const two = cost + (addedTwo[state] as number);
    if (two < (cells[base + state + 2] as number)) cells[base + state + 2] = two;
  }
  first[depth] = rowFirst;
  last[depth] = rowLast;
  least[depth] = rowLeast;
}

/** Two letters of the reading for one; a letter outside a–z written twice has no place in the table. */
function twoFor({ twoForOne, own, costs }: CompiledPattern, unit: number, letter: number): number {
  if (letter <= OTHER_CLASS) return twoForOne[unit * CLASSES + letter] as number;
  return own[unit] === letter && own[unit + 1] === letter ? costs.step.doubled : NEVER;
}

/** Whether any step over these two letters of the name is possible; of letters outside a–z that is not known before. */
const mayTakeTwo = ({ letterPairs }: CompiledPattern, before: number, letter: number): boolean =>
  letter <= OTHER_CLASS && before <= OTHER_CLASS
    ? letterPairs[before * CLASSES + letter] === 1
    : !isSeparator(letter) && !isSeparator(before);

/**
 * Steps over two letters of the name: 1. one unit for both (look-alikes, or a doubled letter); 2. both are silent; 3. two
 * letters of the reading that have changed places.
 */
function fillTwo({ pattern, cells, states, stride, letters, first, last }: LetterRows, depth: number): void {
  const { costs, oneForTwo, pairs } = pattern;
  const base = depth * stride;
  const twoAbove = base - 2 * stride;
  const letter = letters[depth - 1] as number;
  const before = letters[depth - 2] as number;
  const inTable = letter <= OTHER_CLASS && before <= OTHER_CLASS;
  const digraph = inTable ? (costs.digraphAt[before * CLASSES + letter] as number) : 0;
  const silent = digraph > 0 && costs.digraphs[digraph - 1] === costs.silent;
  const lower = (state: number, cost: number): void => {
    if (cost < (cells[base + state] as number)) cells[base + state] = cost;
  };
  for (let state = first[depth - 2] as number; state <= (last[depth - 2] as number); state++) {
    const cost = cells[twoAbove + state] as number;
    if (cost === UNREACHED) continue;
    if (silent) lower(state, cost + costs.silent.halfBits);
    if (state === states) break;
    if (digraph > 0) lower(state + 1, cost + (oneForTwo[state * costs.digraphs.length + digraph - 1] as number));
    if (letter === before) {
      if (fits(pattern, state, letter)) lower(state + 1, cost + costs.step.doubled);
    } else if (pairs[state] === 1 && fits(pattern, state, letter) && fits(pattern, state + 1, before))
      lower(state + 2, cost + costs.step.transposed);
  }
}

/** Whether a unit is a letter that was read as this one. */
const fits = ({ one, own, read }: CompiledPattern, unit: number, letter: number): boolean =>
  read[unit] === 1 && (letter > OTHER_CLASS ? own[unit] === letter : one[unit * CLASSES + letter] === 0);

/** Whether no name that begins with these letters can be within the limit. */
export const isDead = ({ first, states, least, pattern, limit }: LetterRows, depth: number): boolean =>
  (first[depth] as number) > states && (depth === 0 || (least[depth - 1] as number) + pattern.leastOfTwo > limit);

/** Half bits of the whole pattern against the first `depth` letters; UNREACHED beyond the limit. */
export const costAt = ({ cells, stride, states }: LetterRows, depth: number): number =>
  cells[depth * stride + states] as number;

/** Half bits at any cell. */
export const cellAt = ({ cells, stride }: LetterRows, depth: number, state: number): number =>
  depth < 0 || state < 0 ? UNREACHED : (cells[depth * stride + state] as number);

const scratch = new WeakMap<CompiledPattern, LetterRows>();

/** Half bits between the pattern and one folded name; UNREACHED beyond the limit. The rows are used again. */
export function letterCost(pattern: CompiledPattern, folded: string, limit: number): number {
  let rows = scratch.get(pattern);
  if (rows === undefined || rows.letters.length < folded.length) {
    rows = letterRows(pattern, Math.max(folded.length, USUAL_LONGEST), limit);
    scratch.set(pattern, rows);
  } else setLimit(rows, limit);
  return fillAll(rows, folded) ? costAt(rows, folded.length) : UNREACHED;
}

const USUAL_LONGEST = 24;

/** Every row of one folded name, to look into. */
export function allRows(pattern: CompiledPattern, folded: string): LetterRows {
  const rows = letterRows(pattern, folded.length, UNREACHED - 1);
  fillAll(rows, folded);
  return rows;
}

/** False where it stopped at a dead row. */
function fillAll(rows: LetterRows, folded: string): boolean {
  for (let depth = 1; depth <= folded.length; depth++) {
    rows.letters[depth - 1] = codeOf(folded.charAt(depth - 1));
    fillRow(rows, depth);
    if (isDead(rows, depth)) return false;
  }
  return true;
}
