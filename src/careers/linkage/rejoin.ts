import { bestPairs, type Edges } from './assignment.ts';
import { type Chains, cut, join } from './chains.ts';
import { NOTHING, type Worth } from './worth.ts';

/** Cuts all careers at one place and joins their parts anew, worth most together. @returns whether anything was gained. */
export function rejoin(ends: readonly number[], beginnings: readonly number[], chains: Chains, worth: Worth): boolean {
  if (ends.length === 0 || beginnings.length === 0) return false;
  const { next, tails, heads } = chains;
  const edges: Edges = { row: [], column: [], worth: [] };
  let current = 0;
  for (const [row, end] of ends.entries())
    for (const [column, beginning] of beginnings.entries()) {
      const isJoined = next[end] === beginning;
      const gain = worth.of(tails, end, heads, beginning, isJoined ? Number.NEGATIVE_INFINITY : 0);
      if (isJoined) current += gain;
      if (gain <= NOTHING) continue;
      edges.row.push(row);
      edges.column.push(column);
      edges.worth.push(gain);
    }
  const taken = bestPairs(edges, ends.length, beginnings.length);
  let best = 0;
  for (const pair of taken) if (pair >= 0) best += edges.worth[pair] as number;
  if (best - current <= NOTHING) return false;
  for (const end of ends) cut(chains, end);
  for (const [row, end] of ends.entries()) {
    const pair = taken[row] as number;
    if (pair >= 0) join(chains, end, beginnings[edges.column[pair] as number] as number);
  }
  return true;
}
