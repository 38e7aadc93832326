import { type Chains, refresh } from './chains.ts';
import type { Coded } from './coded.ts';
import { gainNow, gainsOf, holesFor } from './place-lines.ts';
import { byEdition, cuts } from './solve.ts';
import type { Worth } from './worth.ts';

/** How sure joins are: the bits by which the solution is better than the best one without the join. */
export type Margins = {
  /** For each entry that of the join with its next; Infinity where there is none. */
  readonly join: Float64Array;
  /** For each entry that of its standing in its career, whatever the joins of that; Infinity for a lone one. */
  readonly line: Float64Array;
  /** With whom instead; -1 for nobody. A tail or head for a join, any entry of the other career for a line. */
  readonly joinInstead: Int32Array;
  readonly lineInstead: Int32Array;
  /** What the line is worth where it stands, from which its margin was taken. */
  readonly lineWorth: Float64Array;
  /** Careers, or a line and a career, left apart though little speaks against their being one. Bits are negative. */
  readonly apart: Apart[];
};

/** `hole`: the entries between which the line `other` would stand, -1 for none; undefined for two careers, end to beginning. */
export type Apart = {
  readonly one: number;
  readonly other: number;
  readonly bits: number;
  readonly hole: { readonly before: number; readonly after: number } | undefined;
};

export const newMargins = (count: number): Margins => ({
  join: new Float64Array(count).fill(Number.POSITIVE_INFINITY),
  line: new Float64Array(count).fill(Number.POSITIVE_INFINITY),
  joinInstead: new Int32Array(count).fill(-1),
  lineInstead: new Int32Array(count).fill(-1),
  lineWorth: new Float64Array(count),
  apart: [],
});

/**
 * Looks at every edition of a block for the next best solution: joins undone or exchanged, two at a time; lines given to
 * another career, or exchanged with its line.
 * @param limit bits beyond which nothing is doubtful.
 */
export function findMargins(
  coded: Coded,
  block: Int32Array,
  chains: Chains,
  worth: Worth,
  limit: number,
  margins: Margins,
): void {
  refresh(chains, block);
  const careers = block.reduce((sum, at) => sum + ((chains.previous[at] as number) < 0 ? 1 : 0), 0);
  for (const { lines, ends, beginnings } of cuts(block, byEdition(coded, block), chains)) {
    const after = [...beginnings];
    if (careers > 1) lineMargins(lines, [...ends], after, chains, worth, limit, margins);
    for (const line of lines) {
      chains.refreshTail(line);
      ends.delete(chains.previous[line] as number);
      ends.add(line);
    }
    joinMargins(lines, [...ends], after, chains, worth, limit, margins);
  }
  refresh(chains, block);
}

function joinMargins(
  lines: Int32Array,
  ends: readonly number[],
  beginnings: readonly number[],
  { previous, next, tails, heads }: Chains,
  worth: Worth,
  limit: number,
  margins: Margins,
): void {
  const bits = ends.map((end) =>
    beginnings.map((beginning) =>
      worth.of(tails, end, heads, beginning, next[end] === beginning ? Number.NEGATIVE_INFINITY : -limit),
    ),
  );
  const rowOf = new Map(ends.map((end, row) => [end, row]));
  const columnOf = new Map(beginnings.map((beginning, column) => [beginning, column]));
  const isNew = new Set(lines);
  for (const [row, end] of ends.entries()) {
    const own = bits[row] as number[];
    const joined = columnOf.get(next[end] as number);
    if (joined === undefined) {
      for (const [column, beginning] of beginnings.entries())
        if ((previous[beginning] as number) < 0 && isNew.has(end) && (own[column] as number) > -limit)
          margins.apart.push({ one: end, other: beginning, bits: Math.min(own[column] as number, 0), hole: undefined });
      continue;
    }
    // Without this join: cut, or its head to a free end, its tail to a free head, or exchanged with another join.
    let best = 0;
    let instead = -1;
    let freeTail = 0;
    let freeHead = 0;
    for (const [column, beginning] of beginnings.entries()) {
      if (column === joined || (own[column] as number) <= 0) continue;
      const holder = previous[beginning] as number;
      if (holder < 0) {
        if ((own[column] as number) > freeHead) [freeHead, instead] = [own[column] as number, beginning];
        continue;
      }
      const others = bits[rowOf.get(holder) ?? -1];
      const swapped = (own[column] as number) + Math.max(0, others?.[joined] ?? 0) - (others?.[column] ?? 0);
      if (swapped > best) [best, instead] = [swapped, beginning];
    }
    for (const [other, tail] of ends.entries())
      if (other !== row && (next[tail] as number) < 0 && (bits[other]?.[joined] ?? 0) > freeTail) {
        freeTail = bits[other]?.[joined] ?? 0;
        if (freeHead === 0) instead = tail;
      }
    best = Math.max(best, freeTail + freeHead);
    const margin = (own[joined] as number) - best;
    if (margin >= (margins.join[end] as number)) continue;
    margins.join[end] = margin;
    margins.joinInstead[end] = instead;
  }
}

function lineMargins(
  lines: Int32Array,
  ends: readonly number[],
  beginnings: readonly number[],
  chains: Chains,
  worth: Worth,
  limit: number,
  margins: Margins,
): void {
  const holes = holesFor(lines, ends, beginnings, chains, worth);
  if (holes.before.length === 0) return;
  const now = Array.from(lines, (line) => gainNow(line, holes, chains, worth));
  const { edges } = gainsOf(lines, holes, chains, worth, -limit);
  const gains = new Map<number, number>();
  const key = (row: number, hole: number): number => row * holes.before.length + hole;
  for (const [pair, row] of edges.row.entries())
    gains.set(key(row, edges.column[pair] as number), edges.worth[pair] as number);
  const rowOf = new Map<number, number>(); // by the hole in which a line stands
  for (const [row, line] of lines.entries()) {
    const hole = holes.holeOf.get(line);
    if (hole !== undefined) rowOf.set(hole, row);
  }
  for (const [row, line] of lines.entries())
    if (holes.holeOf.has(line)) {
      margins.line[line] = Math.min(margins.line[line] as number, now[row] as number);
      margins.lineWorth[line] = now[row] as number;
    }
  const memberOf = (hole: number): number =>
    (holes.before[hole] as number) >= 0 ? (holes.before[hole] as number) : (holes.after[hole] as number);
  for (const [pair, row] of edges.row.entries()) {
    const [line, hole] = [lines[row] as number, edges.column[pair] as number];
    const own = holes.holeOf.get(line);
    if (own === hole) continue;
    const other = rowOf.get(hole);
    let gain = edges.worth[pair] as number;
    if (other !== undefined) {
      const back = own === undefined ? 0 : Math.max(0, gains.get(key(other, own)) ?? 0);
      gain += back - (now[other] as number);
    }
    const margin = (now[row] as number) - gain;
    if (own === undefined) {
      if (margin < limit)
        margins.apart.push({
          one: memberOf(hole),
          other: line,
          bits: Math.min(-margin, 0),
          hole: { before: holes.before[hole] as number, after: holes.after[hole] as number },
        });
    } else if (margin < (margins.line[line] as number)) {
      margins.line[line] = margin;
      margins.lineInstead[line] = memberOf(hole);
    }
  }
}
