import { expect, test } from 'vitest';
import { ledgerOf, SMALL } from './ledgers.ts';
import { printed, printedAs, styleWith } from './printed.ts';

const db = ledgerOf(SMALL);

const FORMS = ['text', 'markdown', 'html', 'csv'] as const;
const forms = printedAs(FORMS, db, ['214']);

test.each<[form: (typeof FORMS)[number], file: string]>([
  ['text', 'small.txt'],
  ['markdown', 'small.md.txt'],
  ['html', 'small.html.txt'],
  ['csv', 'small.csv.txt'],
])('a small object as %s', async (form, file) => {
  await expect(forms[FORMS.indexOf(form)]).toMatchFileSnapshot(`golden/${file}`);
});

test('the same in the style of another house', async () => {
  const style = styleWith({
    circa: 'about',
    making: 'circa',
    dates: 'month-day-year',
    order: 'latest-first',
    lifeDates: 'parentheses',
    trade: 'brackets',
    shares: false,
    ids: true,
    degrees: ['certain', 'very'],
    disclaimers: ['Holt & Daughters have not seen the inside of the lock.'],
    columns: 60,
    phrases: { 'section.provenance': 'Ownership', 'grade.certain': 'surely' },
    seenTo: [{ lot: '214', reason: 'gap', by: 'A. Holt', note: 'in Saltmere Museum from 1911 to 1950' }],
  });
  await expect(printed(db, ['214'], 'text', style)).toMatchFileSnapshot('golden/small-other-house.txt');
});
