import { multiplyInto, roomFor, totalOf } from '../dating/density.ts';
import type { PreparedMark } from './chain-marks.ts';
import type { ChainOrder, Option } from './chain-order.ts';
import type { Relations } from './chain-relations.ts';
import type { ChainTable, Part } from './chain-table.ts';
import { bitsIn, drawn, type Step, type Summed, type Sums, spread, sumsWithLinks } from './linked-sums.ts';

/** Sums of chains with every mark on its own, whatever it overlies, and with their links in an order known beforehand. */
export type OrderedTotals = {
  /** All chains. */
  readonly everything: number;
  /** By number of holder: share of `everything` in chains with the holder, added up over the marks they may have put on. */
  readonly marked: Float64Array;
  /** For each set of numbers, the share of `everything` in chains with none of those holders. */
  sharesWithout(sets: readonly ((number: number) => boolean)[]): number[];
  /** The same weight for one chain. */
  weightOf(assigned: readonly number[]): number;
  /** Chains drawn by these weights, as holders by place. */
  draw(count: number, random: () => number): number[][];
};

/** With more marks than this, sets of marks get too many: links are then left out of the sums. */
const MOST_MARKS = 12;
/**
 * Multiplications that the sum of everything may take, and those without some holders together; with more to do, nodes
 * are put together. With the fewest nodes the sum of everything is out by less than 3 parts in 1000, and shares in it by
 * less than 2 in 10,000 of everything, on eight marks of twenty holders with 260 to 630 nodes.
 */
const MOST_STEPS = 3e7;
const FEWEST_NODES_FOR_ALL = 96;
const FEWEST_NODES = 24;
/** Multiplications for a set of marks and one more holder. */
const STEPS_A_SET = 6;

/**
 * The weight of all chains, when the order of two marks is taken to depend on their own holders alone. All holders of all
 * marks are gone through in that order, and sums are kept for each set of marks assigned so far and for each last
 * holder, so that links fall between successive holders; forwards, and backwards for what each holder adds.
 * @see Held, M. and Karp, R. M., A dynamic programming approach to sequencing problems, Journal of the Society for
 *   Industrial and Applied Mathematics 10 (1962) 196–210: sums over orders by sets of what is already placed.
 */
export function orderedTotals(
  table: ChainTable,
  marks: readonly PreparedMark[],
  relations: Relations,
  order: ChainOrder,
): OrderedTotals {
  const inNodes = (given: Sums, times: number, fewest: number): Sums =>
    hasLinks(order, relations) ? inFewerNodes(given, times, fewest) : given;
  const sums = inNodes(sumsIn(table, marks, order), 2, FEWEST_NODES_FOR_ALL);
  const summing = summed(sums, order, relations);
  const { everything, withOption } = summing.over(NOBODY, true);
  const marked = new Float64Array(relations.count);
  for (const [o, { number }] of order.options.entries())
    marked[number] = (marked[number] as number) + (everything === 0 ? 0 : (withOption[o] as number) / everything);
  const at = new Map(order.options.map(({ place, holder }, o) => [`${place} ${holder}`, o]));
  return {
    everything,
    marked,
    sharesWithout: (sets) => {
      const rough = inNodes(sums, sets.length, FEWEST_NODES);
      const { over } = rough === sums ? summing : summed(rough, order, relations);
      const all = rough === sums ? everything : over(NOBODY, false).everything;
      return sets.map((leftOut) => (all === 0 ? 0 : over(leftOut, false).everything / all));
    },
    draw: (count, random) =>
      summing.draw(count, random).map((chain) => {
        const assigned: number[] = marks.map(() => 0);
        for (const o of chain) {
          const { place, holder } = order.options[o] as Option;
          assigned[place] = holder;
        }
        return assigned;
      }),
    weightOf: (assigned) => {
      const chosen = marks
        .flatMap(({ namesHolder, place }) => (namesHolder ? [at.get(`${place} ${assigned[place]}`) ?? -1] : []))
        .sort((a, b) => a - b);
      return weightInOrder(chosen, sums, relations, hasLinks(order, relations));
    },
  };
}

