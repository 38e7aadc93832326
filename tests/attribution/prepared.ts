import { DEFAULTS } from '../../src/assumptions.ts';
import type { IsKin } from '../../src/attribution/chain-links.ts';
import { overlayTrees, type PreparedMark } from '../../src/attribution/chain-marks.ts';
import { type Relations, relationsOf } from '../../src/attribution/chain-relations.ts';
import { type ChainTable, chainTable, singleSums } from '../../src/attribution/chain-table.ts';
import { makingNodes } from '../../src/attribution/making-nodes.ts';
import type { Held } from '../../src/attribution/overlay-sums.ts';
import type { DelayLaw } from '../../src/dating/delay.ts';

export const OWNER: DelayLaw = {
  kind: 'since-making',
  parts: [
    { share: 0.6, perDay: 0.8 },
    { share: 0.4, perDay: 0.97 },
  ],
};
export const ANY_DAY: DelayLaw = { kind: 'by-calendar', perDay: 1 };

export type AnyHolder = {
  readonly person?: string;
  readonly surnames?: readonly string[];
  readonly from: number;
  readonly weights: readonly number[];
};

/** A mark with holders given by their days; the last may be without a person. */
export const prepared = (
  place: number,
  holders: readonly AnyHolder[],
  rest: Partial<PreparedMark> = {},
): PreparedMark => {
  const given = holders.map(({ person, surnames = [], from, weights }) => ({
    person,
    surnames,
    held: { from, weights: Float64Array.from(weights) },
  }));
  const until = Math.max(...given.map(({ held }) => held.from + held.weights.length));
  const anybody: Held = { from: 0, weights: new Float64Array(until) };
  for (const { held } of given) {
    for (const [i, weight] of held.weights.entries())
      anybody.weights[held.from + i] = (anybody.weights[held.from + i] ?? 0) + weight;
  }
  return {
    id: `m${place + 1}`,
    place,
    namesHolder: true,
    law: OWNER,
    detached: false,
    over: undefined,
    holders: given,
    anybody,
    ...rest,
  };
};

export const tableOf = (
  made: readonly number[],
  marks: readonly PreparedMark[],
  isKin: IsKin = () => false,
): { table: ChainTable; relations: Relations } => {
  const sums = singleSums(marks);
  const weights = Float64Array.from(made);
  const nodes = makingNodes(weights, weights, sums.flat());
  return {
    table: chainTable(marks, overlayTrees(marks), sums, nodes),
    relations: relationsOf(marks, isKin, DEFAULTS),
  };
};
