import { expect, test } from 'vitest';
import { exportedRecords } from '../../src/inquiry/export.ts';
import { csvLines, entryCsvLines, jsonLine } from '../../src/report/export-lines.ts';
import { ledgerOf, SMALL } from './ledgers.ts';

const db = ledgerOf(SMALL);

test('JSON Lines: type and key first, nothing that is not said', () => {
  const [series] = exportedRecords(db, ['series']);
  expect(series && jsonLine(series)).toBe(
    '{"type":"series","key":"al","name":"Annual List of the Coast Survey","service":"army","lagDays":60}\n',
  );
});

test('CSV: one line of headings, every field of the kind, lists parted by semicolons', () => {
  const [head, ferrand] = csvLines('person', exportedRecords(db, ['person']), true);
  expect(head).toBe('key,name,surname,forenames,honours,suffix,born,bornAsPrinted,died,diedAsPrinted,places,note\r\n');
  expect(ferrand).toBe('ferrand,Julian Peter Ferrand,Ferrand,Julian Peter,,,1812,,1871-03-04,,Oakhaven,\r\n');
});

test('CSV of entries: in the columns that a list is read by', () => {
  const [head, first] = entryCsvLines(exportedRecords(db, ['series', 'edition', 'entry']), true);
  expect(head).toBe('key,series,edition,as_at,person,name,surname,forenames,rank,corps,dated,page,kind,note\r\n');
  expect(first).toBe(
    'e1,Annual List of the Coast Survey,1832,1832-01-01,ferrand,J. P. Ferrand,Ferrand,J. P.,Ensign,2nd Fencibles,3 Feb. 1831,212,substantive,\r\n',
  );
});
