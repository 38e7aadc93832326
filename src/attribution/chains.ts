import type { Assumptions } from '../assumptions.ts';
import { type Density, shortestSpan } from '../dating/density.ts';
import { SHOWN_SHARE } from '../dating/marking.ts';
import type { Day, Span } from '../time/span.ts';
import { daysInChains } from './chain-days.ts';
import { type IsKin, type Link, linkBetween } from './chain-links.ts';
import { type ChainMark, overlayTrees, type PreparedMark } from './chain-marks.ts';
import { type ChainOrder, chainOrder } from './chain-order.ts';
import { type Relations, relationsOf } from './chain-relations.ts';
import { type Chain, searchChains } from './chain-search.ts';
import { type Otherwise, sharesOtherwise } from './chain-standing.ts';
import { type ChainTable, chainTable, singleSums } from './chain-table.ts';
import { totalsOf } from './chain-total.ts';
import { type JointMarks, jointMarks } from './joint-making.ts';
import { likelyDays, makingNodes } from './making-nodes.ts';
import { type OrderedTotals, orderedTotal, orderedTotals } from './ordered-total.ts';
import type { Weighted } from './overlay-sums.ts';

export type ChainsInput = {
  /** When the object was made, by its features. */
  readonly making: Density;
  readonly marks: readonly ChainMark[];
  readonly isKin: IsKin;
  /** Keys of every surname that a person bore. */
  readonly surnamesOf: (person: string) => readonly string[];
  /** Chains are told only if everybody in them is; everybody unless said. */
  readonly isTold?: (person: string) => boolean;
  /** Of holders who stand for several candidates together; undefined for every other. They are taken as strangers. */
  readonly standsFor?: (person: string) => 'strangers' | 'joined' | undefined;
};

/** One mark in a chain: who put it on, when, and what joins them to the holder before. */
type Holding = {
  readonly mark: string;
  /** Undefined for somebody unrecorded. */
  readonly person: string | undefined;
  /** The shortest span that holds 95 % of the days on which the mark was put on, if this is the chain. */
  readonly span: Span;
  /** Undefined for the first. */
  readonly link: Link | undefined;
};

export type Chains = {
  /** When the object was made, by its features and all its marks together. */
  readonly making: Density;
  /** The heaviest chains with their shares of all, holders in the order of their days. */
  readonly chains: readonly { readonly share: number; readonly holdings: readonly Holding[] }[];
  /** The share of all chains in which each put on at least one mark, the greatest first; undefined: somebody unrecorded. */
  readonly holders: readonly { readonly person: string | undefined; readonly share: number }[];
  /** Of each mark that names no holder under some of its roles, the share of all chains in which it names none. */
  readonly noHolder: readonly { readonly mark: string; readonly share: number }[];
  /**
   * Chains with a holder who stands for several: their share of all if such a holder is a stranger to everybody, and if
   * those who may be joined to somebody are each joined on both sides as closely as anybody can be.
   */
  readonly leftOut: { readonly share: number; readonly atMost: number };
  /** No chain left out is heavier than those given. */
  readonly proved: boolean;
  /** Share of all in chains that were summed together, not one by one. */
  readonly notLookedAt: number;
  /** No share is out by more than this by that, 999 times of 1,000, as far as a sample of those chains tells. */
  readonly within: number;
  /** The marks cannot lie over each other as recorded, by their own dates: their order was left out of account. */
  readonly overlyingContradicted: boolean;
  /** All marks together leave no day of making: the making is then by the features alone. */
  readonly makingContradicted: boolean;
  /** About the share of a holder, as it is and if the evidence were otherwise. */
  readonly shareOtherwise: (person: string, otherwise: Otherwise) => number;
};

/**
 * Which succession of holders explains all marks of an object together. A chain assigns to each mark that names a
 * holder a person, or somebody unrecorded; its weight is the sum over every day of making, of the chance of that day
 * times what each mark weighs with its holder, an overlying mark never earlier than what it lies over; times a factor
 * for each two successive holders who are the same, kin, or of one surname, in the order of the days to be expected.
 * @param joint the marks of the input together, where that has been worked out already.
 */
