import { expect, test } from 'vitest';
import { FIELDS, RANK_FIELD } from '../../../src/careers/linkage/fields.ts';
import { isHigher, rankLevels } from '../../../src/careers/linkage/rank-places.ts';

// ensign, captain, colonel of one service (orders 1, 5 and 9), chaplain without a place; boatswain of another
const level = rankLevels({
  order: Float64Array.from([1, 5, 9, Number.NaN, 3]),
  service: Int32Array.from([0, 0, 0, 0, 1]),
});
const named = (before: number, after: number) => FIELDS[RANK_FIELD]?.levels[level(before, after)]?.name;

test.each<[before: number, after: number, name: string]>([
  [0, 0, 'the same'],
  [0, 1, 'the next one up'], // next of those that the ledger has
  [0, 2, 'further up'],
  [2, 0, 'down'],
  [0, 3, 'another, in no order'],
  [3, 3, 'the same'],
  [0, 4, 'in another service'],
])('from %i to %i: %s', (before, after, name) => expect(named(before, after)).toBe(name));

test('what is higher', () =>
  expect([0, 1, 2, 3, 4, 5].map(isHigher)).toEqual([false, true, true, false, false, false]));
