import { describe, expect, test } from 'vitest';
import { failure, shown } from './reading.ts';

describe('terms of the law courts', () => {
  test.each<[text: string, days: string]>([
    ['Hilary term 1834', '1834-01-11 1834-01-31'],
    ['Easter term 1834', '1834-04-15 1834-05-08'],
    ['Trinity term 1834', '1834-05-22 1834-06-12'],
    ['Michaelmas term, 1834', '1834-11-02 1834-11-25'],
    ['Hilary term 1825', '1825-01-23 1825-02-12'],
    ['Easter term 1825', '1825-04-20 1825-05-16'],
    ['Trinity term 1825', '1825-06-03 1825-06-22'],
    ['in Michaelmas term 1825', '1825-11-06 1825-11-28'],
  ])('%s', (text, days) => expect(shown(text)).toBe(days));
  test.each(['Hilary term 1740', 'Easter term 1890'])('%s: its days are not known', (text) => {
    expect(failure(text).message).toContain('the days of law terms are known for 1753 to 1875');
  });
});
