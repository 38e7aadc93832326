import Database from 'better-sqlite3';
import { type ActOrigin, record } from '../../src/ledger/journal.ts';
import { migrate } from '../../src/ledger/migrate.ts';
import type { Db } from '../../src/ledger/open.ts';
import { type Recording, recording } from '../../src/ledger/recording.ts';

let empty: Buffer | undefined;

/** An empty ledger in memory. */
export function newLedger(): Db {
  empty ??= migrated();
  return new Database(empty);
}

function migrated(): Buffer {
  const db = new Database(':memory:');
  migrate(db);
  return db.serialize();
}

export const ORIGIN: ActOrigin = {
  at: '2026-11-25T10:00:00.000Z',
  who: 'tester',
  command: 'heldby test',
  why: undefined,
  program: '0.0.0',
};

/** One act; what it recorded, and how it was sealed. */
export const inOneAct = <T>(db: Db, work: (into: Recording) => T, undoes?: number) =>
  record(db, ORIGIN, (act) => work(recording(db, act)), undoes === undefined ? {} : { undoes });
