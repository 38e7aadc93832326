import { describe, expect, test } from 'vitest';
import { isoDay, julianDay } from '../../src/time/calendar.ts';
import { readDate } from '../../src/time/read-date.ts';
import { allReigns } from '../../src/time/regnal-years.ts';
import { lastDay } from '../../src/time/span.ts';
import examples from './data/dates.json' with { type: 'json' };
import years from './data/regnal-1760-1952.json' with { type: 'json' };

/** Derived from the published accession days: table of regnal years, Select Essays in Anglo-American Legal History. */
test('all 266 regnal years from 1760 to 1952', () => {
  expect(years).toHaveLength(266);
  for (const { king, year, start, end } of years) {
    const { span } = readDate(`${year} ${king}`);
    expect([king, year, isoDay(span.from), isoDay(lastDay(span))]).toEqual([king, year, start, end]);
  }
});

describe('the same, as examples', () => {
  type Example = { topic: string; input: string; expected: { start: string; end: string } };
  const cited = examples.filter((one) => one.topic === 'regnal year') as unknown as Example[];
  test.each(cited.map((one) => [one.input, one.expected] as const))('%s', (cite, { start, end }) => {
    const { span } = readDate(cite);
    expect([isoDay(span.from), isoDay(lastDay(span))]).toEqual([start, end]);
  });
});

describe('accessions', () => {
  const accessions = examples.filter((one) => one.topic === 'accession') as unknown as {
    input: string;
    expected: string;
  }[];
  test.each(accessions.map((one) => [one.input, one.expected]))('%s, %s', (name, day) => {
    const reign = allReigns().find((one) => one.sovereign === name);
    const first = reign?.span.from ?? Number.NaN;
    const [y = 0, m = 1, d = 1] = (day ?? '').split('-').map(Number);
    expect(first).toBe(y < 1752 ? julianDay(y, m, d) : readDate(day ?? '').span.from);
  });
});

/** Handbook of British Chronology (from memory); days before 1752 Old Style with the year from 1 January. */
describe('regnal years of the handbooks', () => {
  test.each<[cite: string, from: string, to: string]>([
    ['12 Car. II', '1660-01-30', '1661-01-29'],
    ['6 Will. III', '1694-12-28', '1695-02-12'],
    ['7 Will. III', '1695-02-13', '1696-02-12'],
    ['1 Ann.', '1702-03-08', '1703-03-07'],
    ['4 Jac. II', '1688-02-06', '1688-12-11'],
    ['14 Will. III', '1702-02-13', '1702-03-08'],
    ['37 Car. II', '1685-01-30', '1685-02-06'],
    ['25 Geo. II', '1751-06-11', '1752-06-10'],
  ])('%s', (cite, from, to) => {
    const { span } = readDate(cite);
    const old = (iso: string) => julianDay(...(iso.split('-').map(Number) as [number, number, number]));
    expect([span.from, lastDay(span)]).toEqual([old(from), old(to)]);
  });
  test.each<[cite: string, from: string, to: string]>([
    ['26 Geo. II', '1752-06-22', '1753-06-21'],
    ['27 Geo. II', '1753-06-22', '1754-06-21'],
    ['34 Geo. II', '1760-06-22', '1760-10-25'],
    ['10 Geo. III', '1769-10-25', '1770-10-24'],
    ['64 Vict.', '1900-06-20', '1901-01-22'],
    ['1 Edw. VII', '1901-01-22', '1902-01-21'],
    ['10 Geo. V', '1919-05-06', '1920-05-05'],
  ])('%s', (cite, from, to) => {
    const { span } = readDate(cite);
    expect([isoDay(span.from), isoDay(lastDay(span))]).toEqual([from, to]);
  });
});

test('regnal years follow each other without a gap or a shared day', () => {
  for (const reign of allReigns()) {
    for (let year = reign.firstYear; year < Math.min(reign.lastYear, 100); year++) {
      expect([reign.sovereign, year, reign.year(year).until]).toEqual([
        reign.sovereign,
        year,
        reign.year(year + 1).from,
      ]);
    }
  }
});
