import { describe, expect, test } from 'vitest';
import { isoDay, toGregorian, yearText } from '../../src/time/calendar.ts';
import { readDate } from '../../src/time/read-date.ts';
import { type Day, lastDay } from '../../src/time/span.ts';
import examples from './data/dates.json' with { type: 'json' };

/** Library of Congress, Extended Date/Time Format Specification, 4 February 2019; bounds derived from the text. */
type Example = {
  topic: string;
  input: string;
  expected: { min?: string | null; max?: string | null; minYear?: number; maxYear?: number };
};
const strings = examples.filter((one) => one.topic.startsWith('EDTF')) as unknown as Example[];

/** Years before 0 stand with six digits in the examples, with four in EDTF. */
const written = (day: string | null | undefined): string | null => day?.replace(/^-00(?=\d{4}-)/, '-') ?? null;
const shown = (day: Day): string | null => (Number.isFinite(day) ? isoDay(day) : null);

describe('the strings of the EDTF specification', () => {
  test('there are 64', () => expect(strings).toHaveLength(64));

  test.each(strings.map((one) => [one.topic, one.input, one] as const))('%s: %s', (topic, input, { expected }) => {
    const { span, edtf } = readDate(input);
    expect(edtf).toBe(input);
    if (expected.minYear !== undefined && expected.maxYear !== undefined) {
      expect(shown(span.from)).toBe(`${yearText(expected.minYear)}-01-01`);
      expect(toGregorian(lastDay(span))).toEqual({ year: expected.maxYear, month: 12, day: 31 });
    } else if (topic.endsWith('season')) {
      // The specification gives a season no days; here spring is March to May.
      expect([shown(span.from), shown(lastDay(span))]).toEqual(['2001-03-01', '2001-05-31']);
    } else {
      expect([shown(span.from), shown(lastDay(span))]).toEqual([written(expected.min), written(expected.max)]);
    }
  });

  test.each([
    ['1984?', true, false],
    ['2004-06~', false, true],
    ['2004-06-11%', true, true],
    ['?2004-06-~11', true, true],
    ['2004-06~-11', false, true],
    ['2004-%06-11', true, true],
    ['1985-04-12', false, false],
    ['2004?/2006~', true, true],
  ])('qualifiers are reported: %s', (input, uncertain, approximate) => {
    expect(readDate(input)).toMatchObject({ uncertain, approximate });
  });
});
