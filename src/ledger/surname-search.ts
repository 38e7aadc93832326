import type { Pattern } from '../names/pattern.ts';
import { surnameCost } from '../names/surname-cost.ts';
import { buildSurnameIndex, type IndexedSurname, SURNAME_INDEX_VERSION } from '../names/surname-index.ts';
import { type FoundSurname, searchSurnames } from '../names/surname-search.ts';
import type { Db } from './open.ts';

/** So many surnames beside the list are compared one by one before the list is made anew. */
const MOST_BESIDE = 500;

type IndexRow = { through_surname: number; version: number; forward: Buffer; backward: Buffer };

/**
 * Keeps the searchable list of surnames beside the surnames, whenever enough have been added since. It is made from
 * them alone and can be made again at any time, so it is no part of the journal.
 */
export function refreshSurnameIndex(db: Db): void {
  const last = surnameCount(db);
  const there = db.prepare('SELECT through_surname, version FROM surname_index').get() as
    | Pick<IndexRow, 'through_surname' | 'version'>
    | undefined;
  if (last - (there?.version === SURNAME_INDEX_VERSION ? there.through_surname : 0) <= MOST_BESIDE) return;
  const names = db.prepare('SELECT id, text FROM surname').all() as IndexedSurname[];
  const { forward, backward } = buildSurnameIndex(names);
  db.prepare(
    'INSERT OR REPLACE INTO surname_index (id, through_surname, version, forward, backward) VALUES (1, ?, ?, ?, ?)',
  ).run(last, SURNAME_INDEX_VERSION, forward, backward);
}

/** How many surnames the ledger holds: they are numbered from 1, and none is ever taken out. */
export const surnameCount = (db: Db): number =>
  (db.prepare('SELECT max(id) FROM surname').pluck().get() as number | null) ?? 0;

/** Every surname of the ledger within so many bits of a reading. */
export function surnamesWithin(db: Db, pattern: Pattern, limitBits: number, elementBits: number): FoundSurname[] {
  const row = db
    .prepare('SELECT through_surname, version, forward, backward FROM surname_index WHERE version = ?')
    .get(SURNAME_INDEX_VERSION) as IndexRow | undefined;
  const found = row
    ? [...searchSurnames({ forward: row.forward, backward: row.backward }, pattern, limitBits, { elementBits })]
    : [];
  const beside = db
    .prepare('SELECT id, text FROM surname WHERE id > ?')
    .all(row?.through_surname ?? 0) as IndexedSurname[];
  for (const { id, text } of beside) {
    const bits = surnameCost(pattern, text, { elementBits, limitBits });
    if (bits <= limitBits) found.push({ id, bits });
  }
  return found;
}