/** What one chain weighs, its links in the order of each node. */
function weightInOrder(
  chosen: readonly number[],
  { steps, free, days }: Sums,
  { isNobody, factor, count }: Relations,
  isLinked: boolean,
): number {
  const named = Int32Array.from(chosen.filter((o) => isNobody[(steps[o] as Step).number] === 0));
  const factorOf = (a: number, b: number): number =>
    factor[(steps[a] as Step).number * count + (steps[b] as Step).number] as number;
  const linksNow = (): number => {
    let product = 1;
    for (let i = 1; i < named.length; i += 1) product *= factorOf(named[i - 1] as number, named[i] as number);
    return product;
  };
  const anyLinked = isLinked && named.some((a, i) => named.subarray(i + 1).some((b) => factorOf(a, b) !== 1));
  const product = roomFor(free.length);
  product.set(free);
  for (const o of chosen) multiplyInto(product, (steps[o] as Step).weight);
  if (!anyLinked) return totalOf(product);
  return days === undefined ? totalOf(product) * linksNow() : totalInOrder(product, named, days, linksNow);
}

/** What the nodes weigh together, each times the links of its own order. */
function totalInOrder(
  product: Float64Array,
  options: Int32Array,
  days: readonly Float64Array[],
  linksNow: () => number,
): number {
  let links = linksNow();
  let sum = 0;
  for (let k = 0; k < product.length; k += 1) {
    if (product[k] === 0) continue;
    if (putInOrder(options, days, k)) links = linksNow();
    sum += (product[k] as number) * links;
  }
  return sum;
}

/** Puts options in the order of a node, from that of the one before; whether any has changed its place. */
function putInOrder(options: Int32Array, days: readonly Float64Array[], k: number): boolean {
  let changed = false;
  for (let i = 1; i < options.length; i += 1) {
    const moved = options[i] as number;
    const day = (days[moved] as Float64Array)[k] as number;
    let at = i;
    for (; at > 0; at -= 1) {
      const other = options[at - 1] as number;
      const apart = ((days[other] as Float64Array)[k] as number) - day;
      if (apart < 0 || (apart === 0 && other < moved)) break;
      options[at] = other;
    }
    if (at === i) continue;
    options[at] = moved;
    changed = true;
  }
  return changed;
}

/**
 * What all chains weigh so.
 * @param times how often it will be asked for with other tables: the nodes are then fewer, and the same each time.
 */
export function orderedTotal(
  table: ChainTable,
  marks: readonly PreparedMark[],
  relations: Relations,
  order: ChainOrder,
  times = 1,
): number {
  const whole = sumsIn(table, marks, order);
  const fewest = times === 1 ? FEWEST_NODES_FOR_ALL : FEWEST_NODES;
  const sums = hasLinks(order, relations) ? inFewerNodes(whole, 2 * times, fewest) : whole;
  return summed(sums, order, relations).over(NOBODY, false).everything;
}

function inFewerNodes(sums: Sums, times: number, fewest: number): Sums {
  const aNode = sums.steps.reduce((all, { active }) => all + STEPS_A_SET * 2 ** bitsIn(active), 1);
  return roughly(sums, Math.max(fewest, MOST_STEPS / (aNode * times)));
}

const NOBODY = (): boolean => false;

const hasLinks = (order: ChainOrder, { strangers }: Relations): boolean => !strangers && order.marks <= MOST_MARKS;

const sumsIn = (table: ChainTable, marks: readonly PreparedMark[], order: ChainOrder): Sums => ({
  steps: stepsOf(order, table),
  free: freeWeights(table, marks),
  days: order.isSure || table.trees.length < marks.length ? undefined : daysOf(order, table),
});

const summed = (sums: Sums, order: ChainOrder, relations: Relations): Summed =>
  hasLinks(order, relations) ? sumsWithLinks(sums, order.marks, relations) : sumsWithoutLinks(sums, order.marks);

