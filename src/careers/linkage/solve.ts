import { bestPairs, type Edges } from './assignment.ts';
import { type Chains, cut, join, refresh } from './chains.ts';
import type { Coded } from './coded.ts';
import { placeLines } from './place-lines.ts';
import { rejoin } from './rejoin.ts';
import { NOTHING, type Worth } from './worth.ts';

/** Rounds over the editions of a block at most; most blocks need one or two. */
const MOST_ROUNDS = 12;

/**
 * Puts the entries of a block into careers that are worth most together: each entry in one career, a career through one
 * line of an edition at most and forward in time. First edition by edition: all its lines are given at once to the careers
 * known so far. Then in rounds, for as long as the whole gains by it: at each edition (1) all its lines are taken out and
 * given anew to the careers, which are now known on both sides; (2) all careers are cut behind it and their parts joined
 * anew. Each of these steps is solved exactly, for all lines or parts at once.
 * @param block numbers of entries in the order of time.
 */
export type Solve = (block: Int32Array) => void;

export const solver =
  (coded: Coded, chains: Chains, worth: Worth): Solve =>
  (block) => {
    const editions = byEdition(coded, block);
    firstPass(block, editions, chains, worth);
    if (editions.length > 1) improve(block, editions, chains, worth);
    refresh(chains, block);
  };

/** The lines of each edition in a block. */
export function byEdition({ step }: Coded, block: Int32Array): readonly Int32Array[] {
  const editions: Int32Array[] = [];
  let from = 0;
  for (let until = 1; until <= block.length; until++) {
    if (until < block.length && step[block[until] as number] === step[block[from] as number]) continue;
    editions.push(block.subarray(from, until));
    from = until;
  }
  return editions;
}

function firstPass(block: Int32Array, editions: readonly Int32Array[], chains: Chains, worth: Worth): void {
  for (const at of block) {
    chains.previous[at] = -1;
    chains.next[at] = -1;
    chains.refreshHead(at);
  }
  const ends: number[] = [];
  for (const lines of editions) {
    const edges: Edges = { row: [], column: [], worth: [] };
    for (const [row, line] of lines.entries())
      for (let column = 0; column < ends.length; column++) {
        const gain = worth.of(chains.tails, ends[column] as number, chains.heads, line, 0);
        if (gain <= NOTHING) continue;
        edges.row.push(row);
        edges.column.push(column);
        edges.worth.push(gain);
      }
    const taken = bestPairs(edges, lines.length, ends.length);
    for (const [row, line] of lines.entries()) {
      const pair = taken[row] as number;
      if (pair < 0) ends.push(line);
      else {
        const column = edges.column[pair] as number;
        join(chains, ends[column] as number, line);
        ends[column] = line;
      }
      chains.refreshTail(line);
    }
  }
}

function improve(block: Int32Array, editions: readonly Int32Array[], chains: Chains, worth: Worth): void {
  let best = totalWorth(block, chains, worth);
  let kept = block.map((at) => chains.next[at] as number);
  for (let round = 0; round < MOST_ROUNDS && improveOnce(block, editions, chains, worth); round++) {
    const total = totalWorth(block, chains, worth);
    if (total <= best + NOTHING) break;
    best = total;
    kept = block.map((at) => chains.next[at] as number);
  }
  for (const at of block) cut(chains, at);
  for (const [index, at] of block.entries()) {
    const next = kept[index] as number;
    if (next >= 0) join(chains, at, next);
  }
}

/** One round over the editions of a block. @returns whether anything was changed. */
function improveOnce(block: Int32Array, editions: readonly Int32Array[], chains: Chains, worth: Worth): boolean {
  for (let at = block.length - 1; at >= 0; at--) chains.refreshHead(block[at] as number);
  let changed = false;
  for (const { lines, ends, beginnings } of cuts(block, editions, chains)) {
    const after = [...beginnings];
    if (placeLines(lines, [...ends], after, chains, worth)) changed = true;
    for (const line of lines) {
      chains.refreshTail(line);
      ends.delete(chains.previous[line] as number);
      ends.add(line);
    }
    if (rejoin([...ends], after, chains, worth)) changed = true;
  }
  return changed;
}

/**
 * Each edition of a block with the last entries of careers before it and the first ones after it. Whoever walks through
 * moves the lines of the edition to the ends.
 */
export function* cuts(
  block: Int32Array,
  editions: readonly Int32Array[],
  { previous, next }: Chains,
): Generator<{ lines: Int32Array; ends: Set<number>; beginnings: ReadonlySet<number> }> {
  const ends = new Set<number>();
  const beginnings = new Set<number>();
  for (const at of block) if ((previous[at] as number) < 0) beginnings.add(at);
  for (const lines of editions) {
    for (const line of lines) {
      beginnings.delete(line);
      if ((next[line] as number) >= 0) beginnings.add(next[line] as number);
    }
    yield { lines, ends, beginnings };
  }
}

/**
 * Log-likelihood ratio of the careers of a block against all lines of it being of different men: each line is joined to
 * all before it.
 */
export function totalWorth(block: Int32Array, chains: Chains, worth: Worth): number {
  let sum = 0;
  for (const at of block) {
    chains.refreshTail(at);
    const before = chains.previous[at] as number;
    if (before < 0) continue;
    chains.refreshLoneHead(at);
    sum += worth.of(chains.tails, before, chains.heads, at, Number.NEGATIVE_INFINITY);
  }
  return sum;
}
