import { AFTER, BEFORE, type ChainOrder, EITHER, NEVER, type Option } from './chain-order.ts';
import type { Relations } from './chain-relations.ts';
import { linkTable } from './link-table.ts';

/** Days of making put together, one group after another: `groupOf[k]` is the group of node k. */
export type Groups = { readonly count: number; readonly groupOf: Int32Array };

/** How much a beginning of a chain can come to at most when the marks that are left get the best holders there are. */
export type Completions = {
  readonly groups: Groups;
  /** Of each option and group, the most it weighs there against the heaviest holder of its mark, 0 to 1; 0: not to be listed. */
  readonly part: Float64Array;
  /**
   * The most that a beginning can come to with the marks left, each weighing its part in its group, with links.
   * @param set the marks that have a holder, each as one bit.
   * @param left the others, that of `option` may be among them.
   * @param last the option assigned last, −1 while no mark has a holder.
   * @param reach what a chain comes to in each group if every mark left had its heaviest holder and nobody were joined.
   * @param option one assigned besides, which is not in `reach` yet; −1 for none.
   */
  atMost(set: number, left: readonly number[], last: number, reach: Float64Array, option?: number): number;
  /** The same for an option assigned besides, never less and soon had: of `reach` the sums that `roughly` gives. */
  roughlyAtMost(set: number, option: number, rough: Float64Array): number;
  /** Writes what is reached in each few groups together. */
  roughly(reach: Float64Array, out: Float64Array): void;
};

/** Groups that are taken together where most ways to go on come to too little by far. */
const FEW_GROUPS = 4;
export const roughCount = ({ count }: Groups): number => Math.ceil(count / FEW_GROUPS);

/** So many bounds are kept, 16 MB, if every node of making is to be a group by itself: alike chains are then known as alike. */
const MOST_BOUNDS = 2e6;
/** So many if nodes are put together anyhow: with more, fewer ways are tried in vain, but that saves less than they cost. */
const MOST_ROUGH_BOUNDS = 5e5;
/** Sets of marks are numbered bit by bit. */
const MOST_MARKS = 20;

/**
 * Bounds for every set of marks that can be a beginning and for each holder assigned last: the best way to go on, worked
 * out from the end. Whoever may follow the last holder follows, whatever stood before; each group of makings chooses by
 * itself; so the bound is never too small. Where that would be too many, the marks left are taken one by one, each
 * joined as well as it can be to anybody.
 * @param heaviest of each mark, what its heaviest holder weighs on each node.
 * @see Held, M. and Karp, R. M., A dynamic programming approach to sequencing problems, Journal of the Society for
 *   Industrial and Applied Mathematics 10 (1962) 196–210.
 */
export function completionsOf(
  order: ChainOrder,
  relations: Relations,
  heaviest: readonly Float64Array[],
  isListed: (option: number) => boolean,
): Completions {
  const size = order.options[0]?.weight.length ?? 0;
  const sets = order.marks <= MOST_MARKS ? beginnings(order) : undefined;
  const states = (sets?.list.length ?? Number.POSITIVE_INFINITY) * (order.options.length + 1);
  const count = Math.max(1, size * states <= MOST_BOUNDS ? size : Math.floor(MOST_ROUGH_BOUNDS / states));
  const groups = {
    count,
    groupOf: Int32Array.from({ length: size }, (_, k) => Math.floor((k * count) / size)),
  };
  const part = partsOf(order.options, heaviest, groups, isListed);
  const roughly: Completions['roughly'] = (reach, out) => {
    out.fill(0);
    for (let g = 0; g < count; g += 1) {
      const at = Math.floor(g / FEW_GROUPS);
      out[at] = (out[at] as number) + (reach[g] as number);
    }
  };
  return sets === undefined || states > MOST_BOUNDS
    ? { groups, part, roughly, ...oneByOne(order, relations, count, part) }
    : { groups, part, roughly, ...bySets(order, relations, groups, part, sets) };
}

type Ways = Pick<Completions, 'atMost' | 'roughlyAtMost'>;

function partsOf(
  options: readonly Option[],
  heaviest: readonly Float64Array[],
  { count, groupOf }: Groups,
  isListed: (option: number) => boolean,
): Float64Array {
  const part = new Float64Array(options.length * count);
  for (const [o, { mark, weight }] of options.entries()) {
    if (!isListed(o)) continue;
    const most = heaviest[mark] as Float64Array;
    for (let k = 0; k < weight.length; k += 1) {
      if (most[k] === 0) continue;
      const at = o * count + (groupOf[k] as number);
      part[at] = Math.max(part[at] as number, (weight[k] as number) / (most[k] as number));
    }
  }
  return part;
}

