import type { PreparedMark } from './chain-marks.ts';
import type { Relations } from './chain-relations.ts';
import { linksOf } from './chain-search.ts';
import type { ChainTable, Part } from './chain-table.ts';

/** A possible holder of a mark in the order in which all of them are gone through. */
type Option = {
  /** Place of the mark among those that name a holder, as one bit. */
  readonly bit: number;
  readonly number: number;
  /** Its weight on each node. */
  readonly weight: Float64Array;
  /** Marks whose holders all come earlier, and marks of which some come earlier and some later. */
  readonly done: number;
  readonly active: number;
};

/** Sums of chains with every mark on its own, whatever it overlies, and with their links in an order known beforehand. */
export type OrderedTotals = {
  /** All chains. */
  readonly everything: number;
  /** Share of `everything` in chains without the holders of which `leftOut` is true. */
  shareWithout(leftOut: (number: number) => boolean): number;
  /** The same weight for one chain. */
  weightOf(assigned: readonly number[]): number;
};

/** With more marks than this, sets of marks get too many: links are then left out of the sums. */
const MOST_MARKS = 12;
/** Multiplications that the sums without single holders may take together; with more to do, nodes are put together. */
const MOST_STEPS = 6e7;
const FEWEST_NODES = 32;

/**
 * The weight of all chains, when the day of a mark is taken to depend on its own holder alone: the day to be expected if
 * all other marks have any holder. All holders of all marks are gone through in the order of those days, and sums are
 * kept for each set of marks assigned so far and for each last holder, so that links fall between successive holders.
 * @param timesWithout how often `shareWithout` will be asked for.
 * @see Held, M. and Karp, R. M., A dynamic programming approach to sequencing problems, Journal of the Society for
 *   Industrial and Applied Mathematics 10 (1962) 196–210: sums over orders by sets of what is already placed.
 */
export function orderedTotals(
  table: ChainTable,
  marks: readonly PreparedMark[],
  relations: Relations,
  timesWithout: number,
): OrderedTotals {
  const naming = marks.filter(({ namesHolder }) => namesHolder);
  const days = expectedDays(table, marks);
  const free = freeWeights(table, marks);
  const withLinks = !relations.strangers && naming.length <= MOST_MARKS;
  const options = optionsInOrder(table, naming, relations, days);
  const sum = withLinks ? sumWithLinks : sumWithoutLinks;
  const everything = sum(options, free, naming.length, relations, () => false);
  const stepsANode = options.reduce((steps, { active }) => steps + 6 * 2 ** bitsIn(active), 1);
  const rough = withLinks
    ? roughly(options, free, Math.max(FEWEST_NODES, MOST_STEPS / (stepsANode * timesWithout)))
    : { options, free };
  const roughEverything = withLinks
    ? sum(rough.options, rough.free, naming.length, relations, () => false)
    : everything;
  return {
    everything,
    shareWithout: (leftOut) =>
      roughEverything === 0 ? 0 : sum(rough.options, rough.free, naming.length, relations, leftOut) / roughEverything,
    weightOf: (assigned) => {
      const dayOf = (place: number): number => days[place]?.[assigned[place] as number] ?? 0;
      const order = naming.map(({ place }) => place).sort((a, b) => dayOf(a) - dayOf(b) || a - b);
      return alone(table, assigned) * (withLinks ? linksOf(assigned, order, relations) : 1);
    },
  };
}

/** The weight of one chain without links, every mark on its own. */
function alone({ nodes, single }: ChainTable, assigned: readonly number[]): number {
  let sum = 0;
  for (let k = 0; k < nodes.weight.length; k += 1) {
    let product = nodes.weight[k] as number;
    for (let m = 0; m < single.length; m += 1) {
      product *= ((single[m] as readonly Part[])[assigned[m] as number] as Part).weight[k] as number;
    }
    sum += product;
  }
  return sum;
}

/** The weight of each node with the marks that name no holder. */
function freeWeights({ nodes, single }: ChainTable, marks: readonly PreparedMark[]): Float64Array {
  const free = nodes.weight.slice();
  for (const { place, namesHolder } of marks) {
    const weight = single[place]?.[0]?.weight;
    if (!namesHolder && weight !== undefined) multiplyInto(free, weight);
  }
  return free;
}

/** By mark and holder: the day to be expected of the mark, when every other mark may have any of its holders. */
function expectedDays({ nodes, single }: ChainTable, marks: readonly PreparedMark[]): number[][] {
  const size = nodes.weight.length;
  const all = single.map((parts) => {
    const sum = new Float64Array(size);
    for (const { weight } of parts)
      for (let k = 0; k < size; k += 1) sum[k] = (sum[k] as number) + (weight[k] as number);
    return sum;
  });
  return marks.map(({ place }) => {
    const others = nodes.weight.slice();
    for (const [m, sum] of all.entries()) if (m !== place) multiplyInto(others, sum);
    return (single[place] ?? []).map(({ weight, expected: [expected] }) => {
      let [sum, mean] = [0, 0];
      for (let k = 0; k < size; k += 1) {
        const value = (others[k] as number) * (weight[k] as number);
        sum += value;
        mean += value * (expected?.[k] ?? 0);
      }
      return sum === 0 ? 0 : mean / sum;
    });
  });
}

