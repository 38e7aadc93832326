import { entryById } from './entries.ts';
import type { Kind } from './kind.ts';
import { parseId } from './kinds.ts';
import type { Db } from './open.ts';

/** Keys of current records by id; null where there is none, undefined where the id is no record's. */
export function keyReader(db: Db): (id: string) => string | null | undefined {
  const readers = new Map<Kind, (row: number) => string | null>();
  const readerFor = ({ kind, table }: Kind): ((row: number) => string | null) => {
    if (db.prepare(`SELECT 1 FROM "${table}" WHERE key IS NOT NULL LIMIT 1`).get() === undefined) return () => null;
    if (kind === 'entry') return (row) => entryById(db, row)?.key ?? null;
    const find = db.prepare(`SELECT key FROM "current_${table}" WHERE id = ?`).pluck();
    return (row) => (find.get(row) ?? null) as string | null;
  };
  return (id) => {
    const parsed = parseId(id);
    if (parsed === undefined) return undefined;
    const read = readers.get(parsed.kind) ?? readerFor(parsed.kind);
    readers.set(parsed.kind, read);
    return read(parsed.row);
  };
}
