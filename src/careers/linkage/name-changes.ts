import { bestPairs, type Edges } from './assignment.ts';
import type { Chains } from './chains.ts';
import { SURNAME_FIELD } from './fields.ts';
import type { Ground } from './ground.ts';
import type { Learned } from './learned.ts';
import { fieldBits } from './weights.ts';
import { areFoes, NOTHING, type Worth } from './worth.ts';

/** A career that may go on under another name, and the one with which it may. */
export type Renamed = { readonly tail: number; readonly head: number; readonly bits: number };

/**
 * Careers that end, and careers of other names that begin later with the same date of rank in the same corps: changes of
 * name by licence, marriage, inheritance or title. Each end is given one beginning at most, worth most together. Two who are
 * on record are asked about too, until it is decided that they are not one.
 */
export function renamedCareers(
  { coded, standsBehind }: Ground,
  { weights }: Learned,
  chains: Chains,
  worth: Worth,
): readonly Renamed[] {
  const { previous, next, tails, heads } = chains;
  const keyOf = (corpsAt: number, datedAt: number): number =>
    corpsAt < 0 || datedAt < 0
      ? -1
      : (coded.dated[datedAt] as number) * coded.corpsCount + (coded.corps[corpsAt] as number);
  const beginnings = new Map<number, number[]>();
  const ends: number[] = [];
  for (let at = 0; at < coded.count; at++) {
    if (coded.lane[at] !== 0 || (standsBehind[at] as number) >= 0) continue;
    if ((next[at] as number) < 0) ends.push(at);
    if ((previous[at] as number) >= 0) continue;
    const key = keyOf(heads.corpsAt[at] as number, heads.datedAt[at] as number);
    if (key >= 0) beginnings.set(key, [...(beginnings.get(key) ?? []), at]);
  }
  const edges: Edges = { row: [], column: [], worth: [] };
  for (const [row, tail] of ends.entries()) {
    const key = keyOf(tails.corpsAt[tail] as number, tails.datedAt[tail] as number);
    for (const head of key < 0 ? [] : (beginnings.get(key) ?? [])) {
      if (coded.surname[tail] === coded.surname[head] || (coded.step[head] as number) <= (coded.step[tail] as number))
        continue;
      if (areFoes(coded, chains, tail, head)) continue;
      const bits = besidesSurname(tail, head);
      if (bits <= NOTHING) continue;
      edges.row.push(row);
      edges.column.push(head);
      edges.worth.push(bits);
    }
  }
  const pairs = bestPairs(edges, ends.length, coded.count);
  const found: Renamed[] = [];
  for (const [row, pair] of pairs.entries())
    if (pair >= 0)
      found.push({ tail: ends[row] as number, head: edges.column[pair] as number, bits: edges.worth[pair] as number });
  return found.sort((a, b) => b.bits - a.bits || a.tail - b.tail);

  function besidesSurname(tail: number, head: number): number {
    const { fields, namesakeBits } = worth.explained(tails, tail, heads, head);
    let bits = worth.gapBits(tail, head) - namesakeBits;
    for (const field of fields.levels.keys()) if (field !== SURNAME_FIELD) bits += fieldBits(weights, fields, field);
    return bits;
  }
}
