import { bestPairs, type Edges } from './assignment.ts';
import { type Chains, cut, join } from './chains.ts';
import { NOTHING, type Worth } from './worth.ts';

/** Careers without the lines of one edition. */
export type Holes = {
  /** The last entry before the edition, and the first after it; -1 where there is none. */
  readonly before: readonly number[];
  readonly after: readonly number[];
  /** What it is worth to join these two without a line between; never negative. */
  readonly base: readonly number[];
  /** For each line that stands in a career now the place of that career. */
  readonly holeOf: ReadonlyMap<number, number>;
};

/** How a line stands in a hole. */
const WITH_BEFORE = 1;
const WITH_AFTER = 2;
const WITH_BOTH = 3;

/** A join worth less than this is never made good by the other side; bits. */
const LEAST = -60;

/**
 * Takes the lines of one edition out of their careers and gives them anew, to careers known on both sides, worth most
 * together. @returns whether anything was gained.
 */
export function placeLines(
  lines: Int32Array,
  ends: readonly number[],
  beginnings: readonly number[],
  chains: Chains,
  worth: Worth,
): boolean {
  const holes = holesFor(lines, ends, beginnings, chains, worth);
  const { before, after, base } = holes;
  if (before.length === 0) return false;
  const { edges, hows } = gainsOf(lines, holes, chains, worth, NOTHING);
  const taken = bestPairs(edges, lines.length, before.length);
  let best = 0;
  for (const pair of taken) if (pair >= 0) best += edges.worth[pair] as number;
  let current = 0;
  for (const line of lines) current += gainNow(line, holes, chains, worth);
  if (best - current <= NOTHING) return false;

  for (const line of lines) {
    if ((chains.previous[line] as number) >= 0) cut(chains, chains.previous[line] as number);
    cut(chains, line);
  }
  for (const [hole, end] of before.entries()) {
    const beginning = after[hole] as number;
    if (end < 0) continue;
    cut(chains, end);
    if (beginning >= 0 && (base[hole] as number) > 0) join(chains, end, beginning);
  }
  for (const [row, line] of lines.entries()) {
    const pair = taken[row] as number;
    if (pair < 0) continue;
    const hole = edges.column[pair] as number;
    const [end, beginning] = [before[hole] as number, after[hole] as number];
    if (end >= 0) cut(chains, end);
    if (hows[pair] !== WITH_AFTER) join(chains, end, line);
    if (hows[pair] !== WITH_BEFORE) join(chains, line, beginning);
  }
  return true;
}

export function holesFor(
  lines: Int32Array,
  ends: readonly number[],
  beginnings: readonly number[],
  { previous, next, tails, heads }: Chains,
  worth: Worth,
): Holes {
  const isLine = new Set(lines);
  const before: number[] = [];
  const after: number[] = [];
  const holeOf = new Map<number, number>();
  const followed = new Set<number>();
  const add = (end: number, beginning: number): number => {
    if (beginning >= 0) followed.add(beginning);
    before.push(end);
    return after.push(beginning) - 1;
  };
  for (const end of ends) {
    const follower = next[end] as number;
    if (isLine.has(follower)) holeOf.set(follower, add(end, next[follower] as number));
    else add(end, follower);
  }
  for (const line of lines)
    if ((previous[line] as number) < 0 && (next[line] as number) >= 0) holeOf.set(line, add(-1, next[line] as number));
  for (const beginning of beginnings) if (!followed.has(beginning)) add(-1, beginning);
  const base = before.map((end, hole) => {
    const beginning = after[hole] as number;
    return end >= 0 && beginning >= 0 ? Math.max(0, worth.of(tails, end, heads, beginning, 0)) : 0;
  });
  return { before, after, base, holeOf };
}

/**
 * What each line gains in each hole beyond the base, and how it is best joined. Rows of the lines in the profiles are left
 * as if they stood alone.
 * @param floor gains up to it are left out.
 */
export function gainsOf(
  lines: Int32Array,
  holes: Holes,
  chains: Chains,
  worth: Worth,
  floor: number,
): { edges: Edges; hows: number[] } {
  const { previous, tails, heads } = chains;
  const edges: Edges = { row: [], column: [], worth: [] };
  const hows: number[] = [];
  for (const [row, line] of lines.entries()) {
    const kept = previous[line] as number;
    chains.refreshLoneHead(line);
    previous[line] = -1;
    chains.refreshTail(line);
    for (let hole = 0; hole < holes.base.length; hole++) {
      const base = holes.base[hole] as number;
      const [end, beginning] = [holes.before[hole] as number, holes.after[hole] as number];
      let withBefore = end < 0 ? Number.NEGATIVE_INFINITY : worth.of(tails, end, heads, line, floor);
      const withAfter = beginning < 0 ? Number.NEGATIVE_INFINITY : worth.of(tails, line, heads, beginning, floor);
      let best = Math.max(withBefore, withAfter);
      let how = withBefore >= withAfter ? WITH_BEFORE : WITH_AFTER;
      if (best > floor && end >= 0 && beginning >= 0) {
        if (withBefore <= floor) withBefore = worth.of(tails, end, heads, line, LEAST);
        previous[line] = end;
        chains.refreshTail(line);
        const both = withBefore + worth.of(tails, line, heads, beginning, LEAST);
        if (both >= best) {
          best = both;
          how = WITH_BOTH;
        }
        previous[line] = -1;
        chains.refreshTail(line);
      }
      if (best - base <= floor) continue;
      edges.row.push(row);
      edges.column.push(hole);
      edges.worth.push(best - base);
      hows.push(how);
    }
    previous[line] = kept;
  }
  return { edges, hows };
}

/** What a line gains where it stands now; 0 for one that stands alone. */
export function gainNow(line: number, { base, holeOf }: Holes, chains: Chains, worth: Worth): number {
  const hole = holeOf.get(line);
  if (hole === undefined) return 0;
  const { previous, next, tails, heads } = chains;
  const [end, beginning] = [previous[line] as number, next[line] as number];
  chains.refreshLoneHead(line);
  chains.refreshTail(line);
  let sum = -(base[hole] as number);
  if (end >= 0) sum += worth.of(tails, end, heads, line, Number.NEGATIVE_INFINITY);
  if (beginning >= 0) sum += worth.of(tails, line, heads, beginning, Number.NEGATIVE_INFINITY);
  return sum;
}