function stepsOf({ options }: ChainOrder, { single }: ChainTable): Step[] {
  const lastAt = new Map(options.map(({ mark }, i) => [mark, i]));
  let begun = 0;
  return options.map(({ mark, number, place, holder }, i) => {
    const { weight } = (single[place] as readonly Part[])[holder] as Part;
    let done = 0;
    for (const [other, last] of lastAt) if (last < i) done |= 1 << other;
    begun |= 1 << mark;
    return { mark, number, weight, done, active: begun & ~done & ~(1 << mark) };
  });
}

/** The day to be expected of each option on each node, if the object was made then. */
const daysOf = ({ options }: ChainOrder, { single }: ChainTable): Float64Array[] =>
  options.map(({ place, holder }) => {
    const { expected } = (single[place] as readonly Part[])[holder] as Part;
    return expected[0] as Float64Array;
  });

/** The weight of each node with the marks that name no holder. */
function freeWeights({ nodes, single }: ChainTable, marks: readonly PreparedMark[]): Float64Array {
  const free = nodes.weight.slice();
  for (const { place, namesHolder } of marks) {
    const weight = single[place]?.[0]?.weight;
    if (!namesHolder && weight !== undefined) multiplyInto(free, weight);
  }
  return free;
}

/** Few nodes for many: what lies side by side is put together, each function at its mean. */
function roughly(sums: Sums, most: number): Sums {
  const { steps, free, days } = sums;
  const step = Math.ceil(free.length / most);
  if (step <= 1) return sums;
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
  return {
    steps: steps.map((one) => ({ ...one, weight: mean(one.weight) })),
    free: fewer,
    days: days?.map((own, o) => daysOfMost(own, (steps[o] as Step).weight, free, step, size)),
  };
}

/** What all holders of each mark weigh together on each node. */
function sumsOfMarks(steps: readonly Step[], size: number, marks: number): Float64Array[] {
  const ofMark = Array.from({ length: marks }, () => new Float64Array(size));
  for (const { mark, weight } of steps) {
    const sum = ofMark[mark] as Float64Array;
    for (let k = 0; k < size; k += 1) sum[k] = (sum[k] as number) + (weight[k] as number);
  }
  return ofMark;
}

/** Of nodes put together, the day of the one that weighs most among those on which the option weighs anything. */
function daysOfMost(days: Float64Array, weight: Float64Array, free: Float64Array, step: number, size: number) {
  return Float64Array.from({ length: size }, (_, at) => {
    let [most, day] = [-1, 0];
    for (let k = at * step; k < Math.min(free.length, (at + 1) * step); k += 1) {
      if (weight[k] === 0 || (free[k] as number) <= most) continue;
      most = free[k] as number;
      day = days[k] as number;
    }
    return day;
  });
}

/** Every mark with any of its holders: what one has does not depend on what another has, node by node. */
function sumsWithoutLinks({ steps, free }: Sums, marks: number): Summed {
  const over: Summed['over'] = (leftOut) => {
    const used = steps.filter(({ number }) => !leftOut(number));
    const ofMark = sumsOfMarks(used, free.length, marks);
    const others = ofMark.map((_, mark) => {
      const product = free.slice();
      for (const [other, sum] of ofMark.entries()) if (other !== mark) multiplyInto(product, sum);
      return product;
    });
    const product = free.slice();
    for (const sum of ofMark) multiplyInto(product, sum);
    const withOption = Float64Array.from(steps, ({ mark, weight }) => {
      const with_ = weight.slice();
      multiplyInto(with_, others[mark] as Float64Array);
      return totalOf(with_);
    });
    return { everything: totalOf(product), withOption };
  };
  const draw: Summed['draw'] = (many, random) => {
    const ofNode = free.slice();
    for (const sum of sumsOfMarks(steps, free.length, marks)) multiplyInto(ofNode, sum);
    return spread(ofNode, many, random).flatMap((times, k) =>
      Array.from({ length: times }, () =>
        Array.from({ length: marks }, (_, own) =>
          drawn(
            Float64Array.from(steps, ({ mark, weight }) => (mark === own ? (weight[k] as number) : 0)),
            random,
          ),
        ),
      ),
    );
  };
  return { over, draw };
}
