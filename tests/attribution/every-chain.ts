import fc from 'fast-check';
import type { PreparedMark } from '../../src/attribution/chain-marks.ts';
import type { Relations } from '../../src/attribution/chain-relations.ts';
import { linksOf } from '../../src/attribution/chain-score.ts';
import type { ChainTable } from '../../src/attribution/chain-table.ts';
import type { AnyHolder } from './prepared.ts';

/** Every way to choose one holder for each mark. */
export const everyChoice = (sizes: readonly number[]): number[][] =>
  sizes.reduce<number[][]>(
    (some, size) => some.flatMap((start) => Array.from({ length: size }, (_, c) => [...start, c])),
    [[]],
  );

export type PlainChain = {
  readonly assigned: readonly number[];
  /** The marks that can name a holder, in the order of their expected days. */
  readonly order: readonly number[];
  readonly score: number;
};

/** Every chain, weighed node by node, with its links in the order of its expected days; no mark overlies another. */
export function everyChain(table: ChainTable, relations: Relations): PlainChain[] {
  return everyChoice(table.single.map((holders) => holders.length)).map((assigned) => {
    const parts = assigned.map((c, m) => table.single[m]?.[c]);
    let sum = 0;
    const day = assigned.map(() => 0);
    for (const [k, weight] of table.nodes.weight.entries()) {
      const product = parts.reduce((value, part) => value * (part?.weight[k] ?? 0), weight);
      sum += product;
      for (const [m, part] of parts.entries()) day[m] = (day[m] ?? 0) + product * (part?.expected[0]?.[k] ?? 0);
    }
    const naming = assigned.flatMap((c, m) => ((relations.numberOf[m]?.[c] ?? -1) < 0 ? [] : [m]));
    const order = naming.sort((a, b) => (day[a] ?? 0) - (day[b] ?? 0) || a - b);
    return { assigned, order, score: sum * linksOf(assigned, order, relations) };
  });
}

/** The share of all chains in which a person put on at least one mark. */
export function plainShare(person: string, marks: readonly PreparedMark[], chains: readonly PlainChain[]): number {
  let [held, all] = [0, 0];
  for (const { assigned, score } of chains) {
    all += score;
    if (assigned.some((c, m) => marks[m]?.holders[c]?.person === person)) held += score;
  }
  return held / all;
}

/** One of nine people, three of one surname, on as many days as `longest` at the most, within `size` days. */
export const holderWithin = (size: number, longest: number): fc.Arbitrary<AnyHolder> =>
  fc
    .record({
      id: fc.integer({ min: 1, max: 9 }),
      from: fc.integer({ min: 0, max: size - longest - 1 }),
      length: fc.integer({ min: 1, max: longest }),
      weight: fc.constantFrom(1, 0.1, 0.01, 0.5),
    })
    .map(({ id, from, length, weight }) => ({
      person: `p${id}`,
      surnames: [id < 4 ? 'holt' : `s${id}`],
      from,
      weights: new Array(length).fill(weight),
    }));
