import { describe, expect, test } from 'vitest';
import { standAsOf } from '../../src/ledger/as-of.ts';
import { kindNamed } from '../../src/ledger/kinds.ts';
import { type Db, openLedger } from '../../src/ledger/open.ts';
import { amendRecord, withdrawRecord } from '../../src/ledger/records.ts';
import { lastActId, undoAct } from '../../src/ledger/undo.ts';
import type { ReportFormat } from '../../src/report/print.ts';
import { act, ledgerOf, recordLines, SMALL } from './ledgers.ts';
import { printedAs, styleWith } from './printed.ts';

const FORMATS: readonly Exclude<ReportFormat, 'docx'>[] = ['text', 'markdown', 'html', 'csv', 'json'];
const everyForm = (db: Db, asOf?: number): string[] => printedAs(FORMATS, db, ['214'], styleWith(), asOf);

/** The same ledger as it stood after an act, on a connection of its own. */
function past(db: Db, number: number): string[] {
  const then = openLedger(db.name, 'read');
  standAsOf(then, number);
  const texts = everyForm(then, number);
  then.close();
  return texts;
}

describe('a past report is the same to the byte, whatever was recorded since', () => {
  const db = ledgerOf(SMALL);
  const first = everyForm(db);

  test('more people, lists, features, marks, searches and assumptions', () => {
    recordLines(
      db,
      [
        { type: 'series', key: 'nl', name: 'Navy List', service: 'navy' },
        { type: 'edition', key: 'nl-1835', series: 'nl', label: '1835', asAt: '1835-01-01' },
        { type: 'person', key: 'ferrond', surname: 'Ferrond', forenames: 'John', places: ['Oakhaven', 'Ferr'] },
        {
          type: 'entry',
          edition: 'al-1836',
          person: 'ferrond',
          name: 'J. Ferrond',
          rank: 'Lieut.',
          corps: 'Lieut. Ferr Corps',
          dated: '1835',
        },
        { type: 'entry', edition: 'nl-1835', person: 'ferrond', name: 'J. Ferrond', rank: 'Lieut.', dated: '1834' },
        { type: 'name', person: 'ferrand', surname: 'Ferrand-Holt', from: '1835' },
        { type: 'feature', object: '214', text: 'machine-cut dovetails', window: 'from 1870', weight: 'strong' },
        { type: 'mark', object: '214', text: 'W. Asher', role: 'retailer', made: '1832' },
        { type: 'reading', mark: 'm1', text: 'Lieut. J. Ferr[.]nd' },
        { type: 'attribution', mark: 'm1', person: 'ferrond', why: 'a guess' },
        { type: 'search', edition: 'al-1838', surname: 'Ferrond', outcome: 'all taken', found: 0 },
        { type: 'assumption', name: 'in-post', value: '77', why: 'counted' },
        { type: 'same', person: 'ferrard', other: 'ferrond', why: 'one man' },
        { type: 'setAside', record: 'f2', why: 'replaced' },
        { type: 'corps', name: 'Ferr' },
      ],
      '2027-03-01T09:00:00.000Z',
    );
    expect(everyForm(db)[0]).not.toBe(first[0]);
    expect(past(db, 1)).toEqual(first);
  });

  test('corrections, withdrawals and undone acts', () => {
    act(db, (into) => amendRecord(into, kindNamed('person'), 1, { died: '1880' }, 'found'));
    act(db, (into) => withdrawRecord(into, kindNamed('feature'), 2, 'wrong object'));
    const before = everyForm(db);
    const number = lastActId(db);
    act(db, (into) => undoAct(db, into.act, number), '2027-04-01T09:00:00.000Z', number);
    expect(everyForm(db)).not.toEqual(before);
    expect(past(db, number)).toEqual(before);
    expect(past(db, 1)).toEqual(first);
  });
});
