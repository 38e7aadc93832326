import { describe, expect, test } from 'vitest';
import { exportedRecords } from '../../src/inquiry/export.ts';
import { historyLines } from '../../src/inquiry/export-history.ts';
import { reportOf } from '../../src/inquiry/report.ts';
import { importHistory, isHistory } from '../../src/intake/import-history.ts';
import { standAsOf } from '../../src/ledger/as-of.ts';
import { KINDS, kindNamed } from '../../src/ledger/kinds.ts';
import { type Db, openLedger } from '../../src/ledger/open.ts';
import { addRecord, amendRecord, withdrawRecord } from '../../src/ledger/records.ts';
import { actsNewestFirst, lastActId, undoAct } from '../../src/ledger/undo.ts';
import { verifyLedger } from '../../src/ledger/verify.ts';
import { act, emptyLedger, ledgerOf, recordLines, SMALL } from '../report/ledgers.ts';
import { printed } from '../report/printed.ts';

const textOf = (db: Db): string => [...historyLines(db, undefined)].map((line) => `${JSON.stringify(line)}\n`).join('');

/** A ledger with every sort of act: records, corrections of every sort of field, withdrawals, undone acts. */
function lived(): Db {
  const db = ledgerOf(SMALL);
  const amend = (kind: 'person' | 'entry' | 'notice' | 'object' | 'mark', id: number, change: object, why = 'found') =>
    act(db, (into) => amendRecord(into, kindNamed(kind), id, change as Record<string, unknown>, why));
  recordLines(db, [{ type: 'person', name: 'Anne Fenn', places: ['Oakhaven', 'Saltmere'] }]);
  recordLines(db, [
    { type: 'person', name: 'Anne Fenn', key: 'fenn-2' },
    { type: 'corps', name: '2nd Fencibles' },
  ]);
  amend('person', 1, { died: '1880', diedAsPrinted: '31 June 1880' });
  amend('person', 2, { surname: 'de la Ferrard', forenames: 'James', name: 'Jas. de la Ferrard' });
  amend('entry', 2, { page: 'xii', rank: 'Capt.', corps: '3rd Fencibles' });
  amend('entry', 2, { page: '214', note: 'seen twice' }, 'seen again');
  amend('notice', 1, { vice: 'p2', date: 'c. 1839' });
  amend('object', 1, { note: null });
  act(db, (into) => withdrawRecord(into, kindNamed('search'), 1, 'wrong volume'));
  recordLines(db, [{ type: 'mark', object: '214', key: '214', text: 'No. 7', role: 'other', over: 'm1' }]);
  recordLines(db, [{ type: 'setAside', record: 'f2', why: 'replaced' }]);
  act(db, (into) => addRecord(into, kindNamed('setAside'), { record: 'm3', why: 'not this object’s' }));
  const last = lastActId(db);
  act(db, (into) => undoAct(db, into.act, last), '2026-12-01T00:00:00.000Z', last);
  act(db, (into) => undoAct(db, into.act, last + 1), '2026-12-02T00:00:00.000Z', last + 1);
  recordLines(db, [{ type: 'reading', mark: 'm1', text: 'Lieut. J. Ferr[.]nd' }]);
  // Keys: as it came from another ledger, where it was made; and taken again after the one that had it was withdrawn.
  const [made] = [...exportedRecords(db, ['reading'])];
  recordLines(db, [{ type: 'mark', object: '214', key: 'plate', text: 'J. F.', role: 'owner' }]);
  recordLines(db, [{ ...made?.fields, type: 'reading', key: made?.key, mark: 'plate', text: 'J. P.' }]);
  recordLines(db, [{ type: 'object', key: '215', ref: '215', title: 'Case' }]);
  const twice = db.prepare("SELECT id FROM object WHERE key = '215'").pluck().get() as number;
  act(db, (into) => withdrawRecord(into, kindNamed('object'), twice, 'entered twice'));
  act(db, (into) => addRecord(into, kindNamed('object'), { ref: '215', title: 'Case' }, '215'));
  return db;
}

const ACTS = 21;
const before = lived();
const text = textOf(before);
const after = emptyLedger();
importHistory(after, text);

describe('a history that is read into an empty ledger', () => {
  test('has the same acts: number, day, person, command, reason, and whether they count', () => {
    const acts = (db: Db) => actsNewestFirst(db, 1000).map(({ hash: _, rows: __, ...told }) => told);
    expect(acts(after)).toEqual(acts(before));
    expect(acts(after).length).toBe(ACTS);
  });

  test('is written again as the same text', () => expect(textOf(after)).toBe(text));

  test('has the same keys, and none where one was made only to write the record', () => {
    const keys = (db: Db) =>
      KINDS.flatMap(({ table }) =>
        db.prepare(`SELECT '${table}', coalesce(id, row), key FROM "${table}" ORDER BY row`).raw().all(),
      );
    expect(keys(after)).toEqual(keys(before));
  });

  test('is sound', () => expect(verifyLedger(after)).toEqual([]));

  test('answers the same, now and as it stood after any act', () => {
    expect(printed(after, ['214'], 'text')).toBe(printed(before, ['214'], 'text'));
    for (const number of [1, 5, 8, 14]) {
      const [then, again] = [before, after].map((db) => {
        const past = openLedger(db.name, 'read');
        standAsOf(past, number);
        const { about: _, ...lot } = reportOf(past, '214', number);
        past.close();
        return JSON.stringify(lot);
      });
      expect(again, `after act ${number}`).toBe(then);
    }
  });
});

describe('a history', () => {
  test('is known by its first line', () => {
    expect(isHistory(text)).toBe(true);
    expect(isHistory('{"type":"person","name":"Anne Fenn"}')).toBe(false);
  });

  test('is not read into a ledger that holds anything', () =>
    expect(() => importHistory(ledgerOf(SMALL), text)).toThrow('empty ledger only'));

  test('a line that cannot be recorded is named, and nothing is', () => {
    const db = emptyLedger();
    const lines = text.split('\n');
    lines[3] = JSON.stringify({ type: 'entry', key: 'x', edition: 'none', name: 'A', rank: 'Capt.' });
    expect(() => importHistory(db, lines.join('\n'))).toThrow(/Line 4: .*none/);
    expect(lastActId(db)).toBe(0);
  });

  test('a gap in the acts is seen', () => {
    const [first = '', ...rest] = text
      .split('\n')
      .filter((line) => line.startsWith('{"type":"act"') || line.includes('"series"'));
    const second = rest.find((line) => line.startsWith('{"type":"act"')) ?? '';
    expect(() => importHistory(emptyLedger(), [second, first].join('\n'))).toThrow(/another number/);
  });

  test('a dry run leaves the ledger empty', () => {
    const db = emptyLedger();
    expect(importHistory(db, text, true).acts).toBe(ACTS);
    expect(lastActId(db)).toBe(0);
  });
});
