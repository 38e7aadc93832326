import { expect, test } from 'vitest';
import { codeEntries } from '../../../src/careers/linkage/coded.ts';
import { listed } from './listed.ts';

const coded = codeEntries(
  listed([
    { id: 'late', year: 1802, name: 'Ferrand, J.', rank: 'Captain', corps: 'A', dated: '1801-02-03' },
    { id: 'other', year: 1800, name: 'Zouch, J.', rank: 'Ensign', corps: 'B', dated: '1801-02' },
    { id: 'first', year: 1800, name: 'FERRAND, J., jun.', rank: 'Captain', corps: 'A', kind: 'brevet', seniority: 4 },
  ]),
);
const ids = [...coded.place].map((place) => coded.source[place]?.id);

test('entries stand in the order of time, then of the wording', () => expect(ids).toEqual(['first', 'other', 'late']));

test('what says the same has the same number', () => {
  expect(coded.surname[0]).toBe(coded.surname[2]);
  expect(coded.surname[0]).not.toBe(coded.surname[1]);
  expect(coded.rank[0]).toBe(coded.rank[2]);
  expect(coded.corps[0]).toBe(coded.corps[2]);
});

test('what is not said is -1, and no suffix 0', () => {
  expect([...coded.dated].map((dated) => dated >= 0)).toEqual([false, true, true]);
  expect([...coded.seniority]).toEqual([4, -1, -1]);
  expect([...coded.suffix]).toEqual([2, 0, 0]);
  expect([...coded.lane]).toEqual([1, 0, 0]);
});

test('a date that is one day is known by its parts', () => {
  const parts = (at: number) => coded.dates.parts[coded.dated[at] ?? -1];
  expect(parts(2)).toBe(1801 * 512 + 2 * 32 + 3);
  expect(parts(1)).toBe(-1);
});

test('ranks have their places on the ladder', () =>
  expect(coded.ranks.order[coded.rank[0] ?? -1]).toBeGreaterThan(coded.ranks.order[coded.rank[1] ?? -1] ?? 0));
