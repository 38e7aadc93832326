import { describe, expect, test } from 'vitest';
import { compareIds, inOrder } from '../../src/careers/record-order.ts';

describe('the order of records', () => {
  test.each<[rule: string, smaller: string, greater: string]>([
    ['numbers count as numbers', 'e9', 'e10'],
    ['kind first', 'e10', 'n9'],
    ['a kind that begins another comes first', 'e10', 'ed2'],
    ['without a number, by letters', 'ea', 'eb'],
    ['the same number written longer', 'e1', 'e01'],
    ['nothing before something', 'e', 'e1'],
  ])('compareIds: %s', (_rule, smaller, greater) => {
    expect(compareIds(smaller, greater)).toBeLessThan(0);
    expect(compareIds(greater, smaller)).toBeGreaterThan(0);
    expect(compareIds(smaller, smaller)).toBe(0);
  });

  test('inOrder: sorts a copy, and gives back what is sorted already', () => {
    const mixed = [{ id: 'e10' }, { id: 'e9' }];
    expect(inOrder(mixed).map(({ id }) => id)).toEqual(['e9', 'e10']);
    expect(mixed[0]?.id).toBe('e10');
    const sorted = [{ id: 'e9' }, { id: 'e10' }];
    expect(inOrder(sorted)).toBe(sorted);
  });
});
