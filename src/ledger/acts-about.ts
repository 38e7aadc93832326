import type { Kind, KindName } from './kind.ts';
import { kindNamed } from './kinds.ts';
import type { Db } from './open.ts';
import { type ActRow, actsNewestFirst, actsOfRecord } from './undo.ts';

/** Kinds of record that say something of another one and of nothing else: what was done to them was done to it. */
const SAY_MORE: Partial<Record<KindName, readonly KindName[]>> = {
  object: ['feature', 'mark', 'photo', 'setAside'],
  mark: ['reading', 'clue', 'attribution', 'photo', 'setAside'],
  person: ['name', 'same', 'differ', 'kin', 'notice', 'search', 'setAside'],
  entry: ['link', 'setAside'],
  feature: ['setAside'],
};

/**
 * Every act that touched a record or what says more of it: of an object its features and marks, of a person names and
 * who is the same, of an entry who bears it; with the acts that undid one of them. Newest first.
 */
export function actsAbout(db: Db, kind: Kind, id: number): ActRow[] {
  const acts = new Map<number, ActRow>();
  const gather = (of: Kind, record: number): void => {
    for (const act of actsOfRecord(db, of.table, record)) acts.set(act.id, act);
    for (const name of SAY_MORE[of.kind] ?? [])
      for (const more of saying(db, kindNamed(name), of, record)) gather(kindNamed(name), more);
  };
  gather(kind, id);
  // An undo is younger than what it undoes, so that one way through the acts finds the undoing of an undo too.
  const undoing = db.prepare('SELECT id, undoes FROM act WHERE undoes IS NOT NULL ORDER BY id').raw().all();
  for (const [undo, undoes] of undoing as [number, number][])
    if (acts.has(undoes)) for (const act of actsNewestFirst(db, 1, undo)) acts.set(undo, act);
  return [...acts.values()].sort((a, b) => b.id - a.id);
}

/** Records of a kind that name another one, of whatever state. */
function saying(db: Db, kind: Kind, of: Kind, record: number): number[] {
  const found = kind.fields.flatMap((field): { column: string; value: number | string }[] => {
    if (field.type === 'ref' && field.to === of.kind) return [{ column: field.column, value: record }];
    return field.type === 'any-ref' ? [{ column: field.column, value: `${of.prefix}${record}` }] : [];
  });
  return found.flatMap(
    ({ column, value }) =>
      db.prepare(`SELECT DISTINCT id FROM "${kind.table}" WHERE "${column}" = ?`).pluck().all(value) as number[],
  );
}
