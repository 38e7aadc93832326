import type { Db } from './open.ts';
import { samePeople } from './people.ts';
import { prepared } from './prepared.ts';

/** A way from one person to another over recorded kinships: their ids, nearest first. */
export type KinPath = readonly string[];

type KinRow = { readonly id: number; readonly person_id: number; readonly relative_id: number };

/**
 * Who is kin to whom by what is recorded, at whatever distance: the shortest way over recorded kinships, undefined where
 * there is none. People who are found to be one count as one; they are named by their first record, as `p3`.
 * @param without a kinship that is left out.
 */
export function kinReader(db: Db, without?: string): (a: string, b: string) => KinPath | undefined {
  const together = samePeople(db);
  const first = (person: number): number => together(person)[0] ?? person;
  const rows = prepared(
    db,
    `SELECT id, person_id, relative_id FROM current_kin
        WHERE 'k' || id NOT IN (SELECT record FROM current_set_aside) ORDER BY id`,
  ).all() as KinRow[];
  const ties = new Map<number, { readonly to: number; readonly id: string }[]>();
  const tie = (from: number, to: number, id: string): void => {
    const known = ties.get(from);
    if (known === undefined) ties.set(from, [{ to, id }]);
    else known.push({ to, id });
  };
  for (const { id, person_id, relative_id } of rows) {
    if (`k${id}` === without) continue;
    tie(first(person_id), first(relative_id), `k${id}`);
    tie(first(relative_id), first(person_id), `k${id}`);
  }
  const paths = new Map<number, ReadonlyMap<number, KinPath>>();
  const pathsFrom = (person: number): ReadonlyMap<number, KinPath> => {
    const known = paths.get(person);
    if (known !== undefined) return known;
    const found = new Map<number, KinPath>([[person, []]]);
    const next = [person];
    for (const at of next) {
      const way = found.get(at) ?? [];
      for (const { to, id } of ties.get(at) ?? []) {
        if (found.has(to)) continue;
        found.set(to, [...way, id]);
        next.push(to);
      }
    }
    paths.set(person, found);
    return found;
  };
  const firsts = new Map<string, number>();
  const firstOf = (person: string): number => {
    const known = firsts.get(person) ?? first(Number(person.slice(1)));
    firsts.set(person, known);
    return known;
  };
  return (a, b) => {
    if (ties.size === 0 || a === b) return undefined;
    const from = firstOf(a);
    return ties.has(from) ? pathsFrom(from).get(firstOf(b)) : undefined;
  };
}
