import { describe, expect, test } from 'vitest';
import { DEFAULTS } from '../../src/assumptions.ts';
import { robustness } from '../../src/attribution/robustness.ts';

describe('would it stand without each record', () => {
  const shares: Record<string, number> = { e1: 0.79, e2: 0.4, e3: 0.41, n1: 0, e4: 0.8 };
  const told = robustness(0.8, ['e1', 'e2', 'e3', 'n1', 'e1', 'e4'], (id) => shares[id] ?? Number.NaN, DEFAULTS);

  test('it hangs on those that halve it or worse, the most needed first', () => {
    expect(told.hangsOn).toEqual(['n1', 'e2']);
    expect(told.robust).toBe(false);
  });

  test('each record is left out once', () =>
    expect(told.without.map(({ id }) => id)).toEqual(['e1', 'e2', 'e3', 'n1', 'e4']));

  test('else it is robust; no record at all is robust too', () => {
    expect(robustness(0.8, ['e1', 'e3'], (id) => shares[id] ?? Number.NaN, DEFAULTS).robust).toBe(true);
    expect(robustness(0.8, [], () => 0, DEFAULTS).robust).toBe(true);
  });

  test('the ratio can be changed', () => {
    const strict = { values: { ...DEFAULTS.values, 'hang.ratio': 0.99 } };
    expect(robustness(0.8, ['e1', 'e4'], (id) => shares[id] ?? Number.NaN, strict).hangsOn).toEqual(['e1']);
  });
});
