import type { Assumptions } from '../assumptions.ts';
import type { Density } from '../dating/density.ts';
import type { CandidateInput } from './candidate.ts';
import type { IsKin } from './chain-links.ts';
import { type ChainMark, overlayTrees, type PreparedMark, prepareMarks } from './chain-marks.ts';
import type { ChainOrder } from './chain-order.ts';
import { type Relations, relationsOf } from './chain-relations.ts';
import { type ChainTable, chainTable, type Part, singleSums } from './chain-table.ts';
import { orderedTotal } from './ordered-total.ts';

/** What the chains are of. */
type Asked = {
  readonly making: Density;
  readonly marks: readonly ChainMark[];
  readonly isKin: IsKin;
  readonly surnamesOf: (person: string) => readonly string[];
};

/** What a succession would rest on without a record. */
export type Otherwise = {
  /** The candidacies of the person for a mark then; undefined where they are what they are. */
  readonly candidaciesFor?: ((mark: string) => readonly CandidateInput[]) | undefined;
  readonly isKin?: IsKin | undefined;
};

/** About as many records as the holders of one succession have. */
const TRIALS = 60;

/**
 * The share of all chains in which a person put on at least one mark, and how it changes when their evidence does: what
 * the others weigh without them stays the same. All in the order of the days to be expected, marks that lie over each
 * other each on its own; so it is how far the share moves that tells, not where it stands.
 */
export function sharesOtherwise(
  input: Asked,
  marks: readonly PreparedMark[],
  table: ChainTable,
  known: Relations,
  order: ChainOrder,
  assumptions: Assumptions,
): (person: string, otherwise: Otherwise) => number {
  // Whoever has other days keeps their place in the order: to find it again costs more than it can change.
  const weightOf = (under: ChainTable, isKin: IsKin): number => {
    const relations = isKin === input.isKin ? known : relationsOf(marks, isKin, assumptions);
    return orderedTotal(under, marks, relations, order, TRIALS);
  };
  /** The same sums with other parts for a person. */
  const withParts = (person: string, partFor: (mark: PreparedMark, own: Part) => Part): ChainTable => ({
    ...table,
    single: table.single.map((parts, place) => {
      const mark = marks[place] as PreparedMark;
      return parts.map((part, c) => (mark.holders[c]?.person === person ? partFor(mark, part) : part));
    }),
  });
  const nothing = (own: Part): Part => ({ ...own, weight: new Float64Array(own.weight.length) });
  const partOtherwise = (mark: ChainMark, candidates: readonly CandidateInput[], place: number, own: Part): Part => {
    if (candidates.length === 0 || mark.holders === undefined) return nothing(own);
    const holders = { ...mark.holders, candidates, unrecorded: undefined };
    const alone: ChainMark = { ...mark, over: undefined, unnamed: undefined, holders };
    const [then] = prepareMarks(input.making, [alone], input.surnamesOf, assumptions);
    const holder = then?.holders.findIndex(({ person }) => person === candidates[0]?.person) ?? -1;
    if (then === undefined || holder < 0) return nothing(own);
    const { single, scale } = chainTable([then], overlayTrees([then]), singleSums([then]), table.nodes);
    const part = single[0]?.[holder] ?? nothing(own);
    const by = (scale[0] as number) / (table.scale[place] as number);
    return { ...part, weight: part.weight.map((weight) => weight * by) };
  };
  const without = new Map<string, number>();
  return (person, { candidaciesFor, isKin = input.isKin }) => {
    const others =
      without.get(person) ??
      weightOf(
        withParts(person, (_, own) => nothing(own)),
        input.isKin,
      );
    without.set(person, others);
    const then =
      candidaciesFor === undefined
        ? table
        : withParts(person, ({ id, place }, own) =>
            partOtherwise(input.marks[place] as ChainMark, candidaciesFor(id), place, own),
          );
    const all = weightOf(then, isKin);
    return all > 0 ? 1 - Math.min(1, others / all) : 0;
  };
}
