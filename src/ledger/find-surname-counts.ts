import { fold } from '../services/fold.ts';
import type { Db } from './open.ts';
import { samePeople } from './people.ts';

/** How many people bear each surname that they are recorded under; those found to be one count once. */
export function surnameCounts(db: Db): number[] {
  const group = samePeople(db);
  const rows = db
    .prepare(
      'SELECT p.id, s.text FROM current_person AS p JOIN printed_name AS n ON n.id = p.name_id JOIN surname AS s ON s.id = n.surname_id ORDER BY p.id',
    )
    .raw()
    .all() as [number, string][];
  const counts = new Map<string, number>();
  for (const [id, text] of rows) {
    if (group(id)[0] !== id) continue;
    const key = fold(text);
    counts.set(key, (counts.get(key) ?? 0) + 1);
  }
  return [...counts.values()];
}
