import { describe, expect, test } from 'vitest';
import { type CandidatesAnswer, candidatesForMark } from '../../src/inquiry/candidates.ts';
import { exportedRecords } from '../../src/inquiry/export.ts';
import { tenuresOf } from '../../src/inquiry/tenures.ts';
import { KINDS, kindNamed } from '../../src/ledger/kinds.ts';
import type { Db } from '../../src/ledger/open.ts';
import { amendRecord } from '../../src/ledger/records.ts';
import { jsonLine } from '../../src/report/export-lines.ts';
import { act, ledgerOf, recordLines, SMALL } from '../report/ledgers.ts';

const written = (db: Db): string => [...exportedRecords(db)].map(jsonLine).join('');
const keysOf = (db: Db, kind: string): string[] =>
  [...exportedRecords(db)].flatMap(({ type, key }) => (type === kind ? [key] : []));

/** Numbers of a ledger in an answer, by the keys under which the records are written. */
function withKeys(db: Db, answer: unknown): unknown {
  const keys = new Map<string, string>();
  for (const kind of KINDS) {
    const ids = db
      .prepare(
        kind.kind === 'entry'
          ? 'SELECT coalesce(id, row) FROM current_entry ORDER BY edition_id, 1'
          : `SELECT id FROM "current_${kind.table}" ORDER BY id`,
      )
      .pluck()
      .all() as number[];
    const own = [...exportedRecords(db, [kind.kind])].filter(({ type }) => type === kind.kind);
    for (const [place, id] of ids.entries()) keys.set(`${kind.prefix}${id}`, own[place]?.key ?? '');
  }
  const text = JSON.stringify(answer, (name, value) => (name === 'key' || name === 'act' ? undefined : value));
  return JSON.parse(text.replaceAll(/\b([a-z]{1,2}\d+)\b/g, (id) => keys.get(id) ?? id));
}

const EVERY_KIND = [
  ...SMALL,
  { type: 'service', name: 'lighthouses' },
  { type: 'rank', service: 'lighthouses', title: 'Principal Keeper', order: 20, abbreviations: ['Princ. Kpr.'] },
  { type: 'corps', name: '2nd Fencibles', from: '1794' },
  { type: 'corps', name: '4th Fencibles', sameAs: '2nd Fencibles', to: '1850' },
  { type: 'assumption', name: 'circa', value: '10', why: 'house rule' },
  { type: 'assumption', name: 'circa', value: '7', why: 'a better one' },
  { type: 'fact', name: 'gaslight', text: 'gas bracket', window: 'from 1812', force: 'hard' },
  { type: 'name', person: 'ferrand', surname: 'Ferrand-Holt', forenames: 'Julian Peter', from: '1851' },
  { type: 'person', name: 'Thos. Marrick, jun.' },
  { type: 'person', name: 'Thos. Marrick, jun.', key: 'marrick-2' },
  { type: 'same', person: 'ferrard', other: 'marrick-2', why: 'one widow' },
  { type: 'differ', person: 'ferrand', other: 'ferrard', why: 'both in the list of 1834' },
  { type: 'link', entry: 'e7', person: 'ferrard', why: 'same date of rank' },
  { type: 'condition', rank: 'Captain', atLeastDays: 730, service: 'army' },
  { type: 'reading', mark: 'm1', text: 'Lieut. J. Ferr[.]nd', by: 'second reader' },
  { type: 'clue', mark: 'm2', text: 'Depository', window: 'from 1860', force: 'usual', why: 'the word' },
  { type: 'photo', of: 'm1', file: 'flap.jpg' },
  { type: 'attribution', mark: 'm1', person: 'ferrand', grade: 'probably', why: 'the only one' },
  { type: 'setAside', record: 'e6', why: 'slid a line' },
  {
    type: 'notice',
    person: 'ferrard',
    event: 'died',
    date: '1844-09-23',
    dateAsPrinted: '31 Sept.',
    source: 'Register',
  },
];

