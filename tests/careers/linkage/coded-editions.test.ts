import { expect, test } from 'vitest';
import { codeEditions } from '../../../src/careers/linkage/coded-editions.ts';
import { editionOf } from './listed.ts';

test('editions stand in the order of their days, with those of one day by service and label', () => {
  const coded = codeEditions([editionOf(1802), editionOf(1800, 'b'), editionOf(1801, 'a', 'army'), editionOf(1800)]);
  expect(coded.sorted.map(({ label, service }) => `${service} ${label}`)).toEqual([
    'coast 1800',
    'coast 1800b',
    'army 1801',
    'coast 1802',
  ]);
  expect([...coded.stepOf]).toEqual([3, 1, 2, 0]);
  expect([...coded.isFirst]).toEqual([1, 0, 1, 0]);
  expect(coded.day[0]).toBe(coded.day[1]);
});
