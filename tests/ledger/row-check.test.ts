import fc from 'fast-check';
import { expect, test } from 'vitest';
import { partings, RowChecks } from '../../src/ledger/row-check.ts';

const values = fc
  .array(fc.integer({ min: 1, max: 1e9 }), { minLength: 1, maxLength: 40 })
  .map((all) => [...new Set(all)]);
const asked = (sealed: readonly number[], there: readonly number[]) =>
  partings(Int32Array.from(sealed), Int32Array.from(there));

test('rows that are those sealed do not part', () =>
  fc.assert(
    fc.property(values, (rows) => {
      expect(asked(rows, rows)).toEqual([]);
    }),
  ));

test('a row that was changed is named alone', () =>
  fc.assert(
    fc.property(values, fc.nat(), (rows, place) => {
      const at = place % rows.length;
      expect(asked(rows, rows.with(at, -1))).toEqual([{ is: 'changed', at }]);
    }),
  ));

test('rows that are missing or were added side by side are named alone', () =>
  fc.assert(
    fc.property(values, fc.nat(), fc.integer({ min: 1, max: 5 }), (rows, place, count) => {
      const at = place % rows.length;
      const fewer = rows.toSpliced(at, count);
      const gone = rows.length - fewer.length;
      expect(asked(rows, fewer)).toEqual(Array.from({ length: gone }, () => ({ is: 'missing', at })));
      expect(asked(fewer, rows)).toEqual(Array.from({ length: gone }, (_, i) => ({ is: 'added', at: at + i })));
    }),
  ));

test('checks are kept in their order, however many', () => {
  const checks = new RowChecks();
  const rows = Array.from({ length: 100 }, (_, at) => at * 7);
  for (const each of rows) checks.add(each);
  checks.amend((last) => last + 1);
  expect([...checks.values()]).toEqual([...rows.slice(0, -1), 99 * 7 + 1]);
});
