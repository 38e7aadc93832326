import Database from 'better-sqlite3';
import { describe, expect, test } from 'vitest';
import { HeldbyError } from '../../src/errors.ts';
import { candidatesForMark } from '../../src/inquiry/candidates.ts';
import { conflictsOf } from '../../src/inquiry/conflicts.ts';
import { madeOf } from '../../src/inquiry/made.ts';
import { recordShown } from '../../src/inquiry/records.ts';
import { tenuresOf } from '../../src/inquiry/tenures.ts';
import { importRecords } from '../../src/intake/import-records.ts';
import { KINDS } from '../../src/ledger/kinds.ts';
import type { Db } from '../../src/ledger/open.ts';
import { amendRecord } from '../../src/ledger/records.ts';
import { verifyLedger } from '../../src/ledger/verify.ts';
import { EVERY_RECORD } from '../cli/every-record.ts';
import { inOneAct, newLedger } from './new-ledger.ts';

const HOSTILE: readonly unknown[] = [
  null,
  '-1',
  '1900/1800',
  '1700/1710',
  'Y99999',
  'p1',
  'm1',
  'ed2',
  'navy',
  '[\u202e',
  'yes',
  {},
  1.5,
];

function whole(): Db {
  const db = newLedger();
  inOneAct(db, (into) => importRecords(into, EVERY_RECORD.map((line) => JSON.stringify(line)).join('\n')));
  return db;
}

/** Questions that between them read every kind of record. */
function askAll(db: Db): void {
  for (const { table, prefix, kind } of KINDS) {
    const id = kind === 'entry' ? 'coalesce(id, row)' : 'id';
    for (const row of db.prepare(`SELECT ${id} FROM "current_${table}"`).pluck().all())
      recordShown(db, `${prefix}${row}`);
  }
  for (const id of db.prepare('SELECT id FROM current_person').pluck().all()) tenuresOf(db, `p${id}`);
  for (const id of db.prepare('SELECT id FROM current_mark').pluck().all())
    candidatesForMark(db, `m${id}`, { tried: 1 });
  for (const id of db.prepare('SELECT id FROM current_object').pluck().all()) madeOf(db, `o${id}`);
  conflictsOf(db, undefined);
}

describe('every field said otherwise is refused in words, or the ledger still answers', () => {
  const given = whole();
  test.each(KINDS.map((kind) => [kind.called, kind] as const))('%s', (_called, kind) => {
    const column = kind.kind === 'entry' ? 'coalesce(id, row)' : 'id';
    const id = given.prepare(`SELECT ${column} FROM "current_${kind.table}" LIMIT 1`).pluck().get() as number;
    const db = new Database(given.serialize());
    const acts = db.prepare('SELECT count(*) FROM act').pluck();
    for (const field of kind.fields) {
      for (const value of HOSTILE) {
        const had = acts.get();
        try {
          inOneAct(db, (into) => amendRecord(into, kind, id, { [field.name]: value }, 'tried'));
          recordShown(db, `${kind.prefix}${id}`);
        } catch (error) {
          expect(error, `${field.name} ${value}`).toBeInstanceOf(HeldbyError);
          expect(acts.get()).toBe(had);
        }
      }
      if (field.type !== 'text' && field.type !== 'choice') askAll(db);
    }
    askAll(db);
    expect(verifyLedger(db)).toEqual([]);
  });
});
