import { describe, expect, test } from 'vitest';
import { searchChains } from '../../src/attribution/chain-search.ts';
import { totalsOf } from '../../src/attribution/chain-total.ts';
import { everyChain } from './every-chain.ts';
import { type AnyHolder, prepared, tableOf } from './prepared.ts';

const SIZE = 200;
const made = Array.from({ length: SIZE }, (_, y) => (y < 100 ? 1 : 0));
const holder = (id: number, from: number, weight: number, surname: string): AnyHolder => ({
  person: `p${id}`,
  surnames: [surname],
  from,
  weights: new Array(30).fill(weight),
});
/** Four marks of seven holders: some are the same persons, `named` makes them bear one name or names of their own. */
const marksOf = (named: (id: number) => string) =>
  Array.from({ length: 4 }, (_, place) =>
    prepared(place, [
      ...Array.from({ length: 6 }, (_, c) => {
        const id = place * 3 + c;
        return holder(id, (id * 29) % 150, 1 / (1 + (id % 4)), named(id));
      }),
      { surnames: [], from: 0, weights: new Array(SIZE).fill(0.02) },
    ]),
  );

describe('the sum over all chains', () => {
  const marks = marksOf((id) => `s${id % 3}`);
  const { table, relations, order } = tableOf(made, marks);
  const { chains } = searchChains(table, marks, relations, order, 5, 1);
  const all = totalsOf(table, marks, relations, order, chains);

  test('every chain looked at: nothing is left to sum in another way', () => {
    expect(all.notLookedAt).toBeLessThan(1e-3);
    const withFirst = chains.filter(({ assigned }) => assigned[0] === 0).reduce((sum, { score }) => sum + score, 0);
    expect((all.withHolder[0] ?? Number.NaN) / withFirst).toBeCloseTo(1, 3);
  });

  test('few chains looked at: the others are summed near enough, and it is told', () => {
    const few = totalsOf(table, marks, relations, order, chains.slice(0, 20));
    expect(few.notLookedAt).toBeGreaterThan(0.2);
    expect(Math.abs(few.total / all.total - 1)).toBeLessThan(0.05);
    for (const [number, weight] of all.withHolder.entries()) {
      expect(Math.abs((few.withHolder[number] ?? Number.NaN) / few.total - weight / all.total)).toBeLessThan(0.03);
    }
    expect(Math.abs(few.withUnrecorded / few.total - all.withUnrecorded / all.total)).toBeLessThan(0.03);
  });

  test('no share is out by more than is told', () => {
    let [out, most] = [0, 0];
    for (const names of [1, 2, 3, 4, 5, 7]) {
      for (const looked of [5, 20, 100]) {
        const given = marksOf((id) => `s${id % names}`);
        const known = tableOf(made, given.slice(0, 4), (a, b) => Number(a.slice(1)) % 4 === Number(b.slice(1)) % 4);
        const exact = everyChain(known.table, known.relations).sort((a, b) => b.score - a.score);
        const sum = exact.reduce((total, { score }) => total + score, 0);
        const { total, within, withHolder } = totalsOf(
          known.table,
          given,
          known.relations,
          known.order,
          exact.slice(0, looked),
        );
        const shares = new Map<number, number>();
        for (const { assigned, score } of exact) {
          const numbers = new Set(assigned.map((c, m) => known.relations.numberOf[m]?.[c] ?? -1));
          for (const number of numbers) shares.set(number, (shares.get(number) ?? 0) + score / sum);
        }
        const farthest = Math.max(
          ...[...shares].map(([number, share]) => Math.abs((withHolder[number] ?? Number.NaN) / total - share)),
        );
        most = Math.max(most, farthest);
        if (farthest > within) out += 1;
        expect(within).toBeLessThan(0.05);
      }
    }
    expect(out).toBe(0);
    expect(most).toBeGreaterThan(1e-4);
  });

  test('among strangers the sum is exact, however few were looked at', () => {
    const strangers = Array.from({ length: 3 }, (_, place) =>
      prepared(
        place,
        Array.from({ length: 5 }, (_, c) =>
          holder(place * 10 + c, (c * 31 + place * 7) % 150, 1 / (c + 1), `s${place}${c}`),
        ),
      ),
    );
    const given = tableOf(made, strangers);
    const found = searchChains(given.table, strangers, given.relations, given.order, 2, 1).chains;
    const totals = totalsOf(given.table, strangers, given.relations, given.order, found.slice(0, 2));
    let product = 0;
    for (const [k, weight] of given.table.nodes.weight.entries()) {
      product += given.table.single.reduce(
        (value, parts) => value * parts.reduce((sum, part) => sum + (part.weight[k] ?? 0), 0),
        weight,
      );
    }
    expect(totals.total).toBeCloseTo(product, 9);
    expect(totals.notLookedAt).toBe(0);
  });
});
