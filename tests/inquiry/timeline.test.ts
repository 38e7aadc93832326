import { describe, expect, test } from 'vitest';
import { candidatesForMark } from '../../src/inquiry/candidates.ts';
import { madeOf } from '../../src/inquiry/made.ts';
import { tenuresOf } from '../../src/inquiry/tenures.ts';
import { timelineOf } from '../../src/inquiry/timeline.ts';
import { ledgerOf, SMALL } from '../report/ledgers.ts';

const db = ledgerOf(SMALL);
const kinds = (words: string): string[] => timelineOf(db, words).rows.map(({ kind }) => kind);

describe('one picture an object, a mark or a person', () => {
  test('an object: its making, features, marks with those who can have put them on, and holders', () =>
    expect(kinds('214')).toEqual([
      ...['making', 'making', 'window', 'window'],
      ...['mark', 'candidate', 'candidate', 'mark', 'candidate', 'holder', 'holder'],
    ]));
  test('a mark', () => expect(kinds('m1')).toEqual(['mark', 'candidate', 'candidate']));
  test('a person: life and appointments', () =>
    expect(kinds('ferrand')).toEqual(['life', 'tenure', 'tenure', 'tenure']));
});

describe('the picture says what the questions answer', () => {
  test('the windows and densities of the making', () => {
    const made = madeOf(db, '214');
    const rows = timelineOf(db, '214').rows.filter(({ kind }) => kind === 'making');
    expect(rows.map(({ bars }) => bars[0]?.possible)).toEqual([made.span, made.withMarks?.span]);
    expect(rows.map(({ density }) => density)).toEqual([made.years, made.withMarks?.years]);
  });
  test('the bounds of appointments', () => {
    const { tenures } = tenuresOf(db, 'ferrand');
    const rows = timelineOf(db, 'ferrand').rows.filter(({ kind }) => kind === 'tenure');
    expect(rows.map(({ bars }) => bars)).toEqual(tenures.map(({ possible, certain }) => [{ possible, certain }]));
  });
  test('the shares of candidates', () => {
    const { candidates } = candidatesForMark(db, 'm1', { tried: 0 });
    const rows = timelineOf(db, 'm1').rows.flatMap((row) => (row.kind === 'candidate' ? [row.share] : []));
    expect(rows).toEqual(candidates.map(({ share }) => share));
  });
  test('a feature that is a fixed day is certain, one of custom is not', () => {
    const rows = timelineOf(db, '214').rows.filter(({ kind }) => kind === 'window');
    expect(rows.map(({ bars }) => bars[0]?.certain)).toEqual([{ from: '1830-05-11', to: null }, null]);
  });
  test('a life is certain from the last day of birth to the first of death', () =>
    expect(timelineOf(db, 'ferrand').rows[0]?.bars).toEqual([
      { possible: { from: '1812-01-01', to: '1871-03-04' }, certain: { from: '1812-12-31', to: '1871-03-04' } },
    ]));
});