type Sets = { readonly list: readonly number[]; readonly at: Int32Array };

/** Sets of marks that hold, with each mark, every other of which each holder is certainly earlier. */
function beginnings({ options, relation, marks }: ChainOrder): Sets {
  const count = options.length;
  const needs = new Int32Array(marks).fill((1 << marks) - 1);
  for (const [a, { mark }] of options.entries()) {
    let earlier = (1 << marks) - 1;
    for (const [b, other] of options.entries()) {
      const found = relation[a * count + b];
      if (other.mark === mark || (found !== AFTER && found !== NEVER)) earlier &= ~(1 << other.mark);
    }
    needs[mark] = (needs[mark] as number) & earlier;
  }
  const list: number[] = [];
  const at = new Int32Array(1 << marks).fill(-1);
  for (let set = 0; set < 1 << marks; set += 1) {
    let whole = true;
    for (let m = 0; m < marks && whole; m += 1) whole = (set & (1 << m)) === 0 || ((needs[m] as number) & ~set) === 0;
    if (!whole) continue;
    at[set] = list.length;
    list.push(set);
  }
  return { list, at };
}

/** Whom a holder may be followed by: those from `from` on in a list of options, and how much nearer than strangers. */
type Followers = { readonly list: number; readonly from: number; readonly factor: number };

function bySets(
  { options, relation, marks }: ChainOrder,
  relations: Relations,
  { count: groups }: Groups,
  part: Float64Array,
  { list: sets, at }: Sets,
): Ways {
  const count = options.length;
  const { classes, linksOfNumber } = linkTable(relations);
  const mayFollow = (a: number, b: number): boolean =>
    options[a]?.mark !== options[b]?.mark &&
    options[b]?.isNobody === false &&
    (relation[a * count + b] === EITHER || relation[a * count + b] === BEFORE);
  // The first list has everybody with a name, the others those of one class each.
  const lists: number[][] = Array.from({ length: classes + 1 }, () => []);
  for (const [o, { number, isNobody }] of options.entries()) {
    if (isNobody) continue;
    lists[0]?.push(o);
    const own = linksOfNumber[number]?.ownClass ?? -1;
    if (own >= 0) lists[own + 1]?.push(o);
  }
  const followersIn = (a: number, list: number, factor: number): Followers[] => {
    const from = (lists[list] ?? []).findIndex((b) => mayFollow(a, b));
    return from < 0 ? [] : [{ list, from, factor }];
  };
  const optionsOfNumber = new Map<number, number[]>();
  for (const [o, { number }] of options.entries())
    optionsOfNumber.set(number, [...(optionsOfNumber.get(number) ?? []), o]);
  const nearer = options.map(({ number }, a) => {
    const links = linksOfNumber[number];
    const ofClasses = Array.from(links?.classTo ?? [], (c, i) =>
      followersIn(a, c + 1, 1 + (links?.classMore[i] as number)),
    );
    const single = (links?.others ?? []).flatMap((other) =>
      (optionsOfNumber.get(other) ?? [])
        .filter((b) => mayFollow(a, b))
        .map((b) => ({ option: b, factor: relations.factor[number * relations.count + other] as number })),
    );
    return { lists: [...followersIn(a, 0, 1), ...ofClasses.flat()], single };
  });

  const stride = (count + 1) * groups;
  const bounds = new Float64Array(sets.length * stride);
  const full = (1 << marks) - 1;
  bounds.fill(1, (at[full] as number) * stride, ((at[full] as number) + 1) * stride);
  const going = new Float64Array(count * groups);
  const best = lists.map((list) => new Float64Array((list.length + 1) * groups));
  for (let s = sets.length - 1; s >= 0; s -= 1) {
    const set = sets[s] as number;
    if (set === full) continue;
    const own = s * stride;
    const none = own + count * groups;
    for (const [o, { mark, isNobody }] of options.entries()) {
      const next = (set & (1 << mark)) === 0 ? (at[set | (1 << mark)] as number) : -1;
      const from = next * stride + (isNobody ? count : o) * groups;
      writeProduct(going, o * groups, part, bounds, next < 0 ? -1 : from, groups);
      // Nobody has been named yet: whoever is first, or one more mark that names nobody.
      if (next >= 0) raise(bounds, none, going, o * groups, 1, groups);
    }
    for (const [l, list] of lists.entries()) {
      const most = best[l] as Float64Array;
      for (let i = list.length - 1; i >= 0; i -= 1) {
        most.copyWithin(i * groups, (i + 1) * groups, (i + 2) * groups);
        raise(most, i * groups, going, (list[i] as number) * groups, 1, groups);
      }
    }
    for (const [o, { mark, isNobody }] of options.entries()) {
      if (isNobody || (set & (1 << mark)) === 0) continue;
      const to = own + o * groups;
      const { lists: followed, single } = nearer[o] as (typeof nearer)[number];
      for (const { list, from, factor } of followed) {
        raise(bounds, to, best[list] as Float64Array, from * groups, factor, groups);
      }
      for (const { option, factor } of single) {
        raise(bounds, to, going, option * groups, factor, groups);
      }
    }
  }
  const rough = roughBounds(bounds, options, part, at, groups);
  const few = Math.ceil(groups / FEW_GROUPS);
  return {
    roughlyAtMost: (set, option, reached) => {
      const from = ((at[set] as number) * count + option) * few;
      let sum = 0;
      if (from >= 0) for (let g = 0; g < few; g += 1) sum += (reached[g] as number) * (rough[from + g] as number);
      return sum;
    },
    atMost: (set, _left, last, reach, option = -1) => {
      const s = at[set] as number;
      if (s < 0) return 0;
      const from = s * stride + (last < 0 ? count : last) * groups;
      const own = option * groups;
      let sum = 0;
      if (option < 0) for (let g = 0; g < groups; g += 1) sum += (reach[g] as number) * (bounds[from + g] as number);
      else
        for (let g = 0; g < groups; g += 1)
          sum += (reach[g] as number) * (part[own + g] as number) * (bounds[from + g] as number);
      return sum;
    },
  };
}

