import { expect, test } from 'vitest';
import { codeEntries } from '../../../src/careers/linkage/coded.ts';
import { datedLevel } from '../../../src/careers/linkage/dated-levels.ts';
import { DATED_FIELDS, FIELDS } from '../../../src/careers/linkage/fields.ts';
import { isoDate, listed } from './listed.ts';

/** The level of two dates of rank, the earlier list being of 1 January 1805. */
function level(before: string, after: string): string | undefined {
  const { dates, dated } = codeEntries(
    listed([
      { id: 'e1', year: 1805, name: 'Ferrand', dated: before },
      { id: 'e2', year: 1806, name: 'Ferrand', dated: after },
    ]),
  );
  const since = isoDate('1805-01-01').span.from;
  return FIELDS[DATED_FIELDS.sameRank]?.levels[datedLevel(dates, dated[0] ?? -1, dated[1] ?? -1, since)]?.name;
}

test.each<[before: string, after: string, name: string]>([
  ['1801-02-03', '1801-02-03', 'the same'],
  ['1801-02', '1801-02-03', 'the same'], // a month, and a day in it
  ['1801-02-03', '1801-02-05', 'differs in one of day, month and year'],
  ['1801-02-03', '1804-02-03', 'differs in one of day, month and year'],
  ['1801-02-03', '1805-04-06', 'later, and not before the earlier list'],
  ['1801-02-03', '1804-04-06', 'later, but before the earlier list'],
  ['1801-02-03', '1799-04-06', 'earlier'],
])('%s, then %s: %s', (before, after, name) => expect(level(before, after)).toBe(name));
