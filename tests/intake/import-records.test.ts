import { expect, test } from 'vitest';
import { importRecords } from '../../src/intake/import-records.ts';
import { record } from '../../src/ledger/journal.ts';
import { recording } from '../../src/ledger/recording.ts';
import { ledgerOf, listOf, removeLedgersAfterEach } from '../inquiry/made-up-ledger.ts';

removeLedgersAfterEach();

const PERSON = { type: 'person', key: 'ferrand', surname: 'Ferrand', forenames: 'Julian Peter' };
const ENTRY = { type: 'entry', edition: 'al-1834', person: 'ferrand', rank: 'Lieut.' };

/** Names of the entries as printed, after records of these lines were imported as often as said. */
function printedNames(lines: readonly object[], times = 1): unknown[] {
  const db = ledgerOf(...listOf(1834));
  const origin = { at: '2020-01-02T00:00:00.000Z', who: 'tester', command: 'test', why: undefined, program: 'test' };
  const text = lines.map((line) => JSON.stringify(line)).join('\n');
  for (let time = 0; time < times; time++) record(db, origin, (act) => importRecords(recording(db, act), text));
  return db.prepare('SELECT p.text FROM current_entry e JOIN printed_name p ON p.id = e.name_id').pluck().all();
}

test('an entry that says who it is, but not how it is printed, has the name of the person', () => {
  expect(printedNames([ENTRY, PERSON])).toEqual(['Julian Peter Ferrand']);
});

test('a name that is printed stands as it is printed', () => {
  expect(printedNames([PERSON, { ...ENTRY, name: 'J. P. Ferrand' }])).toEqual(['J. P. Ferrand']);
});

test('the same lines again record nothing new', () => {
  expect(printedNames([PERSON, ENTRY], 2)).toHaveLength(1);
});

test('an entry with neither a person nor a name is refused', () => {
  const { person: _, ...nobody } = ENTRY;
  expect(() => printedNames([nobody])).toThrow(expect.objectContaining({ code: 'INPUT_FILE' }));
});

test('a key of an earlier file stands for its record, also where it looks like the id of another', () => {
  const db = ledgerOf(...listOf(1834));
  const origin = { at: '2020-01-02T00:00:00.000Z', who: 'tester', command: 'test', why: undefined, program: 'test' };
  const files = [
    [
      { type: 'person', key: 'p2', surname: 'Ferrand' },
      { type: 'person', key: 'p1', surname: 'Marrick' },
    ],
    [{ ...ENTRY, person: 'p1' }],
    [{ type: 'amendment', record: 'p1', field: 'born', value: '1812', why: 'register' }],
  ];
  for (const lines of files) {
    const text = lines.map((line) => JSON.stringify(line)).join('\n');
    record(db, origin, (act) => importRecords(recording(db, act), text));
  }
  expect(
    db.prepare('SELECT p.text FROM current_entry e JOIN printed_name p ON p.id = e.name_id').pluck().all(),
  ).toEqual(['Marrick']);
  expect(db.prepare('SELECT key FROM current_person WHERE born_id IS NOT NULL').pluck().all()).toEqual(['p1']);
});
