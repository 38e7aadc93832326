import { expect, test } from 'vitest';
import { Ties } from '../../../src/careers/linkage/ties.ts';

test('what is tied by way of others is one group', () => {
  const ties = new Ties();
  ties.tie(7, 5);
  ties.tie(9, 7);
  ties.tie(2, 3);
  expect(ties.rootOf(9)).toBe(5);
  expect(ties.rootOf(4)).toBe(4);
  expect(ties.groups().map((group) => [...group].sort())).toEqual([
    [5, 7, 9],
    [2, 3],
  ]);
});
