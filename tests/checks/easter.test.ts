import { describe, expect, test } from 'vitest';
import { gregorianDay, isoDay, julianDay, weekday } from '../../src/time/calendar.ts';
import { easterDay } from '../../src/time/easter.ts';
import type { Day } from '../../src/time/span.ts';

const { floor } = Math;

/** J.-M. Oudin, 1940, in the Explanatory Supplement to the Astronomical Almanac, ch. 12 (from memory). */
function oudin(year: number, calendar: 'gregorian' | 'julian'): Day {
  const n = year % 19;
  let i: number;
  let j: number;
  if (calendar === 'gregorian') {
    const c = floor(year / 100);
    const k = floor((c - 17) / 25);
    i = (c - floor(c / 4) - floor((c - k) / 3) + 19 * n + 15) % 30;
    i -= floor(i / 28) * (1 - floor(i / 28) * floor(29 / (i + 1)) * floor((21 - n) / 11));
    j = (year + floor(year / 4) + i + 2 - c + floor(c / 4)) % 7;
  } else {
    i = (19 * n + 15) % 30;
    j = (year + floor(year / 4) + i) % 7;
  }
  const l = i - j;
  const month = 3 + floor((l + 40) / 44);
  const day = l + 28 - 31 * floor(month / 4);
  return calendar === 'gregorian' ? gregorianDay(year, month, day) : julianDay(year, month, day);
}

/** C. Clavius and A. Lilius, in D. E. Knuth, The Art of Computer Programming I, 1.3.2, exercise 14 (from memory). */
function clavius(year: number): Day {
  const golden = (year % 19) + 1;
  const century = floor(year / 100) + 1;
  const leapsDropped = floor((3 * century) / 4) - 12;
  const moon = floor((8 * century + 5) / 25) - 5;
  const sunday = floor((5 * year) / 4) - leapsDropped - 10;
  let epact = (11 * golden + 20 + moon - leapsDropped) % 30;
  if (epact < 0) epact += 30;
  if ((epact === 25 && golden > 11) || epact === 24) epact++;
  let full = 44 - epact;
  if (full < 21) full += 30;
  full += 7 - ((sunday + full) % 7);
  return full > 31 ? gregorianDay(year, 4, full - 31) : gregorianDay(year, 3, full);
}

describe('Easter Day', () => {
  test('Gregorian, 1583 to 2299, by two other published rules', () => {
    for (let year = 1583; year <= 2299; year++) {
      const day = easterDay(year, 'gregorian');
      expect([year, isoDay(day)]).toEqual([year, isoDay(oudin(year, 'gregorian'))]);
      expect([year, isoDay(day)]).toEqual([year, isoDay(clavius(year))]);
      expect(weekday(day)).toBe(6);
    }
  });
  test('Julian, 326 to 2299, by another published rule', () => {
    for (let year = 326; year <= 2299; year++) {
      expect([year, easterDay(year, 'julian')]).toEqual([year, oudin(year, 'julian')]);
      expect(weekday(easterDay(year, 'julian'))).toBe(6);
    }
  });
  /** The earliest and latest, and others that almanacs print (common knowledge). */
  test.each([['1818-03-22'], ['1834-03-30'], ['1886-04-25'], ['1943-04-25'], ['2000-04-23'], ['2008-03-23']])(
    '%s',
    (day) => {
      expect(isoDay(easterDay(Number(day.slice(0, 4)), 'gregorian'))).toBe(day);
    },
  );
});
