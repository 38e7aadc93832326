import { describe, expect, test } from 'vitest';
import { dayOf, gregorianDay, isoDay, julianDay, toGregorian, toJulian, weekday } from '../../src/time/calendar.ts';
import places from '../../src/time/places.json' with { type: 'json' };
import { calendarAt, firstOfMonth, firstOfYear, label, placeOf } from '../../src/time/places.ts';
import { readDate } from '../../src/time/read-date.ts';
import examples from './data/dates.json' with { type: 'json' };

type Example<Input, Expected> = { topic: string; input: Input; expected: Expected };
const about = <Input, Expected>(topic: string): Example<Input, Expected>[] =>
  examples.filter((one) => one.topic === topic) as unknown as Example<Input, Expected>[];
const fields = (iso: string): [number, number, number] => iso.split('-').map(Number) as [number, number, number];

/** Meeus, Astronomical Algorithms, 2nd ed. 1998, ch. 7 (from memory, recomputed): the days as he prints them. */
describe('Julian day numbers', () => {
  type Input = { calendar: string; y: number; m: number; d: number };
  const days = about<Input, number>('Julian day number');
  test('there are 18', () => expect(days).toHaveLength(18));
  test.each(days.map((one) => [`${one.input.calendar} ${one.input.y}-${one.input.m}-${one.input.d}`, one] as const))(
    '%s',
    (_name, one) => {
      const { calendar, y, m, d } = one.input;
      const whole = dayOf(y, m, Math.floor(d), calendar === 'Julian' ? 'julian' : 'gregorian');
      // His day begins at noon: the day number is that of its noon, half a day after its midnight.
      expect(whole - 0.5 + (d - Math.floor(d))).toBeCloseTo(one.expected, 6);
      const back = calendar === 'Julian' ? toJulian(whole) : toGregorian(whole);
      expect(back).toEqual({ year: y, month: m, day: Math.floor(d) });
    },
  );
});

/** Calendar (New Style) Act 1750, 24 Geo. 2 c. 23; Cheney and Jones, A Handbook of Dates (from memory). */
describe('Old Style to New', () => {
  const pairs = about<{ julian: string }, { gregorian: string }>('Julian to Gregorian');
  test('there are 13', () => expect(pairs).toHaveLength(13));
  test.each(pairs.map((one) => [one.input.julian, one.expected.gregorian]))('%s is %s', (julian, gregorian) => {
    expect(isoDay(julianDay(...fields(julian)))).toBe(gregorian);
    expect(isoDay(readDate(julian, { calendar: 'julian' }).span.from)).toBe(gregorian);
  });

  /** The days to add to an Old Style date, by the year: computed tables of the handbooks. */
  test.each<[from: string, to: string, add: number]>([
    ['1582-10-05', '1700-02-28', 10],
    ['1700-03-01', '1800-02-28', 11],
    ['1800-03-01', '1900-02-28', 12],
    ['1900-03-01', '2100-02-28', 13],
  ])('from %s to %s add %i days', (from, to, add) => {
    for (const date of [from, to]) expect(julianDay(...fields(date)) - gregorianDay(...fields(date))).toBe(add);
  });
  test.each([
    ['1700-02-29', '1700-03-11'],
    ['1800-02-29', '1800-03-12'],
    ['1900-02-29', '1900-03-13'],
  ])('the Old Style leap day %s is %s', (julian, gregorian) =>
    expect(isoDay(julianDay(...fields(julian)))).toBe(gregorian),
  );
});

describe('the British change', () => {
  const england = placeOf('england');
  test('3 to 13 September 1752 never were', () => {
    for (let day = 3; day <= 13; day++) expect(calendarAt(england, label(1752, 9, day))).toBeUndefined();
    expect(calendarAt(england, label(1752, 9, 2))).toBe('julian');
    expect(calendarAt(england, label(1752, 9, 14))).toBe('gregorian');
  });
  test('September 1752 had 19 days, the year 355', () => {
    expect(firstOfMonth(england, 1752, 10) - firstOfMonth(england, 1752, 9)).toBe(19);
    expect(firstOfYear(england, 1753) - firstOfYear(england, 1752)).toBe(355);
  });
  test('Wednesday 2 September was followed by Thursday 14 September', () => {
    expect(gregorianDay(1752, 9, 14) - julianDay(1752, 9, 2)).toBe(1);
    expect([weekday(julianDay(1752, 9, 2)), weekday(gregorianDay(1752, 9, 14))]).toEqual([2, 3]);
  });
});

/** The same handbooks (from memory): the year from Lady Day. */
describe('the year from Lady Day', () => {
  type Input = { written: string; yearFrom?: string };
  type Expected = { gregorian?: string; gregorianEither?: string[] };
  const years = about<Input, Expected>('year from Lady Day');
  test('there are 5', () => expect(years).toHaveLength(5));
  test.each(years.map((one) => [one.input.written, one.input.yearFrom ?? 'stated', one] as const))(
    '%s, year from %s',
    (written, yearFrom, { expected }) => {
      const options = yearFrom === '25 March' ? { yearBegins: '25 March' as const } : {};
      if (expected.gregorian !== undefined)
        expect(isoDay(readDate(written, options).span.from)).toBe(expected.gregorian);
      else expect(() => readDate(written, options)).toThrow('readings');
    },
  );
  test('the wordings offered instead are the two days a year apart', () => {
    expect(isoDay(readDate('11 Feb. 1730/1').span.from)).toBe('1731-02-22');
    expect(isoDay(readDate('11 Feb. 1731/2').span.from)).toBe('1732-02-22');
  });
});

describe('the change of calendar, place by place', () => {
  const changes = places.changes.map((one) => [one.names[0] ?? '', one] as const);
  test('there are two dozen', () => expect(changes.length).toBeGreaterThanOrEqual(22));
  test.each(changes)('%s: the first new day follows the last old one', (name, { lastOldDay, firstNewDay }) => {
    const apart = gregorianDay(...fields(firstNewDay)) - julianDay(...fields(lastOldDay));
    expect(apart).toBe(name === 'alaska' ? 0 : 1); // Alaska also moved the date line: that day came twice
  });
  test.each(changes)('%s: its own day is read so', (name, { lastOldDay, firstNewDay }) => {
    const text = (iso: string) => `${fields(iso)[2]}.${fields(iso)[1]}.${fields(iso)[0]}`;
    const country = { country: name, yearBegins: '1 January' } as const;
    expect(readDate(text(lastOldDay), country).span.from).toBe(julianDay(...fields(lastOldDay)));
    expect(readDate(text(firstNewDay), country).span.from).toBe(gregorianDay(...fields(firstNewDay)));
  });
});

/** English usage (Cheney and Jones); Scottish term days before 1991 (from memory). */
describe('quarter days', () => {
  type Days = Example<string[], string[]>;
  const days = examples.filter((one) => one.topic === 'quarter days') as unknown as Days[];
  test('there are 3 sets', () => expect(days).toHaveLength(3));
  const named = days
    .slice(0, 2)
    .flatMap(({ input, expected }) => input.map((name, place) => [name, expected[place] ?? ''] as const));
  test.each(named)('%s is %s', (name, date) => {
    const options = name === 'Whitsunday' ? { country: 'scotland' } : {};
    expect(isoDay(readDate(`${name} 1834`, options).span.from)).toBe(`1834-${date}`);
  });
  test('Old Lady Day', () => {
    expect(isoDay(readDate('Old Lady Day 1753').span.from)).toBe('1753-04-05');
    expect(isoDay(readDate('Old Lady Day 1800').span.from)).toBe('1800-04-06');
  });
});
