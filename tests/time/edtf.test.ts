import { describe, expect, test } from 'vitest';
import { hasEdtfForm, hull, readEdtf } from '../../src/time/edtf.ts';
import { readDate } from '../../src/time/read-date.ts';
import { failure, shownSpan } from './reading.ts';

describe('intervals and sets', () => {
  test.each<[text: string, days: string]>([
    ['1810/1810', '1810-01-01 1810-12-31'],
    ['1810-05-16/1810-05-16', '1810-05-16'],
    ['1834~/..', '1834-01-01 ..'],
    ['../..', '.. ..'],
    ['/1834', '.. 1834-12-31'],
    ['1834/', '1834-01-01 ..'],
    ['1834 / 1836', '1834-01-01 1836-12-31'],
    ['183x/184x', '1830-01-01 1849-12-31'],
    ['[1834]', '1834-01-01 1834-12-31'],
    ['[1834, 1836..1838]', '1834-01-01 1838-12-31'],
    ['{..1834-05}', '.. 1834-05-31'],
    ['[1834-05-16..]', '1834-05-16 ..'],
  ])('%s', (text, days) => expect(shownSpan(hull(readEdtf(text).parts))).toBe(days));
});

test('the form tells EDTF from other wordings', () => {
  for (const text of ['1834', '1834-05', '183X', '1834?/1836~', '[1834,1836]', '../1834', 'Y12000'])
    expect([text, hasEdtfForm(text)]).toEqual([text, true]);
  for (const text of ['1834–36', '1834 - 36', '1834-6', '1708/9', '1830s', '16 May 1834', '/', '3/4/1834'])
    expect([text, hasEdtfForm(text)]).toEqual([text, false]);
});

describe('what cannot be is pointed at', () => {
  test.each<[text: string, says: string, where: string]>([
    ['1834-13', 'there is no month 13', 'character 6'],
    ['1900-02-29', 'February 1900 has no day 29', 'character 9'],
    ['1834/1900-02-29', 'February 1900 has no day 29', 'character 14'],
    ['1834-21-05', 'a season has no days', 'character 9'],
    ['1834-05-16T25:00', 'there is no such time of day', 'character 11'],
    ['1836/1834', 'it ends before it begins', 'character 6'],
    ['[1834,,1836]', 'a member of the set is missing', 'character 7'],
    ['[1834,..]', 'two dots alone are no date', 'character 7'],
    ['[1834}', 'a set that opens with [ closes with ]', 'character 6'],
    ['1834S9', 'this year cannot be counted', 'character 1'],
    ['Y9E99', 'this year cannot be counted', 'character 1'],
  ])('%s', (text, says, where) => {
    const error = failure(text);
    expect(error.message).toContain(says);
    expect(error.where).toBe(where);
  });
});

describe('a hyphen between a year and a part of a year', () => {
  test.each(['1834-36', '1818-21', '1840-41'])('%s has two readings before 2000', (text) => {
    expect(failure(text).message).toContain('two readings');
  });
  test('from 2000 on it is the standard’s', () => expect(readDate('2001-34').edtf).toBe('2001-34'));
  test('a code that cannot be a later year is the standard’s', () => expect(readDate('1985-34').edtf).toBe('1985-34'));
  test('a code unknown to the standard is a later year', () => expect(readDate('1834-45').edtf).toBe('1834/1845'));
  test('with spaces it is a range', () => expect(readDate('1834 - 36').edtf).toBe('1834/1836'));
});

test('read in the Julian calendar, the EDTF that comes out is Gregorian', () => {
  expect(readEdtf('1752-09-02', 'julian').edtf).toBe('1752-09-13');
  expect(readEdtf('[1700-05,1700-07]', 'julian').edtf).toBe('[1700-05-12..1700-06-11,1700-07-12..1700-08-11]');
});
