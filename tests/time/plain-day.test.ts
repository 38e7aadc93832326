import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { gregorianDay, toGregorian } from '../../src/time/calendar.ts';
import { plainDay } from '../../src/time/plain-day.ts';
import { readDate } from '../../src/time/read-date.ts';
import type { Day } from '../../src/time/span.ts';

const MONTHS = [
  ['January', 'Jan', 'Jan.'],
  ['February', 'Feb', 'Feb.'],
  ['March', 'Mar', 'Mar.'],
  ['April', 'Apr', 'Apr.'],
  ['May'],
  ['June', 'Jun', 'Jun.'],
  ['July', 'Jul', 'Jul.'],
  ['August', 'Aug', 'Aug.'],
  ['September', 'Sept', 'Sept.', 'Sep', 'Sep.'],
  ['October', 'Oct', 'Oct.'],
  ['November', 'Nov', 'Nov.'],
  ['December', 'Dec', 'Dec.'],
];

/** What the whole reader says of a wording, as far as a record keeps it. */
const read = (text: string) => {
  const { span, approximate, uncertain, text: kept } = readDate(text);
  return { ...span, approximate, uncertain, kept };
};
const asRead = (text: string, day: Day) => ({
  from: day,
  until: day + 1,
  approximate: false,
  uncertain: false,
  kept: text,
});

const days = fc.integer({ min: gregorianDay(1753, 1, 1), max: gregorianDay(2099, 12, 31) }).map((day) => day as Day);

describe('plainDay: what it reads, readDate reads alike', () => {
  test('thousands of days, the month written in any of its ways', () => {
    fc.assert(
      fc.property(days, fc.nat(), fc.boolean(), (day, way, padded) => {
        const { year, month, day: ofMonth } = toGregorian(day);
        const names = MONTHS[month - 1] ?? [];
        const text = `${padded ? String(ofMonth).padStart(2, '0') : ofMonth} ${names[way % names.length]} ${year}`;
        expect(plainDay(text)).toBe(day);
        expect(read(text)).toEqual(asRead(text, day));
      }),
      { seed: 20_261_125, numRuns: 4000 },
    );
  });

  test('thousands of days as ISO 8601 has them', () => {
    fc.assert(
      fc.property(days, (day) => {
        const { year, month, day: ofMonth } = toGregorian(day);
        const text = `${year}-${String(month).padStart(2, '0')}-${String(ofMonth).padStart(2, '0')}`;
        expect(plainDay(text)).toBe(day);
        expect(read(text)).toEqual(asRead(text, day));
      }),
      { seed: 20_261_126, numRuns: 4000 },
    );
  });

  test('whatever else looks like a day: the same day, or it is left to readDate', () => {
    const part = fc.integer({ min: 0, max: 40 }).map(String);
    const year = fc
      .oneof(fc.integer({ min: 0, max: 9999 }), fc.integer({ min: 1740, max: 1910 }))
      .map((each) => String(each).padStart(4, '0'));
    const month = fc.constantFrom(...MONTHS.flat(), 'may', 'MAY', 'May.', 'March.', 'Juny', 'Decem.', '13');
    const text = fc.oneof(
      fc.tuple(part, month, year).map((parts) => parts.join(' ')),
      fc.tuple(year, part, part).map(([y, m, d]) => `${y}-${m.padStart(2, '0')}-${d.padStart(2, '0')}`),
    );
    fc.assert(
      fc.property(text, (given) => {
        const day = plainDay(given);
        if (day !== undefined) expect(read(given)).toEqual(asRead(given, day));
      }),
      { seed: 20_261_127, numRuns: 6000 },
    );
  });
});

test.each<[rule: string, text: string]>([
  ['a day that there is not', '31 Feb. 1834'],
  ['the 29th of February where there is none', '29 Feb. 1900'],
  ['day 0', '0 May 1834'],
  ['before one style of the year held everywhere', '16 May 1752'],
  ['a month in small letters', '16 may 1834'],
  ['a full month with a stop', '16 March. 1834'],
  ['more than a day', '16 May 1834?'],
  ['less than a day', 'May 1834'],
  ['spaces around it', ' 16 May 1834'],
  ['nothing', ''],
])('plainDay leaves to readDate: %s', (_rule, text) => expect(plainDay(text)).toBeUndefined());
