import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll } from 'vitest';
import { importRecords } from '../../src/intake/import-records.ts';
import { record } from '../../src/ledger/journal.ts';
import { createLedger, type Db, openLedger } from '../../src/ledger/open.ts';
import { type Recording, recording } from '../../src/ledger/recording.ts';
import { refreshSurnameIndex } from '../../src/ledger/surname-search.ts';

const folders: string[] = [];
afterAll(() => {
  for (const folder of folders) rmSync(folder, { recursive: true, force: true });
});

/** A folder that is gone after the tests of the file. */
export function temporaryFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'heldby-report-'));
  folders.push(folder);
  return folder;
}

/** An empty ledger in a folder of its own. */
export function emptyLedger(): Db {
  const file = join(temporaryFolder(), 'heldby.sqlite');
  createLedger(file);
  return openLedger(file, 'record');
}

export type LineObject = Readonly<Record<string, unknown>>;

/** A ledger into which these lines were recorded, as one act on 25 November 2026. */
export function ledgerOf(lines: readonly LineObject[] | string): Db {
  const db = emptyLedger();
  recordLines(db, lines);
  return db;
}

/** One more act. */
export function recordLines(db: Db, lines: readonly LineObject[] | string, at = '2026-11-25T10:00:00.000Z'): void {
  const text = typeof lines === 'string' ? lines : lines.map((line) => JSON.stringify(line)).join('\n');
  act(db, (into) => importRecords(into, text), at);
}

/** Any act, with nobody's clock. */
export function act<T>(db: Db, work: (into: Recording) => T, at = '2026-11-25T10:00:00.000Z', undoes?: number): T {
  const origin = { at, who: 'tester', command: 'heldby import lines.jsonl', why: undefined, program: '0.1.0' };
  const { result } = record(db, origin, (each) => work(recording(db, each)), undoes === undefined ? {} : { undoes });
  refreshSurnameIndex(db);
  return result;
}

/** A small invented service: one list, three men of like names, one object with two marks. */
export const SMALL: readonly LineObject[] = [
  { type: 'series', key: 'al', name: 'Annual List of the Coast Survey', service: 'army', lagDays: 60 },
  ...[1832, 1834, 1836, 1838, 1840].map((year) => ({
    type: 'edition',
    key: `al-${year}`,
    series: 'al',
    label: String(year),
    asAt: `${year}-01-01`,
  })),
  {
    type: 'person',
    key: 'ferrand',
    surname: 'Ferrand',
    forenames: 'Julian Peter',
    born: '1812',
    died: '1871-03-04',
    places: ['Oakhaven'],
  },
  { type: 'person', key: 'ferrard', surname: 'Ferrard', forenames: 'James', born: 'c. 1801', died: '1844-09-23' },
  {
    type: 'person',
    key: 'holt',
    surname: 'Holt',
    forenames: 'Anne',
    born: '1840-05-01',
    died: '1911-01-15',
    places: ['Saltmere'],
  },
  { type: 'kin', person: 'holt', relation: 'parent', relative: 'ferrand' },
  ...[
    ['e1', 'al-1832', 'ferrand', 'J. P. Ferrand', 'Ensign', '3 Feb. 1831', '212'],
    ['e2', 'al-1834', 'ferrand', 'J. P. Ferrand', 'Lieut.', '16 May 1833', '213'],
    ['e3', 'al-1836', 'ferrand', 'J. P. Ferrand', 'Lieut.', '16 May 1833', '211'],
    ['e4', 'al-1838', 'ferrand', 'J. P. Ferrand', 'Lieut.', '16 May 1833', '209'],
    ['e5', 'al-1840', 'ferrand', 'J. P. Ferrand', 'Capt.', '8 Feb. 1839', '209'],
    ['e6', 'al-1832', 'ferrard', 'Jas. Ferrard', 'Lieut.', '9 Aug. 1825', '118'],
    ['e7', 'al-1834', 'ferrard', 'Jas. Ferrard', 'Capt.', '1 Nov. 1832', '117'],
  ].map(([key, edition, person, name, rank, dated, page]) => ({
    type: 'entry',
    key,
    edition,
    person,
    name,
    rank,
    corps: '2nd Fencibles',
    dated,
    page,
  })),
  {
    type: 'notice',
    key: 'n1',
    person: 'ferrand',
    event: 'promoted',
    date: '1839-02-08',
    rank: 'Captain',
    corps: '2nd Fencibles',
    source: 'Oakhaven Gazette, 8 Feb. 1839, p. 47',
  },
  { type: 'search', key: 's1', edition: 'al-1840', person: 'ferrard', outcome: 'not found' },
  { type: 'search', key: 's2', edition: 'al-1836', surname: 'Ferrand', outcome: 'all taken', found: 1 },
  {
    type: 'object',
    key: '214',
    ref: '214',
    title: 'Brass-bound writing slope',
    note: 'Mahogany, brass straps let in at the corners; 38 cm wide.',
  },
  {
    type: 'feature',
    key: 'f1',
    object: '214',
    text: 'lock stamped TOLLAND’S PATENT, granted on 11 May 1830',
    window: '1830-05-11/..',
    force: 'hard',
    part: 'lock',
    source: 'Oakhaven Patent Rolls, 1830, no. 61',
  },
  {
    type: 'feature',
    key: 'f2',
    object: '214',
    text: 'hand-filed screws',
    window: '../1835',
    weight: 'moderate',
    part: 'straps',
  },
  {
    type: 'mark',
    key: 'm1',
    object: '214',
    text: 'Lieut. J. Ferr[..]d',
    role: 'owner',
    technique: 'ink',
    where: 'underside of the flap',
  },
  {
    type: 'mark',
    key: 'm2',
    object: '214',
    text: 'Pallant’s Depository, Saltmere. Miss A. Holt',
    role: 'depository',
    technique: 'printed label',
    where: 'underside',
    made: '1874/1889',
    surname: 'Holt',
    forenames: 'A.',
    place: 'Saltmere',
  },
];
