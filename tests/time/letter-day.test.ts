import { describe, expect, test } from 'vitest';
import { gregorianDay, julianDay } from '../../src/time/calendar.ts';
import { failure, shown } from './reading.ts';

const reference = gregorianDay(1834, 1, 20);

describe('days of a letter', () => {
  test.each<[text: string, day: string]>([
    ['16th ult.', '1833-12-16'],
    ['the 31st ultimo', '1833-12-31'],
    ['16th inst.', '1834-01-16'],
    ['16 instant', '1834-01-16'],
    ['16th prox.', '1834-02-16'],
    ['before the 16th ult.', '.. 1833-12-15'],
  ])('%s', (text, day) => expect(shown(text, { reference })).toBe(day));

  test('they follow the calendar of the letter', () => {
    expect(shown('5th ult.', { reference: julianDay(1710, 6, 3), calendar: 'julian' })).toBe('1710-05-16');
  });
  test('of the place where it was written', () => {
    const letter = { reference: julianDay(1710, 6, 3) };
    expect(shown('5th ult.', { ...letter, country: 'england' })).toBe('1710-05-16');
    expect(shown('5th ult.', { ...letter, country: 'france' })).toBe('1710-05-05');
    expect(failure('5th ult.', letter).message).toContain('two calendars were in use');
    expect(shown('5th ult.', { reference: julianDay(1510, 6, 3) })).toBe('1510-05-15');
  });
  test('without the date of the letter they are refused', () => {
    expect(failure('16th inst.').message).toContain('it counts from the date of the letter, which is not given');
  });
  test('a day that the month has not is refused', () => {
    expect(failure('30th prox.', { reference }).message).toContain('February 1834 has 28 days');
  });
});
