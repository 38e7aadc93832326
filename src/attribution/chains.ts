import type { Assumptions } from '../assumptions.ts';
import { type Density, shortestSpan } from '../dating/density.ts';
import { SHOWN_SHARE } from '../dating/marking.ts';
import type { Day, Span } from '../time/span.ts';
import { type IsKin, type Link, linkBetween } from './chain-links.ts';
import { type ChainMark, overlayTrees, type PreparedMark, prepareMarks } from './chain-marks.ts';
import { relationsOf } from './chain-relations.ts';
import { type Chain, searchChains } from './chain-search.ts';
import { chainTable, placesIn, singleSums } from './chain-table.ts';
import { totalsOf } from './chain-total.ts';
import { jointMaking } from './joint-making.ts';
import { makingNodes } from './making-nodes.ts';
import { fillAhead, type Held, type OverlayTree, tellDays, treeSums } from './overlay-sums.ts';

export type ChainsInput = {
  /** When the object was made, by its features. */
  readonly making: Density;
  readonly marks: readonly ChainMark[];
  readonly isKin: IsKin;
  /** Keys of every surname that a person bore. */
  readonly surnamesOf: (person: string) => readonly string[];
};

/** One mark in a chain: who put it on, when, and what joins them to the holder before. */
export type Holding = {
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
  /** No chain left out is heavier than those given. */
  readonly proved: boolean;
  /** Share of all in chains that were summed together, not one by one. */
  readonly notLookedAt: number;
  /** The marks cannot lie over each other as recorded, by their own dates: their order was left out of account. */
  readonly overlyingContradicted: boolean;
  /** All marks together leave no day of making: the making is then by the features alone. */
  readonly makingContradicted: boolean;
};

/**
 * Which succession of holders explains all marks of an object together. A chain assigns to each mark that names a
 * holder a person, or somebody unrecorded; its weight is the sum over every day of making, of the chance of that day
 * times what each mark weighs with its holder, an overlying mark never earlier than what it lies over; times a factor
 * for each two successive holders who are the same, kin, or of one surname, in the order of the days to be expected.
 */
export function chainsOf(input: ChainsInput, assumptions: Assumptions, wanted = 5): Chains {
  const marks = prepareMarks(input.making, input.marks, input.surnamesOf, assumptions);
  const joint = jointMaking(input.making, marks);
  const relations = relationsOf(marks, input.isKin, assumptions);
  const sums = singleSums(marks);
  const attached = sums.filter((_, place) => !marks[place]?.detached);
  const nodes = makingNodes(input.making.weights, joint.density.weights, attached.flat());

  let trees = overlayTrees(marks);
  let table = chainTable(marks, trees, sums, nodes);
  let search = searchChains(table, marks, relations, wanted);
  const overlyingContradicted = !(search.chains[0] && search.chains[0].score > 0);
  if (overlyingContradicted) {
    trees = overlayTrees(marks.map((mark) => ({ ...mark, over: undefined })));
    table = chainTable(marks, trees, sums, nodes);
    search = searchChains(table, marks, relations, wanted);
  }
  const totals = totalsOf(table, marks, relations, search.chains);
  const best = search.chains.slice(0, wanted).filter(({ score }) => score > 0);
  return {
    making: joint.density,
    chains: marks.some(({ namesHolder }) => namesHolder)
      ? best.map((chain) => ({
          share: chain.score / totals.total,
          holdings: holdingsOf(chain, search.orderOf(chain), input, marks, trees),
        }))
      : [],
    holders: holderShares(marks, relations.numberOf, totals),
    proved: search.proved,
    notLookedAt: totals.notLookedAt,
    overlyingContradicted,
    makingContradicted: joint.excluded,
  };
}

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
  trees: readonly OverlayTree[],
): Holding[] {
  const days = daysInChain(chain, input.making, marks, trees);
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

/**
 * How likely each mark was put on on each day, if a chain is the true one: the days of its own tree, when makings weigh
 * what the features and all other trees make of them.
 */
function daysInChain(
  chain: Chain,
  making: Density,
  marks: readonly PreparedMark[],
  trees: readonly OverlayTree[],
): (Held | undefined)[] {
  const heldBy = (place: number): Held =>
    marks[place]?.holders[chain.assigned[place] as number]?.held ?? { from: 0, weights: new Float64Array(0) };
  const out: (Held | undefined)[] = marks.map(() => undefined);
  const attached = trees.filter(({ place }) => !marks[place]?.detached);
  for (const { place } of trees) if (marks[place]?.detached) out[place] = heldBy(place);

  const size = making.weights.length;
  const sums = attached.map((tree) => treeSums(tree, heldBy));
  const ahead = sums.map((one) => {
    const values = new Float64Array(size);
    fillAhead(values, 0, one);
    return scaledToOne(values);
  });
  // What all trees after each one make of the makings; what those before make of them is carried along.
  const after: Float64Array[] = [new Float64Array(size).fill(1)];
  for (const values of ahead.slice(1).reverse()) after.unshift(product(after[0] as Float64Array, values));
  let before = making.weights;
  for (const [t, one] of sums.entries()) {
    const tell = (place: number, held: Held): void => {
      out[place] = held;
    };
    if (placesIn(one.tree).some((place) => marks[place]?.namesHolder)) {
      tellDays(product(before, after[t] as Float64Array), one, tell, heldBy);
    }
    before = product(before, ahead[t] as Float64Array);
  }
  return out;
}

function product(a: Float64Array, b: Float64Array): Float64Array {
  const out = new Float64Array(a.length);
  for (let i = 0; i < out.length; i += 1) out[i] = (a[i] as number) * (b[i] as number);
  return out;
}

function scaledToOne(values: Float64Array): Float64Array {
  let largest = 0;
  for (let i = 0; i < values.length; i += 1) largest = Math.max(largest, values[i] as number);
  if (largest > 0) for (let i = 0; i < values.length; i += 1) values[i] = (values[i] as number) / largest;
  return values;
}
