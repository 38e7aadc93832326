import { buildSurnameIndex, type IndexedSurname, SURNAME_INDEX_VERSION } from '../names/surname-index.ts';
import type { Db } from './open.ts';

/**
 * What the ledger keeps beside its records because it is quicker than working it out: the searchable list of surnames,
 * and under which surnames the entries of a person stand. No seal covers the two; they are compared with what the
 * records say.
 */
export function derivedFindings(db: Db): { readonly what: string; readonly where: string }[] {
  const rebuild = 'make it anew: heldby verify --rebuild';
  const missing = db
    .prepare(
      `SELECT count(*) FROM (SELECT DISTINCT person_id, surname_id FROM entry WHERE person_id IS NOT NULL
         EXCEPT SELECT person_id, surname_id FROM bearer_surname)`,
    )
    .pluck()
    .get() as number;
  const bearers =
    missing === 0
      ? []
      : [{ what: `${missing} of the people’s surnames are missing; ${rebuild}`, where: 'bearer_surname' }];
  return isListSound(db)
    ? bearers
    : [...bearers, { what: `the list is not that of the surnames; ${rebuild}`, where: 'surname_index' }];
}

function isListSound(db: Db): boolean {
  const row = db
    .prepare('SELECT through_surname, forward, backward FROM surname_index WHERE version = ?')
    .get(SURNAME_INDEX_VERSION) as { through_surname: number; forward: Buffer; backward: Buffer } | undefined;
  if (row === undefined) return true;
  const { forward, backward } = buildSurnameIndex(surnamesThrough(db, row.through_surname));
  return row.forward.equals(forward) && row.backward.equals(backward);
}

const surnamesThrough = (db: Db, last: number): IndexedSurname[] =>
  db.prepare('SELECT id, text FROM surname WHERE id <= ?').all(last) as IndexedSurname[];

/** Makes both anew from the records. */
export function rebuildDerived(db: Db): void {
  db.transaction(() => {
    db.exec(`DELETE FROM bearer_surname;
      INSERT INTO bearer_surname (person_id, surname_id) SELECT DISTINCT person_id, surname_id FROM entry WHERE person_id IS NOT NULL
        UNION SELECT l.person_id, e.surname_id FROM link AS l JOIN bearer AS e ON e.entry_id = l.entry_id WHERE l.person_id IS NOT NULL;
      DELETE FROM surname_index;`);
    const last = db.prepare('SELECT ifnull(max(id), 0) FROM surname').pluck().get() as number;
    const { forward, backward } = buildSurnameIndex(surnamesThrough(db, last));
    db.prepare(
      'INSERT INTO surname_index (id, through_surname, version, forward, backward) VALUES (1, ?, ?, ?, ?)',
    ).run(last, SURNAME_INDEX_VERSION, forward, backward);
  }).immediate();
}
