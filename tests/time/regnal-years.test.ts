import { expect, test } from 'vitest';
import { isoDay } from '../../src/time/calendar.ts';
import { allReigns, englishDay } from '../../src/time/regnal-years.ts';

test('English days are Old Style up to 2 September 1752', () => {
  expect(isoDay(englishDay(1752, 9, 2))).toBe('1752-09-13');
  expect(isoDay(englishDay(1752, 9, 14))).toBe('1752-09-14');
});

test.each<[sovereign: string, firstYear: number, lastYear: number]>([
  ['Elizabeth I', 1, 45],
  ['Charles I', 1, 24],
  ['Charles II', 12, 37],
  ['James II', 1, 4],
  ['William III and Mary II', 1, 6],
  ['William III', 6, 14],
  ['Anne', 1, 13],
  ['George I', 1, 13],
  ['George II', 1, 34],
  ['George III', 1, 60],
  ['George IV', 1, 11],
  ['William IV', 1, 7],
  ['Victoria', 1, 64],
  ['Edward VII', 1, 10],
  ['George V', 1, 26],
  ['Edward VIII', 1, 1],
  ['George VI', 1, 16],
  ['Elizabeth II', 1, 71],
])('%s: years %i to %i', (sovereign, firstYear, lastYear) => {
  expect(allReigns().find((reign) => reign.sovereign === sovereign)).toMatchObject({ firstYear, lastYear });
});

test('a reign that goes on has no last year', () => {
  expect(allReigns().at(-1)).toMatchObject({ sovereign: 'Charles III', lastYear: Infinity });
});
