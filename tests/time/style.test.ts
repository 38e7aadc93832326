import { describe, expect, test } from 'vitest';
import type { DateOptions } from '../../src/time/reading-options.ts';
import { doubleYear } from '../../src/time/style.ts';
import { failure, shown } from './reading.ts';

describe('which day is meant', () => {
  test.each<[rule: string, text: string, day: string, options?: DateOptions]>([
    ['a double year is Old Style, its year the second', '2 Feb. 1708/9', '1709-02-13'],
    ['a double year in full', '2 Feb. 1708/1709', '1709-02-13'],
    ['a double year at the turn of a century', '2 Feb. 1699/1700', '1700-02-12'],
    ['a double year with O.S. beside it', '2 Feb. 1708/9 O.S.', '1709-02-13'],
    ['O.S. is Julian', '16 May 1700 O.S.', '1700-05-27'],
    ['Old Style in words', '16 May 1700 (Old Style)', '1700-05-27'],
    ['stilo veteri', '16 May 1700 stilo veteri', '1700-05-27'],
    ['N.S. is Gregorian', '16 May 1700 N.S.', '1700-05-16'],
    ['N.S. counts from 1 January', '11 Feb. 1731 N.S.', '1731-02-11'],
    ['O.S. from 1752 on counts from 1 January', '11 Feb. 1752 O.S.', '1752-02-22'],
    ['after 13 September 1752 Gregorian', '14 September 1752', '1752-09-14'],
    ['before 15 October 1582 Julian', '10 Oct. 1066', '1066-10-16'],
    ['4 October 1582', '4 Oct. 1582', '1582-10-14'],
    ['29 February 1700 was in Old Style only', '29 Feb. 1700 O.S.', '1700-03-11', { yearBegins: '1 January' }],
    ['the weekday decides: Old Style', 'Thursday 16 May 1700', '1700-05-27'],
    ['the weekday decides: New Style', 'Sunday 16 May 1700', '1700-05-16'],
    ['the weekday decides between the years', 'Friday 11 Feb 1731 O.S.', '1732-02-22'],
    ['the calendar as known, the year from 1 January', '11 Feb 1731', '1731-02-22', { calendar: 'julian' }],
    ['the calendar as known: Gregorian', '16 May 1700', '1700-05-16', { calendar: 'gregorian' }],
    ['the calendar as known, for ISO dates too', '1752-09-02', '1752-09-13', { calendar: 'julian' }],
    ['the year as known, from 25 March', '11 Feb 1731', '1732-02-22', { yearBegins: '25 March' }],
    ['the year as known, on 25 March itself', '25 Mar 1701', '1701-04-05', { yearBegins: '25 March' }],
    ['the year as known, from 1 January, O.S.', '11 Feb 1731 O.S.', '1731-02-22', { yearBegins: '1 January' }],
    ['England before the change', '16 May 1700', '1700-05-27', { country: 'England' }],
    ['England, the year from 25 March', '11 Feb 1731', '1732-02-22', { country: 'england' }],
    [
      'England, the year as known from 1 January',
      '11 Feb 1731',
      '1731-02-22',
      { country: 'england', yearBegins: '1 January' },
    ],
    ['England, the last Old Style day', '2 Sept. 1752', '1752-09-13', { country: 'england' }],
    ['England, the first New Style day', '14 Sept. 1752', '1752-09-14', { country: 'england' }],
    ['Scotland counted from 1 January from 1600', '11 Feb 1731', '1731-02-22', { country: 'scotland' }],
    ['Scotland before 1600', '11 Feb 1599', '1600-02-21', { country: 'scotland' }],
    ['France changed in 1582', '16 May 1700', '1700-05-16', { country: 'france' }],
    ['France, the last Old Style day', '9 Dec. 1582', '1582-12-19', { country: 'france' }],
    ['Venice counted from 1 March', '11 Feb 1731', '1732-02-11', { country: 'venice' }],
    ['Russia kept Old Style to 1918', '25 Oct. 1917', '1917-11-07', { country: 'russia' }],
    ['Sweden before and after its own calendar', '16 May 1720', '1720-05-27', { country: 'sweden' }],
    ['N.S. counts in any country', '16 May 1700 N.S.', '1700-05-16', { country: 'england' }],
  ])('%s: %s', (_rule, text, day, options) => expect(shown(text, options)).toBe(day));
});

describe('days with several readings are refused, with a wording for each', () => {
  test.each<[text: string, count: string, hints: readonly string[]]>([
    ['16 May 1700', 'two', ['16 May 1700 N.S.', '16 May 1700 O.S.', '1700-05-16']],
    ['15 October 1582', 'two', ['15 October 1582 N.S.', '15 October 1582 O.S.']],
    ['13 September 1752', 'two', ['13 September 1752 N.S.', '13 September 1752 O.S.']],
    ['11 Feb 1731', 'three', ['11 February 1731 N.S.', '11 February 1730/1', '11 February 1731/2']],
    ['11 Feb 1731 O.S.', 'two', ['11 February 1730/1', '11 February 1731/2']],
    ['14 Jan 1066', 'two', ['14 January 1065/6', '14 January 1066/7']],
    ['before 16 May 1700', 'two', ['16 May 1700 O.S.']],
  ])('%s', (text, count, hints) => {
    const { message, hint, code } = failure(text);
    expect(code).toBe('DATE');
    expect(message).toContain(`has ${count} readings`);
    for (const wording of hints) {
      expect(hint).toContain(wording);
      expect(() => shown(wording)).not.toThrow();
    }
  });
});

describe('days that cannot be', () => {
  test.each<[text: string, says: string, options?: DateOptions]>([
    ['31 Feb. 1752 O.S.', 'February 1752 has 29 days (Old Style)'],
    ['29 Feb 1900', 'February 1900 has 28 days'],
    ['2 Feb. 1708/10', 'a double year names two that follow each other'],
    ['2 May 1708/9', 'only the days from 1 January to 24 March had two years'],
    ['2 Feb. 1808/9', 'after 1751 a year has one number'],
    ['2 Feb. 1708/9 N.S.', 'a double year is Old Style'],
    ['Monday 16 May 1834', '16 May 1834 was a Friday, not a Monday'],
    ['5 Sept. 1752', 'there was no such day in england', { country: 'england' }],
    ['12 Oct. 1582', 'there was no such day in spain', { country: 'spain' }],
    ['16 May 1705', 'sweden then kept a calendar of its own', { country: 'sweden' }],
    ['16 May 1705', 'The calendar of “atlantis” is not known', { country: 'atlantis' }],
  ])('%s', (text, says, options) => expect(failure(text, options).message).toContain(says));
});

test.each([
  [1709, '1708/9'],
  [1710, '1709/10'],
  [1700, '1699/1700'],
  [1701, '1700/1'],
])('doubleYear of %i', (year, text) => {
  expect(doubleYear(year)).toBe(text);
});
