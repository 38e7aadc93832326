import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach } from 'vitest';
import { record } from '../../src/ledger/journal.ts';
import type { KindName } from '../../src/ledger/kind.ts';
import { kindNamed } from '../../src/ledger/kinds.ts';
import { createLedger, type Db, openLedger } from '../../src/ledger/open.ts';
import { type Draft, recording } from '../../src/ledger/recording.ts';
import { addRecord } from '../../src/ledger/records.ts';
import { refreshSurnameIndex } from '../../src/ledger/surname-search.ts';

export type Line = Draft & { readonly type: KindName; readonly key?: string };

const open: (() => void)[] = [];

/** Closes and removes every ledger that a test made. */
export function removeLedgersAfterEach(): void {
  afterEach(() => {
    for (const close of open.splice(0)) close();
  });
}

/** Records lines as they stand in a file of records, one act for all; they may refer to each other by their keys. */
export function addTo(db: Db, lines: readonly Line[]): string[] {
  const origin = { at: '2020-01-01T00:00:00.000Z', who: 'tester', command: 'test', why: undefined, program: 'test' };
  const { result } = record(db, origin, (act) => {
    const into = recording(db, act);
    return lines.map(({ type, key, ...draft }) => addRecord(into, kindNamed(type), draft, key ?? null));
  });
  refreshSurnameIndex(db);
  return result;
}

/** A new ledger that holds these records. */
export function ledgerOf(...lines: readonly Line[]): Db {
  const folder = mkdtempSync(join(tmpdir(), 'heldby-test-'));
  createLedger(join(folder, 'ledger.sqlite'));
  const db = openLedger(join(folder, 'ledger.sqlite'), 'record');
  open.push(() => {
    db.close();
    rmSync(folder, { recursive: true, force: true });
  });
  if (lines.length > 0) addTo(db, lines);
  return db;
}

/** A list of a coast survey with an edition for each year named. */
export const listOf = (...years: readonly number[]): Line[] => [
  { type: 'series', key: 'al', name: 'Annual List of the Coast Survey', service: 'army', lagDays: 0 },
  ...years.map(
    (year): Line => ({ type: 'edition', key: `al-${year}`, series: 'al', label: `${year}`, asAt: `${year}-01-01` }),
  ),
];

/** A person listed in one rank in some editions. */
export const listed = (key: string, name: string, rank: string, ...years: readonly number[]): Line[] => [
  { type: 'person', key, name },
  ...years.map(
    (year): Line => ({ type: 'entry', edition: `al-${year}`, person: key, name, rank, corps: '2nd Fencibles' }),
  ),
];

export const slope = (horizon?: string): Line => ({
  type: 'object',
  key: 'slope',
  ref: '214',
  title: 'Brass-bound writing slope',
  ...(horizon === undefined ? {} : { horizon }),
});
