import { describe, expect, test } from 'vitest';
import { readDate } from '../../src/time/read-date.ts';
import type { DateOptions } from '../../src/time/reading-options.ts';
import { failure, shown } from './reading.ts';

describe('months and years', () => {
  test.each<[rule: string, text: string, days: string, options?: DateOptions]>([
    ['a year alone is never refused', '1700', '1700-01-01 1700-12-31'],
    ['nor is a month', 'Feb. 1731', '1731-02-01 1731-02-28'],
    ['a month O.S.', 'May 1700 O.S.', '1700-05-12 1700-06-11'],
    ['a month with its double year', 'Feb. 1708/9', '1709-02-12 1709-03-11'],
    ['March with its double year ends on the 24th', 'March 1708/9', '1709-03-12 1709-04-04'],
    ['a year O.S. from either first day', '1700 O.S.', '1700-01-11 1701-04-04'],
    ['a year O.S. from 25 March', '1700 O.S.', '1700-04-05 1701-04-04', { yearBegins: '25 March' }],
    ['a year O.S. from 1 January', '1700 O.S.', '1700-01-11 1701-01-11', { yearBegins: '1 January' }],
    ['a source that counts from 25 March', '1700', '1700-04-05 1701-04-04', { yearBegins: '25 March' }],
    ['the short year 1751', '1751 O.S.', '1751-04-05 1752-01-11', { yearBegins: '25 March' }],
    ['a double year alone is its 1 January to 24 March', '1708/9', '1709-01-12 1709-04-04'],
    ['a double year after 1751 is either', '1834/5', '1834-01-01 1835-12-31'],
    ['a Julian year', '1700', '1700-01-11 1701-01-11', { calendar: 'julian' }],
    ['a month in England', 'May 1700', '1700-05-12 1700-06-11', { country: 'england' }],
    ['a month in England before 25 March', 'Feb. 1708', '1709-02-12 1709-03-11', { country: 'england' }],
    ['a year in England', '1700', '1700-04-05 1701-04-04', { country: 'england' }],
    ['1751 in England', '1751', '1751-04-05 1752-01-11', { country: 'england' }],
    ['1752 in England has 355 days', '1752', '1752-01-12 1752-12-31', { country: 'england' }],
    ['September 1752 in England has 19 days', 'Sept. 1752', '1752-09-12 1752-09-30', { country: 'england' }],
    ['a year in France', '1700', '1700-01-01 1700-12-31', { country: 'france' }],
  ])('%s: %s', (_rule, text, days, options) => expect(shown(text, options)).toBe(days));

  test('a month before 25 March O.S. needs its double year', () => {
    expect(failure('Feb. 1700 O.S.').hint).toBe('Write “February 1699/1700” or “February 1700/1”.');
  });
});

describe('a day in both styles', () => {
  test.each([
    ['10/21 May 1700', '1700-05-21'],
    ['25 Aug./5 Sept. 1700', '1700-09-05'],
    ['23 Dec./2 Jan. 1688/9', '1689-01-02'],
    ['10/20 May 1650', '1650-05-20'],
  ])('%s', (text, day) => expect(shown(text)).toBe(day));
  test('the two must be one day', () => {
    expect(failure('10/22 May 1700').message).toContain('10 May Old Style was 21 May New Style');
  });
});

test('the reading says in which calendar the day was written', () => {
  expect(readDate('2 Feb. 1708/9')).toMatchObject({
    calendar: 'julian',
    words: '2 February 1708/9 Old Style: 13 February 1709 N.S.',
  });
  expect(readDate('1700-05-16')).toMatchObject({ calendar: 'gregorian', words: '16 May 1700 N.S.' });
});
