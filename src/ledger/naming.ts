import type { Kind, KindName } from './kind.ts';
import { kindNamed } from './kinds.ts';
import type { Db } from './open.ts';

/** Current records of some kinds, other than entries, of which a field names one of these records. */
export function recordsNaming(
  db: Db,
  kind: Kind,
  ids: readonly number[],
  kinds: readonly Exclude<KindName, 'entry'>[],
): { readonly kind: KindName; readonly id: number }[] {
  return kinds.flatMap((name) => {
    const other = kindNamed(name);
    return other.fields.flatMap((field) => {
      const isOf =
        (field.type === 'ref' && field.to === kind.kind) ||
        (field.type === 'any-ref' && (field.to === 'all' || field.to.includes(kind.kind)));
      if (!isOf) return [];
      const wanted = field.type === 'ref' ? ids : ids.map((id) => `${kind.prefix}${id}`);
      const found = db
        .prepare(
          `SELECT id FROM "current_${other.table}" WHERE "${field.column}" IN (SELECT value FROM json_each(?)) ORDER BY id`,
        )
        .pluck()
        .all(JSON.stringify(wanted)) as number[];
      return found.map((id) => ({ kind: name, id }));
    });
  });
}

/** Every current record of a kind that has few. */
export const idsOf = (db: Db, kind: Exclude<KindName, 'entry'>): number[] =>
  db
    .prepare(`SELECT DISTINCT id FROM "current_${kindNamed(kind).table}" ORDER BY id`)
    .pluck()
    .all() as number[];

/** Editions of some services’ lists. */
export const editionsOfServices = (db: Db, services: readonly string[]): number[] =>
  db
    .prepare(
      `SELECT e.id FROM current_edition AS e JOIN current_series AS s ON s.id = e.series_id
        WHERE s.service IN (SELECT value FROM json_each(?)) ORDER BY e.id`,
    )
    .pluck()
    .all(JSON.stringify(services)) as number[];

/** The service of the list that an edition is of. */
export const serviceOfEdition = (db: Db, edition: number): string | undefined =>
  db
    .prepare('SELECT s.service FROM current_edition AS e JOIN current_series AS s ON s.id = e.series_id WHERE e.id = ?')
    .pluck()
    .get(edition) as string | undefined;

/** Everybody whom recorded kinships join to these people, at any distance, with themselves. */
export function kinOf(db: Db, people: readonly number[]): number[] {
  return db
    .prepare(
      `WITH RECURSIVE near (id) AS (
         SELECT value FROM json_each(?)
         UNION SELECT CASE WHEN k.person_id = n.id THEN k.relative_id ELSE k.person_id END
           FROM near AS n JOIN current_kin AS k ON k.person_id = n.id OR k.relative_id = n.id)
       SELECT id FROM near ORDER BY id`,
    )
    .pluck()
    .all(JSON.stringify(people)) as number[];
}

/** Every surname that people are recorded under, bore at some time, or stand under in a list. */
export const surnamesBorne = (db: Db, people: readonly number[]): string[] =>
  db
    .prepare(
      `SELECT s.text FROM surname AS s WHERE s.id IN (
         SELECT n.surname_id FROM current_person AS p JOIN printed_name AS n ON n.id = p.name_id WHERE p.id IN (SELECT value FROM json_each(@people))
         UNION SELECT n.surname_id FROM current_name_form AS f JOIN printed_name AS n ON n.id = f.name_id WHERE f.person_id IN (SELECT value FROM json_each(@people))
         UNION SELECT surname_id FROM bearer_surname WHERE person_id IN (SELECT value FROM json_each(@people)))`,
    )
    .pluck()
    .all({ people: JSON.stringify(people) }) as string[];
