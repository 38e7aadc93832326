import { describe, expect, test } from 'vitest';
import { AFTER, BEFORE, EITHER, NEVER } from '../../src/attribution/chain-order.ts';
import { type AnyHolder, prepared, tableOf } from './prepared.ts';

const made = new Array(60).fill(1, 0, 30).fill(0, 30);
const holder = (person: string, from: number, length: number, surname = 'holt'): AnyHolder => ({
  person,
  surnames: [surname],
  from,
  weights: new Array(length).fill(1),
});
const relationOf = (first: AnyHolder, second: AnyHolder): number | undefined => {
  const { order } = tableOf(made, [prepared(0, [first]), prepared(1, [second])]);
  const at = (place: number): number => order.options.findIndex((option) => option.place === place);
  return order.relation[at(0) * order.options.length + at(1)];
};

describe('which of two marks is the earlier one in every chain', () => {
  test.each<[rule: string, first: AnyHolder, second: AnyHolder, relation: number]>([
    ['all days of one before those of the other', holder('p1', 30, 5), holder('p2', 40, 5), BEFORE],
    ['the same the other way round', holder('p1', 40, 5), holder('p2', 30, 5), AFTER],
    ['later for every making, though days are shared', holder('p1', 10, 30), holder('p2', 14, 40), BEFORE],
    ['the same days: as the marks stand', holder('p1', 30, 8), holder('p1', 30, 8), BEFORE],
    ['earlier for late makings only', holder('p1', 0, 60), holder('p2', 27, 3), EITHER],
  ])('%s', (_rule, first, second, relation) => expect(relationOf(first, second)).toBe(relation));

  test('days that no making has in common: never in one chain', () => {
    const early = { ...holder('p1', 0, 5), law: [{ scale: 1, perDay: 0, fallOff: 1, since: 0 }] };
    const late = { ...holder('p2', 20, 5), law: [{ scale: 1, perDay: 0, fallOff: 1, since: 0 }] };
    expect(relationOf(early, late)).toBe(NEVER);
  });

  test('nobody stands before whoever is certainly earlier', () => {
    const marks = [0, 1, 2].map((place) =>
      prepared(place, [holder('p1', 12, 9), holder(`p${place + 2}`, 5 * place, 20), holder(`p${place + 7}`, 30, 4)]),
    );
    const { order } = tableOf(made, marks);
    const count = order.options.length;
    for (let a = 0; a < count; a += 1)
      for (let b = 0; b < a; b += 1) expect(order.relation[a * count + b]).not.toBe(BEFORE);
  });
});