export function chainsOf(
  input: ChainsInput,
  assumptions: Assumptions,
  wanted = 5,
  joint: JointMarks = jointMarks(input.making, input.marks, input.surnamesOf, assumptions),
): Chains {
  const { marks } = joint;
  const relations = relationsOf(marks, input.isKin, assumptions);
  const { first, last } = likelyDays(joint.density.weights);
  const sums = singleSums(marks);
  const attached = sums.filter((_, place) => !marks[place]?.detached);
  const nodes = makingNodes(input.making.weights, joint.density.weights, attached.flat());

  const isTold = (place: number, holder: number): boolean => {
    const person = marks[place]?.holders[holder]?.person;
    return person === undefined || (input.isTold?.(person) ?? true);
  };
  let trees = overlayTrees(marks);
  let table = chainTable(marks, trees, sums, nodes);
  let order = chainOrder(table, marks, relations);
  let ordered = orderedTotals(table, marks, relations, order);
  let search = searchChains(table, marks, relations, order, wanted, ordered.everything, isTold);
  const overlyingContradicted = !(search.chains[0] && search.chains[0].score > 0);
  if (overlyingContradicted) {
    trees = overlayTrees(marks.map((mark) => ({ ...mark, over: undefined })));
    table = chainTable(marks, trees, sums, nodes);
    order = chainOrder(table, marks, relations);
    ordered = orderedTotals(table, marks, relations, order);
    search = searchChains(table, marks, relations, order, wanted, ordered.everything, isTold);
  }
  const totals = totalsOf(table, marks, relations, order, search.chains, ordered);
  const made = { firstDay: first, weights: input.making.weights.subarray(first, last + 1) };
  const daysOf = daysInChains(made, marks, trees);
  const best = search.chains.slice(0, wanted).filter(({ score }) => score > 0);
  return {
    making: joint.density,
    chains: marks.some(({ namesHolder }) => namesHolder)
      ? best.map((chain) => ({
          share: chain.score / totals.total,
          holdings: holdingsOf(chain, search.orderOf(chain), input, marks, daysOf(chain.assigned)),
        }))
      : [],
    holders: holderShares(marks, relations.numberOf, totals),
    noHolder: marks.flatMap(({ id, place, namesHolder, holders }) => {
      const nobody = namesHolder ? holders.findIndex(({ isNobody }) => isNobody) : -1;
      const number = relations.numberOf[place]?.[nobody] ?? -1;
      return number < 0 ? [] : [{ mark: id, share: (totals.withHolder[number] as number) / totals.total }];
    }),
    leftOut: leftOutOf(input, table, marks, relations, order, ordered, assumptions),
    proved: search.proved,
    notLookedAt: totals.notLookedAt,
    within: totals.within,
    overlyingContradicted,
    makingContradicted: joint.excluded,
    shareOtherwise: sharesOtherwise(input, marks, table, relations, order, assumptions),
  };
}

/** Two links at most join a holder to others: to the one before and to the one after. */
const LINKS = 2;

/**
 * How much chains can weigh that have somebody left out. In a chain with n of those who may be joined there are at most
 * 2n links that are not counted, none above the closest; so what it weighs as a chain of strangers, each of these holders
 * taken closest² times, is never too little.
 */
function leftOutOf(
  { standsFor }: ChainsInput,
  table: ChainTable,
  marks: readonly PreparedMark[],
  relations: Relations,
  order: ChainOrder,
  ordered: OrderedTotals,
  { values }: Assumptions,
): Chains['leftOut'] {
  const [left, joined] = [new Set<number>(), new Set<number>()];
  for (const { place, holders } of marks) {
    for (const [c, { person }] of holders.entries()) {
      const whom = person === undefined ? undefined : standsFor?.(person);
      const number = relations.numberOf[place]?.[c] ?? -1;
      if (whom === undefined || number < 0) continue;
      left.add(number);
      if (whom === 'joined') joined.add(number);
    }
  }
  if (left.size === 0) return { share: 0, atMost: 0 };
  const [listed = 0] = ordered.sharesWithout([(number) => left.has(number)]);
  const share = 1 - listed;
  if (joined.size === 0) return { share, atMost: share };
  const closest = Math.max(values['chain.same'], values['chain.kin'], values['chain.surname'], 1);
  const most = orderedTotal(timesHolders(table, relations, joined, closest ** LINKS), marks, relations, order);
  return { share, atMost: 1 - (listed * ordered.everything) / most };
}

/** The same sums with the weights of some holders multiplied. */
const timesHolders = (
  table: ChainTable,
  { numberOf }: Relations,
  holders: ReadonlySet<number>,
  by: number,
): ChainTable => ({
  ...table,
  single: table.single.map((parts, m) =>
    parts.map((part, c) =>
      holders.has(numberOf[m]?.[c] ?? -1) ? { ...part, weight: part.weight.map((weight) => weight * by) } : part,
    ),
  ),
});

function holderShares(
  marks: readonly PreparedMark[],
  numberOf: readonly (readonly number[])[],
  { total, withHolder, withUnrecorded }: ReturnType<typeof totalsOf>,
): Chains['holders'] {
  const shares = new Map<string, number>();
  for (const { place, holders } of marks) {
    for (const [c, { person }] of holders.entries()) {
      const number = numberOf[place]?.[c] ?? -1;
      if (person !== undefined && number >= 0) shares.set(person, (withHolder[number] as number) / total);
    }
  }
  const named = [...shares].map(([person, share]): Chains['holders'][number] => ({ person, share }));
  const all = withUnrecorded > 0 ? [...named, { person: undefined, share: withUnrecorded / total }] : named;
  return all
    .filter(({ share }) => share > 0)
    .sort((a, b) => b.share - a.share || ((a.person ?? '') < (b.person ?? '') ? -1 : 1));
}

function holdingsOf(
  chain: Chain,
  order: readonly number[],
  input: ChainsInput,
  marks: readonly PreparedMark[],
  days: readonly (Weighted | undefined)[],
): Holding[] {
  const holderAt = (place: number) => marks[place]?.holders[chain.assigned[place] as number];
  return order.flatMap((place, i) => {
    const [mark, holder, held] = [marks[place], holderAt(place), days[place]];
    if (mark === undefined || holder === undefined || held === undefined) return [];
    const density: Density = { from: (input.making.from + held.from) as Day, weights: held.weights };
    const before = i === 0 ? undefined : holderAt(order[i - 1] as number);
    const span = shortestSpan(density, SHOWN_SHARE);
    if (span === undefined) return [];
    return [{ mark: mark.id, person: holder.person, span, link: before && linkBetween(before, holder, input.isKin) }];
  });
}
