import { describe, expect, test } from 'vitest';
import type { DateOptions } from '../../src/time/reading-options.ts';
import { failure, shown } from './reading.ts';

describe('feast, quarter, cross-quarter and term days', () => {
  test.each<[text: string, day: string, options?: DateOptions]>([
    ['Lady Day 1834', '1834-03-25'],
    ['Midsummer 1834', '1834-06-24'],
    ['Michaelmas 1834', '1834-09-29'],
    ['Michaelmas Day, 1834', '1834-09-29'],
    ['Christmas 1834', '1834-12-25'],
    ['Candlemas 1834', '1834-02-02'],
    ['May Day 1834', '1834-05-01'],
    ['Lammas 1834', '1834-08-01'],
    ['Martinmas 1834', '1834-11-11'],
    ['All Hallows 1834', '1834-11-01'],
    ['Whitsunday term 1834', '1834-05-15'],
    ['Martinmas term 1834', '1834-11-11'],
    ['Whitsunday 1834', '1834-05-15', { country: 'scotland' }],
    ['Whitsunday 1834', '1834-05-18', { country: 'england' }],
    ['Old Lady Day 1753', '1753-04-05'],
    ['Old Lady Day 1800', '1800-04-06'],
    ['Old Midsummer 1760', '1760-07-05'],
    ['Old Michaelmas 1834', '1834-10-11'],
    ['Old Christmas 1800', '1800-01-05'],
    ['Old Christmas 1801', '1801-01-06'],
    ['Easter 1834', '1834-03-30'],
    ['Easter Sunday 1834', '1834-03-30'],
    ['Easter Monday, 1834', '1834-03-31'],
    ['Good Friday 1834', '1834-03-28'],
    ['Palm Sunday 1834', '1834-03-23'],
    ['Ash Wednesday 1834', '1834-02-12'],
    ['Shrove Tuesday 1834', '1834-02-11'],
    ['Ascension Day 1834', '1834-05-08'],
    ['Whit Sunday 1834', '1834-05-18'],
    ['Whit-Monday 1834', '1834-05-19'],
    ['Trinity Sunday 1834', '1834-05-25'],
    ['Corpus Christi 1834', '1834-05-29'],
    ['Advent Sunday 1834', '1834-11-30'],
    ['Advent Sunday 1836', '1836-11-27'],
    ['the feast of St John Baptist 1834', '1834-06-24'],
    ['the feast of Saint Michael 1834', '1834-09-29'],
    ["St George's Day 1834", '1834-04-23'],
    ["New Year's Day 1834", '1834-01-01'],
    ['Michaelmas 1700 O.S.', '1700-10-10'],
    ['Michaelmas 1700 N.S.', '1700-09-29'],
    ['Candlemas 1700/1', '1701-02-13'],
    ['Lady Day 1700', '1700-04-05', { country: 'england' }],
    ['Easter 1700 O.S.', '1700-04-11'],
    ['Easter 1700 N.S.', '1700-04-11'],
    ['Easter 1690', '1690-04-30', { country: 'england' }],
    ['Michaelmas 1066', '1066-10-05'],
  ])('%s', (text, day, options) => expect(shown(text, options)).toBe(day));
});

describe('days beside a feast', () => {
  test.each<[text: string, day: string]>([
    ['eve of Michaelmas 1834', '1834-09-28'],
    ['Christmas Eve 1834', '1834-12-24'],
    ['vigil of St Thomas 1834', '1834-12-20'],
    ['morrow of All Souls 1834', '1834-11-03'],
    ['octave of Easter 1834', '1834-04-06'],
    ['quindene of Easter 1834', '1834-04-13'],
    ['Monday after Easter 1834', '1834-03-31'],
    ['Tuesday next before Michaelmas 1834', '1834-09-23'],
    ['Monday after Michaelmas 1834', '1834-10-06'],
    ['3rd Sunday after Trinity 1834', '1834-06-15'],
    ['2nd Sunday in Lent 1834', '1834-02-23'],
    ['4th Sunday in Advent 1834', '1834-12-21'],
    ["eve of New Year's Day 1834", '1833-12-31'],
  ])('%s', (text, day) => expect(shown(text)).toBe(day));
});

describe('feasts with several readings are refused', () => {
  test.each<[text: string, wordings: readonly string[]]>([
    ['Michaelmas 1700', ['Michaelmas 1700 N.S.', 'Michaelmas 1700 O.S.']],
    ['Candlemas 1700', ['Candlemas 1700 N.S.', 'Candlemas 1699/1700', 'Candlemas 1700/1']],
    ['Whitsunday 1834', ['Whit Sunday 1834', 'Whitsunday term 1834']],
  ])('%s', (text, wordings) => {
    const { hint } = failure(text);
    for (const wording of wordings) {
      expect(hint).toContain(`“${wording}”`);
      expect(() => shown(wording)).not.toThrow();
    }
  });
  test('an old quarter day before 1753', () => {
    expect(failure('Old Lady Day 1750').message).toContain('Old Lady Day was kept from 1753 on');
  });
});