/** Raises so many places, from `to` on, to those of `values` from `from` on times a factor, where these are greater. */
function raise(
  out: Float64Array,
  to: number,
  values: Float64Array,
  from: number,
  factor: number,
  groups: number,
): void {
  for (let g = 0; g < groups; g += 1) {
    const value = factor * (values[from + g] as number);
    if (value > (out[to + g] as number)) out[to + g] = value;
  }
}

/** Writes an option's part in each group times the bound beyond it; nothing where there is none (−1). */
function writeProduct(
  out: Float64Array,
  at: number,
  part: Float64Array,
  bounds: Float64Array,
  from: number,
  groups: number,
): void {
  if (from < 0) out.fill(0, at, at + groups);
  else for (let g = 0; g < groups; g += 1) out[at + g] = (part[at + g] as number) * (bounds[from + g] as number);
}

/** Of each set and each option of it assigned last, the most of its part times the bound in each few groups. */
function roughBounds(
  bounds: Float64Array,
  options: readonly Option[],
  part: Float64Array,
  at: Int32Array,
  groups: number,
): Float64Array {
  const count = options.length;
  const few = Math.ceil(groups / FEW_GROUPS);
  const out = new Float64Array((bounds.length / ((count + 1) * groups)) * count * few);
  for (let set = 0; set < at.length; set += 1) {
    const s = at[set] as number;
    if (s < 0) continue;
    for (const [o, { mark, isNobody }] of options.entries()) {
      if ((set & (1 << mark)) === 0) continue;
      const from = (s * (count + 1) + (isNobody ? count : o)) * groups;
      for (let g = 0; g < groups; g += 1) {
        const to = (s * count + o) * few + Math.floor(g / FEW_GROUPS);
        out[to] = Math.max(out[to] as number, (part[o * groups + g] as number) * (bounds[from + g] as number));
      }
    }
  }
  return out;
}

/** Each mark left with the best of its holders, as if joined to whoever they can be joined to best. */
function oneByOne(
  { options, marks }: ChainOrder,
  { factor, count }: Relations,
  groups: number,
  part: Float64Array,
): Ways {
  const best = Array.from({ length: marks }, () => new Float64Array(groups));
  for (const [o, { mark, number, isNobody }] of options.entries()) {
    const most = best[mark] as Float64Array;
    let joined = 1;
    for (const other of isNobody ? [] : options)
      if (other.mark !== mark) joined = Math.max(joined, factor[number * count + other.number] as number);
    for (let g = 0; g < groups; g += 1)
      most[g] = Math.max(most[g] as number, joined * (part[o * groups + g] as number));
  }
  return {
    roughlyAtMost: () => Number.POSITIVE_INFINITY,
    atMost: (_set, left, _last, reach, option = -1) => {
      const taken = options[option]?.mark;
      let sum = 0;
      for (let g = 0; g < groups; g += 1) {
        const own = option < 0 ? 1 : (part[option * groups + g] as number);
        let value = own * (reach[g] as number);
        for (const mark of left) if (mark !== taken) value *= (best[mark] as Float64Array)[g] as number;
        sum += value;
      }
      return sum;
    },
  };
}
