import { type EntryRow, entryById } from './entries.ts';
import type { Db } from './open.ts';

/** Who bears an entry, and by which decision; no decision: as it was recorded. */
export type Bearing = {
  readonly person: number | undefined;
  readonly decision: { readonly link: string; readonly why: string | undefined } | undefined;
};

/**
 * Who bears an entry now: by the latest decision, else as it was recorded; undefined where nobody does.
 * @returns a function of the number of an entry and of the person recorded with it.
 */
export function bearingReader(db: Db): (entry: number, recorded: number | null | undefined) => Bearing {
  const latest = db.prepare('SELECT id, person_id, why FROM current_link WHERE entry_id = ? ORDER BY row DESC LIMIT 1');
  return (entry, recorded) => {
    const link = latest.get(entry) as { id: number; person_id: number | null; why: string | null } | undefined;
    return link === undefined
      ? { person: recorded ?? undefined, decision: undefined }
      : { person: link.person_id ?? undefined, decision: { link: `l${link.id}`, why: link.why ?? undefined } };
  };
}

export const bearerOf = (db: Db, { id, row, person_id }: EntryRow): number | undefined =>
  bearingReader(db)(id ?? row, person_id).person;

export function bearerOfEntry(db: Db, entry: number): number | undefined {
  return bearingReader(db)(entry, entryById(db, entry)?.person_id).person;
}
