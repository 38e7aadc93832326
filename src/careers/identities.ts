import type { RecordId } from './evidence.ts';

/** A finding on two records of people. */
export type Finding = { readonly id: RecordId; readonly one: number; readonly other: number };

/** Ways from one record to another that are looked for; more hardly tell more. */
const MOST_WAYS = 100;

/**
 * Findings that two records are not of one person, each with every shortest-to-longest way by which other findings make
 * them one: minimal sets of findings that cannot all be true.
 */
export function identityConflicts(
  same: readonly Finding[],
  differ: readonly Finding[],
): readonly (readonly RecordId[])[] {
  if (same.length === 0) return [];
  const ties = new Map<number, { readonly to: number; readonly id: RecordId }[]>();
  const tie = (from: number, to: number, id: RecordId): void => {
    const known = ties.get(from);
    if (known === undefined) ties.set(from, [{ to, id }]);
    else known.push({ to, id });
  };
  for (const { id, one, other } of same) {
    tie(one, other, id);
    tie(other, one, id);
  }
  return differ.flatMap(({ id, one, other }) => waysBetween(ties, one, other).map((way) => [id, ...way]));
}

/** Simple ways, the shortest first. */
function waysBetween(
  ties: ReadonlyMap<number, readonly { readonly to: number; readonly id: RecordId }[]>,
  from: number,
  to: number,
): RecordId[][] {
  const found: RecordId[][] = [];
  let open: { readonly at: readonly number[]; readonly way: readonly RecordId[] }[] = [{ at: [from], way: [] }];
  while (open.length > 0 && found.length < MOST_WAYS) {
    const next: typeof open = [];
    for (const { at, way } of open) {
      for (const { to: neighbour, id } of ties.get(at[at.length - 1] as number) ?? []) {
        if (at.includes(neighbour)) continue;
        if (neighbour === to) found.push([...way, id]);
        else if (next.length < MOST_WAYS * MOST_WAYS) next.push({ at: [...at, neighbour], way: [...way, id] });
      }
    }
    open = next;
  }
  return found;
}
