import { describe, expect, test } from 'vitest';
import { readDate } from '../../src/time/read-date.ts';
import { failure, shown } from './reading.ts';

describe('between two dates, both ends inside', () => {
  test.each<[text: string, days: string]>([
    ['between 1834 and 1836', '1834-01-01 1836-12-31'],
    ['between 3 May 1834 and 8 February 1839', '1834-05-03 1839-02-08'],
    ['between May and July 1834', '1834-05-01 1834-07-31'],
    ['at any time', '.. ..'],
    ['from 3 to 8 May 1834', '1834-05-03 1834-05-08'],
    ['between Michaelmas 1834 and Lady Day 1835', '1834-09-29 1835-03-25'],
    ['9 Geo. III to 14 thermidor an VIII', '1768-10-25 1800-08-02'],
    ['1834 to 1834', '1834-01-01 1834-12-31'],
  ])('%s', (text, days) => expect(shown(text)).toBe(days));

  test.each(['1836–1834', '1836/1834', 'between May 1836 and 1834'])('%s ends before it begins', (text) => {
    expect(failure(text).message).toContain('it ends before it begins');
  });
});

describe('one of several dates, or all of them', () => {
  test.each<[text: string, edtf: string, parts: number]>([
    ['1834 or 1836', '[1834,1836]', 2],
    ['1834, 1836 or 1838', '[1834,1836,1838]', 3],
    ['either May or July 1834', '[1834-05,1834-07]', 2],
    ['1834 and 1836', '{1834,1836}', 2],
    ['3 and 5 May 1834', '{1834-05-03,1834-05-05}', 2],
    ['9 Geo. III or 1834', '[1768-10-25..1769-10-24,1834]', 2],
  ])('%s', (text, edtf, parts) => {
    const reading = readDate(text);
    expect(reading.edtf).toBe(edtf);
    expect(reading.parts).toHaveLength(parts);
    expect(readDate(edtf).span).toEqual(reading.span);
  });
});

test.each(['[c. 1834]', '(c. 1834)', 'c. 1834.'])('brackets and a full stop change nothing: %s', (text) => {
  expect(readDate(text).edtf).toBe('1834~');
});
