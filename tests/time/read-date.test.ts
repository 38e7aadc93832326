import { describe, expect, test } from 'vitest';
import { HeldbyError } from '../../src/errors.ts';
import { isoDay } from '../../src/time/calendar.ts';
import { readDate } from '../../src/time/read-date.ts';
import type { DateOptions } from '../../src/time/reading-options.ts';
import { type Day, lastDay } from '../../src/time/span.ts';

const day = (one: Day): string => (Number.isFinite(one) ? isoDay(one) : '..');
const shown = (text: string, options?: DateOptions): string => {
  const { span } = readDate(text, options);
  return span.from === lastDay(span) ? day(span.from) : `${day(span.from)} ${day(lastDay(span))}`;
};

function failure(text: string, options?: DateOptions): HeldbyError {
  try {
    readDate(text, options);
  } catch (error) {
    if (error instanceof HeldbyError) return error;
    throw error;
  }
  throw new Error(`“${text}” was read`);
}

describe('days, months and years as lists print them', () => {
  test.each<[text: string, days: string]>([
    ['16 May 1834', '1834-05-16'],
    ['16 may 1834', '1834-05-16'],
    ['  16  May   1834 ', '1834-05-16'],
    ['8 Feb. 1839', '1839-02-08'],
    ['8 Feb 1839', '1839-02-08'],
    ['May 16, 1834', '1834-05-16'],
    ['May 16 1834', '1834-05-16'],
    ['16 May, 1834', '1834-05-16'],
    ['1834 May 16', '1834-05-16'],
    ['on 16 May 1834', '1834-05-16'],
    ['May 1834', '1834-05-01 1834-05-31'],
    ['in May 1834', '1834-05-01 1834-05-31'],
    ['Feb. 1836', '1836-02-01 1836-02-29'],
    ['1834', '1834-01-01 1834-12-31'],
    ['in 1834', '1834-01-01 1834-12-31'],
    ['A.D. 1834', '1834-01-01 1834-12-31'],
    ['1834-05-16', '1834-05-16'],
    ['1834-05', '1834-05-01 1834-05-31'],
    ['29 Feb 1836', '1836-02-29'],
  ])('%s', (text, days) => expect(shown(text)).toBe(days));
});

describe('relations', () => {
  test.each<[text: string, days: string]>([
    ['before 1834', '.. 1833-12-31'],
    ['before May 1834', '.. 1834-04-30'],
    ['before 16 May 1834', '.. 1834-05-15'],
    ['by 1834', '.. 1834-12-31'],
    ['by 16 May 1834', '.. 1834-05-16'],
    ['after 1815', '1816-01-01 ..'],
    ['after May 1834', '1834-06-01 ..'],
    ['after 16 May 1834', '1834-05-17 ..'],
    ['from 1834', '1834-01-01 ..'],
    ['since May 1834', '1834-05-01 ..'],
    ['until 1834', '.. 1834-12-31'],
    ['not later than 1834', '.. 1834-12-31'],
    ['not after 1834', '.. 1834-12-31'],
    ['not earlier than 1834', '1834-01-01 ..'],
    ['not before 1834', '1834-01-01 ..'],
    ['in or before 1834', '.. 1834-12-31'],
    ['1834 or later', '1834-01-01 ..'],
    ['1834 or earlier', '.. 1834-12-31'],
    ['pre-1834', '.. 1833-12-31'],
    ['post-1834', '1835-01-01 ..'],
    ['terminus post quem 1834', '1834-01-01 ..'],
    ['terminus ante quem 1834', '.. 1834-12-31'],
    ['between 1834 and 1836', '1834-01-01 1836-12-31'],
    ['between 3 May 1834 and 8 February 1839', '1834-05-03 1839-02-08'],
    ['between May and July 1834', '1834-05-01 1834-07-31'],
    ['at any time', '.. ..'],
  ])('%s', (text, days) => expect(shown(text)).toBe(days));
});