function optionsInOrder(
  { single }: ChainTable,
  naming: readonly PreparedMark[],
  { numberOf }: Relations,
  days: readonly (readonly number[])[],
): Option[] {
  const all = naming.flatMap(({ place }, m) =>
    (single[place] ?? []).map(({ weight }, holder) => ({
      bit: 1 << m,
      place,
      number: numberOf[place]?.[holder] ?? -1,
      weight,
      day: days[place]?.[holder] ?? 0,
    })),
  );
  all.sort((a, b) => a.day - b.day || a.place - b.place);
  const lastAt = new Map(all.map(({ bit }, i) => [bit, i]));
  let begun = 0;
  return all.map(({ bit, number, weight }, i) => {
    let done = 0;
    for (const [other, last] of lastAt) if (last < i) done |= other;
    begun |= bit;
    return { bit, number, weight, done, active: begun & ~done & ~bit };
  });
}

function bitsIn(set: number): number {
  let bits = 0;
  for (let rest = set; rest !== 0; rest &= rest - 1) bits += 1;
  return bits;
}

/** Few nodes for many: what lies side by side is put together, each function at its mean. */
function roughly(
  options: readonly Option[],
  free: Float64Array,
  most: number,
): { options: readonly Option[]; free: Float64Array } {
  const step = Math.ceil(free.length / most);
  if (step <= 1) return { options, free };
  const size = Math.ceil(free.length / step);
  const fewer = new Float64Array(size);
  for (let k = 0; k < free.length; k += 1) {
    const at = Math.floor(k / step);
    fewer[at] = (fewer[at] as number) + (free[k] as number);
  }
  const mean = (weight: Float64Array): Float64Array => {
    const out = new Float64Array(size);
    for (let k = 0; k < free.length; k += 1) {
      const at = Math.floor(k / step);
      const whole = fewer[at] as number;
      if (whole > 0) out[at] = (out[at] as number) + ((weight[k] as number) * (free[k] as number)) / whole;
    }
    return out;
  };
  return { options: options.map((option) => ({ ...option, weight: mean(option.weight) })), free: fewer };
}

/** Every mark with any of its holders: what one has does not depend on what another has, node by node. */
function sumWithoutLinks(
  options: readonly Option[],
  free: Float64Array,
  marks: number,
  _relations: Relations,
  leftOut: (number: number) => boolean,
): number {
  const product = free.slice();
  for (let m = 0; m < marks; m += 1) {
    const sum = new Float64Array(free.length);
    for (const { bit, number, weight } of options) {
      if (bit !== 1 << m || leftOut(number)) continue;
      for (let k = 0; k < sum.length; k += 1) sum[k] = (sum[k] as number) + (weight[k] as number);
    }
    multiplyInto(product, sum);
  }
  let total = 0;
  for (let k = 0; k < product.length; k += 1) total += product[k] as number;
  return total;
}

function sumWithLinks(
  options: readonly Option[],
  free: Float64Array,
  marks: number,
  relations: Relations,
  leftOut: (number: number) => boolean,
): number {
  const { classes, holders, linksOfNumber } = linkTable(relations);
  const { isNobody } = relations;
  const used = options.filter(({ number }) => !leftOut(number));
  const sets = 1 << marks;
  const full = sets - 1;
  // For each set of marks: all chains of them, those with a last holder of each class, those with each last holder.
  const sums = new Float64Array(sets);
  const lastClass = new Float64Array(sets * classes);
  const lastHolder = new Float64Array(sets * holders);
  let total = 0;
  for (let k = 0; k < free.length; k += 1) {
    if (free[k] === 0) continue;
    sums.fill(0);
    lastClass.fill(0);
    lastHolder.fill(0);
    sums[0] = free[k] as number;
    for (const { bit, number, weight, done, active } of used) {
      const value = weight[k] as number;
      if (value === 0) continue;
      const { ownClass, ownHolder, classTo, classMore, holderTo, holderMore } = linksOfNumber[number] as Links;
      // Every subset of the active marks, with all that are done: a set short of one of those can never be filled.
      for (let subset = active; ; subset = (subset - 1) & active) {
        const set = done | subset;
        let sum = sums[set] as number;
        if (sum !== 0) {
          for (let c = 0; c < classTo.length; c += 1) {
            sum += (classMore[c] as number) * (lastClass[set * classes + (classTo[c] as number)] as number);
          }
          for (let h = 0; h < holderTo.length; h += 1) {
            sum += (holderMore[h] as number) * (lastHolder[set * holders + (holderTo[h] as number)] as number);
          }
          const next = set | bit;
          const added = sum * value;
          sums[next] = (sums[next] as number) + added;
          if (isNobody[number] === 1) {
            carry(lastClass, classes, set, next, value);
            carry(lastHolder, holders, set, next, value);
          }
          if (ownClass >= 0)
            lastClass[next * classes + ownClass] = (lastClass[next * classes + ownClass] as number) + added;
          if (ownHolder >= 0)
            lastHolder[next * holders + ownHolder] = (lastHolder[next * holders + ownHolder] as number) + added;
        }
        if (subset === 0) break;
      }
    }
    total += sums[full] as number;
  }
  return total;
}

