import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { searchChains } from '../../src/attribution/chain-search.ts';
import { everyChain, holderWithin } from './every-chain.ts';
import { prepared, tableOf } from './prepared.ts';

const SIZE = 120;
const made = Array.from({ length: SIZE }, (_, y) => (y < 60 ? 1 : 0));

const anyHolder = holderWithin(SIZE, 19);
const isKin = (a: string, b: string): boolean => a === 'p5' && b === 'p6';

describe('the heaviest chains', () => {
  test('are those that weighing every chain finds', () =>
    fc.assert(
      fc.property(
        fc.array(fc.uniqueArray(anyHolder, { minLength: 1, maxLength: 6, selector: ({ person }) => person }), {
          minLength: 1,
          maxLength: 4,
        }),
        (given) => {
          const marks = given.map((holders, place) =>
            prepared(place, [
              ...holders,
              { surnames: place === 0 ? ['holt'] : [], from: 0, weights: new Array(SIZE).fill(0.01) },
            ]),
          );
          const { table, relations, order } = tableOf(made, marks, isKin);
          const slow = everyChain(table, relations).sort((a, b) => b.score - a.score);
          const { chains, proved } = searchChains(table, marks, relations, order, 5, 1);
          expect(proved).toBe(true);
          for (const [i, { score }] of slow.slice(0, 5).entries()) {
            expect(Math.abs((chains[i]?.score ?? 0) - score)).toBeLessThan(1e-9 * score + 1e-300);
          }
        },
      ),
      { seed: 67, numRuns: 80 },
    ));

  test('eight marks of twenty holders: the best are proved', () => {
    const marks = Array.from({ length: 8 }, (_, place) =>
      prepared(
        place,
        Array.from({ length: 20 }, (_, c) => ({
          person: `p${place * 100 + c}`,
          from: (c * 37 + place * 11) % 100,
          weights: new Array(8).fill(1 / (1 + ((c * 7 + place) % 5))),
        })),
      ),
    );
    const { table, relations, order } = tableOf(made, marks);
    const { chains, proved } = searchChains(table, marks, relations, order, 5, 1);
    expect(proved).toBe(true);
    expect(chains.length).toBeGreaterThanOrEqual(5);
    // Nobody better can be put in for any one mark of the best.
    const best = chains[0];
    for (const [place, holders] of table.single.entries()) {
      for (const c of holders.keys()) {
        const other = (best?.assigned ?? []).map((assigned, m) => (m === place ? c : assigned));
        let sum = 0;
        for (const [k, weight] of table.nodes.weight.entries()) {
          sum += other.reduce((value, holder, m) => value * (table.single[m]?.[holder]?.weight[k] ?? 0), weight);
        }
        expect(sum).toBeLessThanOrEqual((best?.score ?? 0) * (1 + 1e-9));
      }
    }
  });

  /** Twenty families; of each, one can have put on each of eight marks. All are alike but for the days, where told. */
  const families = (from: (place: number, family: number) => number) => {
    const marks = Array.from({ length: 8 }, (_, place) =>
      prepared(place, [
        ...Array.from({ length: 20 }, (_, family) => ({
          person: `p${place * 100 + family}`,
          from: from(place, family),
          weights: new Array(12).fill(1),
        })),
        { from: 0, weights: new Array(SIZE).fill(0.01) },
      ]),
    );
    const isFamily = (a: string, b: string): boolean => (Number(a.slice(1)) - Number(b.slice(1))) % 100 === 0;
    return { marks, ...tableOf(made, marks, isFamily) };
  };

  test.each<[rule: string, from: (place: number, family: number) => number]>([
    ['all on the same days', () => 60],
    ['one mark after another', (place) => 20 + 12 * place],
    ['days of their own', (place, family) => 40 + ((family * 7 + place * 3) % 9)],
  ])('eight marks of twenty families as likely as each other, %s: the best keep to one family', (_rule, from) => {
    const { marks, table, relations, order } = families(from);
    const { chains, proved } = searchChains(table, marks, relations, order, 5, 1e9);
    expect(proved).toBe(true);
    for (const { assigned } of chains.slice(0, 5)) expect(new Set(assigned).size).toBe(1);
  });

  test('strangers of whom none can be told from another: any five, none heavier than another', () => {
    const marks = Array.from({ length: 8 }, (_, place) =>
      prepared(
        place,
        Array.from({ length: 20 }, (_, c) => ({ person: `p${place * 100 + c}`, from: 60, weights: [1, 1, 1] })),
      ),
    );
    const { table, relations, order } = tableOf(made, marks);
    const { chains, proved } = searchChains(table, marks, relations, order, 5, 1);
    expect(proved).toBe(true);
    expect(chains.length).toBeGreaterThanOrEqual(5);
    expect((chains[4]?.score ?? 0) / (chains[0]?.score ?? 1)).toBeCloseTo(1, 9);
  });

  test('nobody who is not to be listed is in any', () => {
    const { marks, table, relations, order } = families(() => 60);
    const { chains } = searchChains(table, marks, relations, order, 5, 1e9, (_, holder) => holder >= 15);
    expect(chains.slice(0, 5).every(({ assigned }) => assigned.every((holder) => holder >= 15))).toBe(true);
  });
});
