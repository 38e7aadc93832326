import type { Beside } from './beside.ts';
import type { Chains } from './chains.ts';
import type { Ground } from './ground.ts';
import { Ties } from './ties.ts';

/**
 * Entries of each person in the order of time, and the people in the order of their first entries: careers, with the
 * appointments held beside them, the other careers of one owner, and the entries that stand behind others.
 */
export function groupsOf(
  { coded, standsBehind }: Ground,
  { previous }: Chains,
  beside: readonly Beside[],
): readonly (readonly number[])[] {
  const ties = new Ties(); // of careers, by their first entries
  const byOwner = new Map<number, number>();
  const firstOf = new Int32Array(coded.count);
  for (let at = 0; at < coded.count; at++) {
    const [before, other] = [previous[at] as number, standsBehind[at] as number];
    firstOf[at] = before >= 0 ? (firstOf[before] as number) : other >= 0 ? (firstOf[other] as number) : at;
    const owner = coded.owner[at] as number;
    if (owner < 0) continue;
    const known = byOwner.get(owner);
    if (known === undefined) byOwner.set(owner, firstOf[at] as number);
    else ties.tie(known, firstOf[at] as number);
  }
  for (const { career, substantive } of beside) ties.tie(career, substantive);
  const groups = new Map<number, number[]>();
  for (const [at, first] of firstOf.entries()) {
    const root = ties.rootOf(first);
    const group = groups.get(root);
    if (group === undefined) groups.set(root, [at]);
    else group.push(at);
  }
  return [...groups.values()];
}
