import { describe, expect, test } from 'vitest';
import { DEFAULTS } from '../../src/assumptions.ts';
import { relationsOf } from '../../src/attribution/chain-relations.ts';
import { prepared } from './prepared.ts';

const holder = (person: string | undefined, ...surnames: string[]) => ({
  ...(person === undefined ? {} : { person }),
  surnames,
  from: 0,
  weights: [1],
});
const never = () => false;

describe('all possible holders', () => {
  test('a person is one holder whatever the mark, an unrecorded one is another for each mark', () => {
    const marks = [
      prepared(0, [holder('p1', 'holt'), holder(undefined)]),
      prepared(1, [holder('p1', 'holt'), holder('p2', 'marl'), holder(undefined)]),
      prepared(2, [holder(undefined)], { namesHolder: false }),
    ];
    const { numberOf, count, factor, strangers } = relationsOf(marks, never, DEFAULTS);
    expect(numberOf).toEqual([[0, 1], [0, 2, 3], [-1]]);
    expect(count).toBe(4);
    expect(factor[0]).toBe(20);
    expect(factor[2]).toBe(1);
    expect(strangers).toBe(false);
  });

  test('strangers only', () => {
    const marks = [prepared(0, [holder('p1', 'holt')]), prepared(1, [holder('p2', 'marl'), holder(undefined)])];
    expect(relationsOf(marks, never, DEFAULTS).strangers).toBe(true);
    expect(relationsOf(marks, () => true, DEFAULTS).strangers).toBe(false);
  });
});
