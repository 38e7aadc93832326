import { bestPairs, type Edges } from './assignment.ts';
import { nameBlocks } from './blocks.ts';
import type { Chains } from './chains.ts';
import type { Ground } from './ground.ts';
import type { Worth } from './worth.ts';

/** Two people on record who may be one: the last line of the one, and the first of the other. */
export type OnRecord = {
  readonly tail: number;
  readonly head: number;
  /** By how much that is better than leaving them two, or than making either one with somebody else. */
  readonly margin: number;
  /** That other's first or last line; -1 where there is none. */
  readonly instead: number;
};

/**
 * People on record whose lines were put together, or decided about, one after another: nobody makes two of them one but
 * the researcher, so where the one may go on as the other it is asked, until it is decided that they are not one. People
 * who were recorded with their lines are known to whoever recorded them, and are not asked about.
 * @param limit bits beyond which they are surely two.
 */
export function apartOnRecord(ground: Ground, chains: Chains, worth: Worth, limit: number): readonly OnRecord[] {
  const { coded, standsBehind } = ground;
  const { previous, next, tails, heads } = chains;
  const isAsked = (at: number): boolean =>
    coded.source[coded.place[at] ?? -1]?.placed === true && (standsBehind[at] as number) < 0;
  const found = new Map<string, OnRecord>();
  for (const block of nameBlocks(ground).values()) {
    const lines = [...block].filter(isAsked);
    const ends = lines.filter((at) => (next[at] as number) < 0);
    const beginnings = lines.filter((at) => (previous[at] as number) < 0);
    const edges: Edges = { row: [], column: [], worth: [] };
    for (const [row, tail] of ends.entries())
      for (const [column, head] of beginnings.entries()) {
        if (tails.owner[tail] === heads.owner[head] || (coded.step[head] as number) <= (coded.step[tail] as number))
          continue;
        const bits = coded.lane[tail] === coded.lane[head] ? worth.evidence(tails, tail, heads, head, -limit) : -limit;
        if (bits <= -limit) continue;
        edges.row.push(row);
        edges.column.push(column);
        edges.worth.push(bits + limit); // only what is worth something is paired
      }
    const pairs = bestPairs(edges, ends.length, beginnings.length);
    for (const [row, edge] of pairs.entries()) {
      if (edge < 0) continue;
      const [tail, head] = [ends[row] as number, beginnings[edges.column[edge] as number] as number];
      found.set(`${tail} ${head}`, { tail, head, ...marginOf(edges, edge, limit, ends, beginnings) });
    }
  }
  return [...found.values()];
}

/** What a pair is better by than the best other pair of either. */
function marginOf(
  { row, column, worth }: Edges,
  edge: number,
  limit: number,
  ends: readonly number[],
  beginnings: readonly number[],
): { readonly margin: number; readonly instead: number } {
  let [best, instead] = [0, -1];
  for (const [at, each] of worth.entries()) {
    if (at === edge || each - limit <= best) continue;
    if (row[at] === row[edge]) instead = beginnings[column[at] as number] as number;
    else if (column[at] === column[edge]) instead = ends[row[at] as number] as number;
    else continue;
    best = each - limit;
  }
  return { margin: (worth[edge] as number) - limit - best, instead };
}