/** Where a mark names nobody, whoever was the last holder before it still is. */
function carry(sums: Float64Array, size: number, from: number, to: number, by: number): void {
  for (let i = 0; i < size; i += 1)
    sums[to * size + i] = (sums[to * size + i] as number) + (sums[from * size + i] as number) * by;
}

/** What joins a holder to those before: sums kept by class and by holder, with how much more than a stranger each is. */
type Links = {
  /** Where chains that end with this holder are kept, −1 where nobody is joined to them by it. */
  readonly ownClass: number;
  readonly ownHolder: number;
  readonly classTo: Int32Array;
  readonly classMore: Float64Array;
  readonly holderTo: Int32Array;
  readonly holderMore: Float64Array;
};

/**
 * Factors as those of classes, with exceptions of single holders (the same person, kin). Classes and holders that join
 * nobody are not kept: most possible holders have nothing to do with each other.
 */
function linkTable({ count, classOf, factor, numberOf }: Relations): {
  classes: number;
  holders: number;
  linksOfNumber: readonly Links[];
} {
  const marksWith = new Int32Array(count);
  for (const numbers of numberOf)
    for (const number of numbers) if (number >= 0) marksWith[number] = (marksWith[number] as number) + 1;
  const canFollow = (a: number, b: number): boolean => a !== b || (marksWith[a] as number) > 1;
  const allClasses = Math.max(-1, ...classOf) + 1;
  const more = (a: number, b: number): number => (factor[a * count + b] as number) - 1;
  // The factor of two classes is the least of any two of their holders: surname, and nothing nearer.
  const ofClasses = new Float64Array(allClasses * allClasses).fill(Number.POSITIVE_INFINITY);
  const classAt = (a: number, b: number): number => (classOf[a] as number) * allClasses + (classOf[b] as number);
  for (let a = 0; a < count; a += 1) {
    for (let b = 0; b < count; b += 1) {
      if (canFollow(a, b)) ofClasses[classAt(a, b)] = Math.min(ofClasses[classAt(a, b)] as number, more(a, b));
    }
  }
  for (let i = 0; i < ofClasses.length; i += 1) if (ofClasses[i] === Number.POSITIVE_INFINITY) ofClasses[i] = 0;
  const keptClass = numbered(allClasses, (c) =>
    ofClasses.subarray(c * allClasses, (c + 1) * allClasses).some((x) => x !== 0),
  );
  const exceptionsOf = (a: number): number[] => {
    const others: number[] = [];
    for (let b = 0; b < count; b += 1) if (canFollow(a, b) && more(a, b) !== ofClasses[classAt(a, b)]) others.push(b);
    return others;
  };
  const exceptions = Array.from({ length: count }, (_, a) => exceptionsOf(a));
  const keptHolder = numbered(count, (a) => (exceptions[a] ?? []).length > 0);
  const linksOfNumber = exceptions.map((others, a): Links => {
    const own = classOf[a] as number;
    const row = ofClasses.subarray(own * allClasses, (own + 1) * allClasses);
    const classTo = [...row.keys()].filter((c) => row[c] !== 0);
    return {
      ownClass: keptClass.at[own] as number,
      ownHolder: keptHolder.at[a] as number,
      classTo: Int32Array.from(classTo, (c) => keptClass.at[c] as number),
      classMore: Float64Array.from(classTo, (c) => row[c] as number),
      holderTo: Int32Array.from(others, (b) => keptHolder.at[b] as number),
      holderMore: Float64Array.from(others, (b) => more(a, b) - (ofClasses[classAt(a, b)] as number)),
    };
  });
  return { classes: keptClass.count, holders: keptHolder.count, linksOfNumber };
}

/** New numbers, from 0, for those that are kept; −1 for the others. Factors are the same both ways, so rows will do. */
function numbered(count: number, isKept: (old: number) => boolean): { at: Int32Array; count: number } {
  const at = new Int32Array(count).fill(-1);
  let next = 0;
  for (let old = 0; old < count; old += 1) {
    if (!isKept(old)) continue;
    at[old] = next;
    next += 1;
  }
  return { at, count: next };
}

function multiplyInto(product: Float64Array, by: Float64Array): void {
  for (let k = 0; k < product.length; k += 1) product[k] = (product[k] as number) * (by[k] as number);
}
