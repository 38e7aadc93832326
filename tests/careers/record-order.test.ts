import { describe, expect, test } from 'vitest';
import { compareIds, compareKeys, inOrder } from '../../src/careers/record-order.ts';

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

  test.each<[rule: string, a: { id: string; key?: string }, b: { id: string; key?: string }]>([
    ['the senders’ keys, as text', { id: 'e10', key: 'alpha' }, { id: 'e9', key: 'beta' }],
    ['without keys the ids', { id: 'e9' }, { id: 'e10' }],
    ['one without a key is known by its id', { id: 'e9' }, { id: 'e1', key: 'f' }],
    ['the same key, then the ids', { id: 'e9', key: 'same' }, { id: 'e10', key: 'same' }],
  ])('compareKeys: %s', (_rule, a, b) => {
    expect(compareKeys(a, b)).toBeLessThan(0);
    expect(compareKeys(b, a)).toBeGreaterThan(0);
  });

  test('inOrder: sorts a copy, and gives back what is sorted already', () => {
    const mixed = [{ id: 'e10' }, { id: 'e9' }];
    expect(inOrder(mixed).map(({ id }) => id)).toEqual(['e9', 'e10']);
    expect(mixed[0]?.id).toBe('e10');
    const sorted = [{ id: 'e9' }, { id: 'e10' }];
    expect(inOrder(sorted)).toBe(sorted);
  });
});
