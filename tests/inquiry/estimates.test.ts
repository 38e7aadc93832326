import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { estimatesOf, repeatRate } from '../../src/inquiry/estimates.ts';
import { tenuresOf } from '../../src/inquiry/tenures.ts';
import type { Db } from '../../src/ledger/open.ts';
import { newLedger } from '../ledger/new-ledger.ts';
import { addTo, type Line, listOf } from './made-up-ledger.ts';

describe('how frequent a surname is', () => {
  test('the chance that two people bear one, against every pair counted', () =>
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 6 }), { minLength: 2, maxLength: 8 }), (counts) => {
        const people = counts.flatMap((count, surname) => Array(count).fill(surname) as number[]);
        let alike = 0;
        for (const [a, one] of people.entries())
          for (const [b, other] of people.entries()) if (a !== b && one === other) alike += 1;
        expect(repeatRate(counts)).toBeCloseTo(alike / (people.length * (people.length - 1)), 12);
      }),
      { numRuns: 200, seed: 1949 },
    ));

  const people = (db: Db, count: number, surnames: number): void => {
    db.pragma('foreign_keys = OFF');
    const name = db.prepare('INSERT INTO printed_name (id, act_id, text, surname_id) VALUES (?, 1, ?, ?)');
    const person = db.prepare('INSERT INTO person (row, id, act_id, name_id) VALUES (?, ?, 1, ?)');
    db.transaction(() => {
      for (let id = 1; id <= surnames; id += 1) {
        db.prepare('INSERT INTO surname (id, act_id, text) VALUES (?, 1, ?)').run(id, `Surname${id}`);
        name.run(id, `Surname${id}`, id);
      }
      for (let id = 1; id <= count; id += 1) person.run(id, id, 1 + (id % surnames));
    })();
  };
  test('5000 people of 1000 surnames, five each', () => {
    const db = newLedger();
    people(db, 5000, 1000);
    // 1000 · 5 · 4 / (5000 · 4999)
    expect(estimatesOf(db, 'name.frequency')).toEqual([
      { name: 'name.frequency', value: '0.0008', was: '0.0001', from: '5000 people of 1000 surnames' },
    ]);
  });
  test('fewer people are too few', () => {
    const db = newLedger();
    people(db, 4999, 1000);
    expect(() => estimatesOf(db, 'name.frequency')).toThrow(
      'The ledger holds 4999 people; names are counted from 5000 on.',
    );
  });
});

describe('how long a rank is held', () => {
  /** Lieutenants from 1 January of a year, and captains so many years later. */
  const officers = (count: number, years: (index: number) => number): Line[] =>
    Array.from({ length: count }, (_, index): Line[] => [
      { type: 'person', key: `f${index}`, name: `Julian Ferrand${index}` },
      {
        type: 'notice',
        person: `f${index}`,
        event: 'appointed',
        date: '1810-01-01',
        rank: 'Lieut.',
        source: 'Gazette',
      },
      {
        type: 'notice',
        person: `f${index}`,
        event: 'promoted',
        date: `${1810 + years(index)}-01-01`,
        rank: 'Captain',
        source: 'Gazette',
      },
    ]).flat();

  test('the mean of the closed ones, for each rank that has twenty', () => {
    const db = newLedger();
    addTo(db, [...listOf(), ...officers(20, (index) => (index < 10 ? 4 : 8))]);
    const days = tenuresOf(db, 'p1').tenures[0];
    expect([days?.start.latest, days?.end.earliest]).toEqual(['1810-01-01', '1814-01-01']);
    expect(estimatesOf(db, 'tenure.mean')).toEqual([
      { name: 'tenure.mean.lieutenant', value: '6', was: '8', from: '20 closed tenures' },
    ]);
    expect(estimatesOf(db, 'tenure.mean.lieutenant')).toHaveLength(1);
    expect(() => estimatesOf(db, 'tenure.mean.captain')).toThrow(
      'The ledger holds 0 closed tenures of captain; they are averaged from 20 on.',
    );
  });
  test('nineteen are too few', () => {
    const db = newLedger();
    addTo(db, [...listOf(), ...officers(19, () => 4)]);
    expect(() => estimatesOf(db, 'tenure.mean')).toThrow('19 closed tenures of lieutenant');
  });
  test('two records found to be one person count once', () => {
    const db = newLedger();
    addTo(db, [...listOf(), ...officers(20, () => 4), { type: 'same', person: 'f0', other: 'f1', why: 'one man' }]);
    expect(() => estimatesOf(db, 'tenure.mean')).toThrow('19 closed tenures of lieutenant');
  });
  test('an empty ledger, and an assumption that is none of these', () => {
    expect(() => estimatesOf(newLedger(), 'tenure.mean')).toThrow('The ledger holds no closed tenure.');
    expect(() => estimatesOf(newLedger(), 'circa')).toThrow('circa cannot be reckoned from a ledger.');
  });
});