describe('ranges and their shortened ends', () => {
  test.each<[text: string, days: string]>([
    ['1834–1836', '1834-01-01 1836-12-31'],
    ['1834–36', '1834-01-01 1836-12-31'],
    ['1834–6', '1834-01-01 1836-12-31'],
    ['1834 - 1836', '1834-01-01 1836-12-31'],
    ['1834-1836', '1834-01-01 1836-12-31'],
    ['1834-45', '1834-01-01 1845-12-31'],
    ['1834 to 1836', '1834-01-01 1836-12-31'],
    ['from 1834 to 1836', '1834-01-01 1836-12-31'],
    ['from 1834 until 1836', '1834-01-01 1836-12-31'],
    ['3–8 May 1834', '1834-05-03 1834-05-08'],
    ['3 to 8 May 1834', '1834-05-03 1834-05-08'],
    ['May 3–8, 1834', '1834-05-03 1834-05-08'],
    ['May–July 1834', '1834-05-01 1834-07-31'],
    ['3 May–8 July 1834', '1834-05-03 1834-07-08'],
    ['3 May 1834 – 8 Feb. 1839', '1834-05-03 1839-02-08'],
    ['1810/1810', '1810-01-01 1810-12-31'],
    ['3–8 May 1700 O.S.', '1700-05-14 1700-05-19'],
  ])('%s', (text, days) => expect(shown(text)).toBe(days));

  test('a range that ends before it begins is refused', () => {
    expect(failure('1836–1834').message).toContain('it ends before it begins');
    expect(failure('1836/1834').message).toContain('it ends before it begins');
  });
});

describe('flags', () => {
  test.each<[text: string, edtf: string, approximate: boolean, uncertain: boolean]>([
    ['c. 1834', '1834~', true, false],
    ['c.1834', '1834~', true, false],
    ['ca. 1834', '1834~', true, false],
    ['circa May 1834', '1834-05~', true, false],
    ['about 16 May 1834', '1834-05-16~', true, false],
    ['1834?', '1834?', false, true],
    ['16 May 1834 (?)', '1834-05-16?', false, true],
    ['probably 1834', '1834?', false, true],
    ['perhaps c. 1834', '1834%', true, true],
    ['c. 1834?', '1834%', true, true],
    ['c. 1834–36', '1834~/1836~', true, false],
    ['1834–c. 1836', '1834/1836~', true, false],
    ['before c. 1834', '../1833~', true, false],
  ])('%s', (text, edtf, approximate, uncertain) => {
    expect(readDate(text)).toMatchObject({ edtf, approximate, uncertain });
  });
});

describe('the same in EDTF', () => {
  test.each<[text: string, edtf: string]>([
    ['16 May 1834', '1834-05-16'],
    ['May 1834', '1834-05'],
    ['1834', '1834'],
    ['1834–36', '1834/1836'],
    ['1834 or 1836', '[1834,1836]'],
    ['between 3 May 1834 and 8 Feb. 1839', '1834-05-03/1839-02-08'],
    ['before 1834', '../1833'],
    ['by May 1834', '../1834-05'],
    ['after 16 May 1834', '1834-05-17/..'],
    ['the 1830s', '183X'],
    ['the 19th century', '18XX'],
    ['16 May 1700 O.S.', '1700-05-27'],
    ['at any time', '../..'],
  ])('%s', (text, edtf) => {
    const reading = readDate(text);
    expect(reading.edtf).toBe(edtf);
    expect(readDate(edtf).span).toEqual(reading.span);
  });
});

describe('dates that cannot be', () => {
  test.each<[text: string, says: string, where: string]>([
    ['29 Feb 1900', 'February 1900 has 28 days', 'character 1'],
    ['1900-02-29', 'February 1900 has no day 29', 'character 9'],
    ['31 Feb. 1834', 'February 1834 has 28 days', 'character 1'],
    ['1834-13', 'there is no month 13', 'character 6'],
    ['Febuary 1834', '“Febuary”', 'character 1'],
    ['16 May 1834 and', '“and”', 'character 13'],
    ['', 'nothing to read', 'character 1'],
    ['[1834,,1836]', 'a member of the set is missing', 'character 7'],
  ])('%s', (text, says, where) => {
    const error = failure(text);
    expect(error.code).toBe('DATE');
    expect(error.message).toContain(says);
    expect(error.where).toBe(where);
    expect(error.hint).not.toBe('');
  });
});

describe('wordings with two readings are refused, and told how to write either', () => {
  test.each<[text: string, hints: readonly string[]]>([
    ['3/4/1834', ['1834-04-03', '1834-03-04']],
    ['16 May 1700', ['16 May 1700 O.S.', '16 May 1700 N.S.', '1700-05-16']],
    ['1834-36', ['1834/1836']],
  ])('%s', (text, hints) => {
    const error = failure(text);
    expect(error.message).toContain('two readings');
    for (const hint of hints) expect(error.hint).toContain(hint);
  });
  test.each<[text: string, options: DateOptions, days: string]>([
    ['16 May 1700', { calendar: 'julian' }, '1700-05-27'],
    ['16 May 1700', { calendar: 'gregorian' }, '1700-05-16'],
    ['1752-09-02', { calendar: 'julian' }, '1752-09-13'],
  ])('%s in a known calendar', (text, options, days) => expect(shown(text, options)).toBe(days));
});