/** Grounds stand in the order of their numbers, which may be others. */
function answerOn(db: Db, mark: string) {
  const answer = withKeys(db, candidatesForMark(db, mark, { tried: 9 })) as CandidatesAnswer;
  return { ...answer, window: { ...answer.window, grounds: [...answer.window.grounds].sort() } };
}

describe('what is written reads back', () => {
  test('every kind of record stands in the file', () => {
    const kinds = new Set([...exportedRecords(ledgerOf(EVERY_KIND))].map(({ type }) => type));
    expect([...kinds].sort()).toEqual(KINDS.map(({ kind }) => kind).sort());
  });

  test('and written again it is the same to the byte', () => {
    const first = written(ledgerOf(EVERY_KIND));
    expect(written(ledgerOf(first))).toBe(first);
  });

  test('reading it a second time records nothing', () => {
    const text = written(ledgerOf(EVERY_KIND));
    const db = ledgerOf(text);
    recordLines(db, text);
    expect(db.prepare('SELECT count(*) FROM act').pluck().get()).toBe(1);
  });

  test('the answers are equal, whatever numbers the records have', () => {
    // A record of another ledger first, so that all numbers of its kind are others.
    const before = ledgerOf(EVERY_KIND);
    const after = ledgerOf([
      { type: 'object', ref: '9', title: 'Tin box' },
      { type: 'mark', object: '9', text: 'No. 4', role: 'other' },
      { type: 'feature', object: '9', text: 'tin', window: '1800/1900' },
    ]);
    recordLines(after, written(before));
    for (const person of ['ferrand', 'ferrard'])
      expect(withKeys(after, tenuresOf(after, person))).toEqual(withKeys(before, tenuresOf(before, person)));
    for (const mark of ['Lieut. J. Ferr[..]d', 'Pallant’s Depository, Saltmere. Miss A. Holt'])
      expect(answerOn(after, mark)).toEqual(answerOn(before, mark));
  });
});

describe('keys', () => {
  const person = { type: 'person', name: 'Anne Holt', born: '1840' };

  test('one that is made up is the same in every ledger', () => {
    const other = { type: 'person', name: 'Piers Anstey' };
    const [alone] = keysOf(ledgerOf([person]), 'person');
    expect(keysOf(ledgerOf([other, person]), 'person')).toContain(alone);
  });

  test('a correction does not change it', () => {
    const db = ledgerOf([person]);
    const before = keysOf(db, 'person');
    act(db, (into) => amendRecord(into, kindNamed('person'), 1, { died: '1911' }, 'found'));
    expect(keysOf(db, 'person')).toEqual(before);
    expect(written(db)).toContain('"died":"1911"');
  });

  test('two records that say the same have different ones', () => {
    const db = ledgerOf([person]);
    act(db, (into) => into.act.insert('person', { row: 2, id: 2, key: null, name_id: 1, born_id: 1 }));
    const [one, two] = keysOf(db, 'person');
    expect(two).toBe(`${one}-2`);
  });

  test('a key that two kinds share says in a reference to any kind which is meant', () => {
    const db = ledgerOf([
      { type: 'person', key: '9', name: 'Anne Holt' },
      { type: 'object', key: '9', ref: '9', title: 'Tin box' },
      { type: 'setAside', record: 'p1', why: 'not she' },
    ]);
    expect(written(db)).toContain('"record":"person 9"');
    expect(written(ledgerOf(written(db)))).toBe(written(db));
  });

  test('a key that looks like a number of this ledger means the record of the file', () => {
    const db = ledgerOf([
      { type: 'object', ref: '1', title: 'Tin box' },
      { type: 'mark', key: 'm2', object: '1', text: 'A', role: 'other' },
      { type: 'mark', key: 'm1', object: '1', text: 'B', role: 'other' },
      { type: 'reading', mark: 'm1', text: 'b' },
    ]);
    const reading = [...exportedRecords(db)].find(({ type }) => type === 'reading');
    expect(reading?.fields['mark']).toBe('m1');
    const text = db.prepare('SELECT text FROM mark WHERE id = (SELECT mark_id FROM reading)').pluck().get();
    expect(text).toBe('B');
  });
});
