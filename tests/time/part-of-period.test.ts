import { describe, expect, test } from 'vitest';
import { readDate } from '../../src/time/read-date.ts';
import { failure, shown } from './reading.ts';

describe('parts of centuries, decades, years and months', () => {
  test.each<[text: string, days: string]>([
    ['early 19th century', '1800-01-01 1833-12-31'],
    ['mid-19th century', '1833-01-01 1866-12-31'],
    ['late 19th century', '1866-01-01 1900-12-31'],
    ['end of the 18th century', '1766-01-01 1800-12-31'],
    ['first third of the 19th century', '1800-01-01 1833-12-31'],
    ['first quarter of the 19th century', '1800-01-01 1825-12-31'],
    ['second quarter 19th century', '1825-01-01 1850-12-31'],
    ['3rd quarter of the nineteenth century', '1850-01-01 1875-12-31'],
    ['last quarter of the 19th century', '1875-01-01 1900-12-31'],
    ['first half of the 19th century', '1800-01-01 1850-12-31'],
    ['latter half of the 18th century', '1750-01-01 1800-12-31'],
    ['early to mid 19th century', '1800-01-01 1866-12-31'],
    ['early C19', '1800-01-01 1833-12-31'],
    ['C19th early', '1800-01-01 1833-12-31'],
    ['19th century, late', '1866-01-01 1900-12-31'],
    ['s. xviii med.', '1733-01-01 1766-12-31'],
    ['early 1830s', '1830-01-01 1833-12-31'],
    ['mid-1830s', '1833-01-01 1836-12-31'],
    ['late 1830s', '1836-01-01 1839-12-31'],
    ['second half of the 1830s', '1835-01-01 1839-12-31'],
    ['early 1834', '1834-01-01 1834-04-30'],
    ['mid 1834', '1834-05-01 1834-08-31'],
    ['late 1834', '1834-09-01 1834-12-31'],
    ['first half of 1834', '1834-01-01 1834-06-30'],
    ['third quarter of 1834', '1834-07-01 1834-09-30'],
    ['early May 1834', '1834-05-01 1834-05-10'],
    ['mid-May 1834', '1834-05-11 1834-05-20'],
    ['late May 1834', '1834-05-21 1834-05-31'],
    ['second half of February 1834', '1834-02-16 1834-02-28'],
  ])('%s', (text, days) => expect(shown(text)).toBe(days));

  test.each<[text: string, edtf: string]>([
    ['early 1834', '1834-37'],
    ['first half of 1834', '1834-40'],
    ['last quarter of 1834', '1834-36'],
    ['c. early 19th century', '1800~/1833~'],
    ['spring 1834', '1834-21'],
    ['c. summer 1834', '1834-22~'],
  ])('%s in EDTF', (text, edtf) => expect(readDate(text).edtf).toBe(edtf));
});

describe('seasons', () => {
  test.each<[text: string, days: string]>([
    ['spring 1834', '1834-03-01 1834-05-31'],
    ['summer of 1834', '1834-06-01 1834-08-31'],
    ['in the autumn of 1834', '1834-09-01 1834-11-30'],
    ['fall 1834', '1834-09-01 1834-11-30'],
    ['winter 1834/5', '1834-12-01 1835-02-28'],
    ['winter 1834–35', '1834-12-01 1835-02-28'],
    ['spring 1834–autumn 1835', '1834-03-01 1835-11-30'],
  ])('%s', (text, days) => expect(shown(text)).toBe(days));
  test('the winter of one year may be either', () => {
    expect(failure('winter 1834').hint).toBe('Write “winter 1833/34” or “winter 1834/35”.');
  });
});
