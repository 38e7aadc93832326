import { DEFAULTS } from '../../src/assumptions.ts';
import type { IsKin } from '../../src/attribution/chain-links.ts';
import { overlayTrees, type PreparedMark } from '../../src/attribution/chain-marks.ts';
import { type ChainOrder, chainOrder } from '../../src/attribution/chain-order.ts';
import { type Relations, relationsOf } from '../../src/attribution/chain-relations.ts';
import { type ChainTable, chainTable, singleSums } from '../../src/attribution/chain-table.ts';
import { makingNodes } from '../../src/attribution/making-nodes.ts';
import type { Held } from '../../src/attribution/overlay-sums.ts';
import type { DelayLaw } from '../../src/dating/delay.ts';

/** Exponential parts by their shares, each adding up to its share over all delays. */
export const sinceMaking = (...parts: readonly (readonly [share: number, perDay: number])[]): DelayLaw =>
  parts.map(([share, perDay]) => ({ scale: share * (1 - perDay), perDay, fallOff: 1, since: 0 }));
export const byCalendar = (fallOff: number): DelayLaw => [{ scale: 1, perDay: 1, fallOff, since: 0 }];

export const OWNER = sinceMaking([0.6, 0.8], [0.4, 0.97]);

export type AnyHolder = {
  readonly person?: string;
  readonly surnames?: readonly string[];
  readonly from: number;
  readonly weights: readonly number[];
  readonly isNobody?: true;
  /** Of the mark, unless said. */
  readonly law?: DelayLaw;
};

/** A mark with holders given by their days; the last may be without a person, or nobody. */
export const prepared = (
  place: number,
  holders: readonly AnyHolder[],
  { law: ofMark = OWNER, ...rest }: Partial<PreparedMark> & { readonly law?: DelayLaw } = {},
): PreparedMark => {
  const given = holders.map(({ person, surnames = [], from, weights, isNobody = false, law = ofMark }) => ({
    person,
    surnames,
    isNobody,
    held: { from, weights: Float64Array.from(weights), law },
  }));
  const anybody: Held[] = given.map(({ held }) => held);
  return {
    id: `m${place + 1}`,
    place,
    namesHolder: true,
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
): { table: ChainTable; relations: Relations; order: ChainOrder } => {
  const sums = singleSums(marks);
  const weights = Float64Array.from(made);
  const nodes = makingNodes(weights, weights, sums.flat());
  const table = chainTable(marks, overlayTrees(marks), sums, nodes);
  const relations = relationsOf(marks, isKin, DEFAULTS);
  return { table, relations, order: chainOrder(table, marks, relations) };
};
