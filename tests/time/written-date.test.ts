import { describe, expect, test } from 'vitest';
import type { DateOptions } from '../../src/time/reading-options.ts';
import { failure, shown } from './reading.ts';

describe('ordinals, superscripts, Roman numerals, weekdays and order', () => {
  test.each<[rule: string, text: string]>([
    ['an ordinal', '16th May 1834'],
    ['an ordinal with of', '16th of May, 1834'],
    ['in full', 'the 16th day of May 1834'],
    ['in words', 'the sixteenth of May 1834'],
    ['a superscript', '16ᵗʰ May 1834'],
    ['a raised ending', '16^th^ May 1834'],
    ['month first with an ordinal', 'May 16th, 1834'],
    ['year first', '1834, May 16'],
    ['German', '16. Mai 1834'],
    ['French', 'le 16 mai 1834'],
    ['Latin', 'XVI Maii MDCCCXXXIV'],
    ['a Roman month', '16.v.1834'],
    ['a Roman month with spaces', '16 V 1834'],
    ['a Roman year', '16 May MDCCCXXXIV'],
    ['anno domini', '16 May A.D. 1834'],
    ['with its weekday', 'Friday, 16 May 1834'],
    ['a day beyond twelve, in figures', '16/5/1834'],
    ['a day beyond twelve, month first', '5/16/1834'],
    ['figures with dots', '16.5.1834'],
    ['figures, year first', '1834/5/16'],
    ['a full stop after it', '16 May 1834.'],
    ['in the brackets of a cataloguer', '[16 May 1834]'],
  ])('%s: %s', (_rule, text) => expect(shown(text)).toBe('1834-05-16'));

  test.each<[text: string, day: string]>([
    ['1st May 1834', '1834-05-01'],
    ['1er mai 1834', '1834-05-01'],
    ['2d May 1834', '1834-05-02'],
    ['3rd May 1834', '1834-05-03'],
    ['the twenty-first of May 1834', '1834-05-21'],
    ['4/4/1834', '1834-04-04'],
  ])('%s', (text, day) => expect(shown(text)).toBe(day));

  test.each<[text: string, options: DateOptions, day: string]>([
    ['3/4/1834', { country: 'england' }, '1834-04-03'],
    ['3/4/1834', { country: 'united states' }, '1834-03-04'],
  ])('%s in a known country', (text, options, day) => expect(shown(text, options)).toBe(day));

  test.each([
    ['5/1834', '1834-05-01 1834-05-31'],
    ['5/1834–7/1836', '1834-05-01 1836-07-31'],
  ])('a month in figures: %s', (text, days) => expect(shown(text)).toBe(days));

  test('day and month that can change places are refused', () => {
    expect(failure('3/4/1834').hint).toBe('Write 1834-04-03 or 1834-03-04, or the month as a word.');
  });
});
