import { type DelayLaw, fallenOff } from '../dating/delay.ts';
import { addInto, multiplyInto, roomFor } from '../dating/density.ts';

/** Days with their weights: `weights[0]` belongs to day `from`. Days count from the first day of the horizon. */
export type Weighted = { readonly from: number; readonly weights: Float64Array };

/**
 * The days on which one mark can have been put on by its assigned holder, with w(t) · a(t) · μ(t), and how long after
 * the making such a mark is put on.
 */
export type Held = Weighted & { readonly law: DelayLaw };

/** A mark with the marks that overlie it. `place` is the mark's place among all marks of the object. */
export type OverlayTree = { readonly place: number; readonly overlying: readonly OverlayTree[] };

/**
 * Sums of one rate: together the delays of the marks of a tree fall off by exp(−rate) a day, so that their sum over all
 * days from y on is the sum from y + 1 on, a day's fall-off less, and what lies on y itself.
 */
type RateSum = {
  readonly rate: number;
  /** What lies on each day of the root mark, its overlying marks summed over all days not earlier: times `share`. */
  readonly onDay: Float64Array;
  readonly share: number;
  /**
   * The sum of what lies on each day from a day on, fallen off to that day: for every `STEP`th day, from which the days
   * before it are soon had. All holders of all marks are held at once, and would take a megabyte each.
   */
  readonly aheadOfSteps: Float64Array;
};

type RateDays = Omit<RateSum, 'aheadOfSteps'>;

const STEP = 16;

/** The sums of a tree on the days of its root mark, `from` to `from + length − 1`. */
export type TreeSums = {
  readonly tree: OverlayTree;
  readonly from: number;
  readonly length: number;
  readonly rates: readonly RateSum[];
  readonly overlying: readonly TreeSums[];
};

/** A part of a law as a rate, with the days of the mark under it: the fall-off by the calendar is taken in. */
type RatePart = { readonly rate: number; readonly share: number; readonly weights: Float64Array };

/** A way to choose one part of the law for the root and one rate for each tree above it. */
type Choice = RatePart & { readonly above: readonly RateSum[] };

/** Rates closer than this are one. */
const SAME_RATE = 1e-13;

const partsOf = ({ from, weights, law }: Held): RatePart[] =>
  law.map((part) => ({
    rate: -Math.log(part.perDay),
    share: part.scale,
    weights: fallenOff(weights, from, part),
  }));

function choicesOf(held: Held, overlying: readonly TreeSums[]): Choice[] {
  let choices: Choice[] = partsOf(held).map((part) => ({ ...part, above: [] }));
  for (const { rates } of overlying) {
    choices = choices.flatMap((choice) =>
      rates.map((sum) => ({ ...choice, rate: choice.rate + sum.rate, above: [...choice.above, sum] })),
    );
  }
  return choices;
}

/**
 * Σ over t, not before y, of the weight of the root mark on t, with each overlying mark summed over its own days not
 * before t, every mark under the delay from the making on y that its role has; for all y at once. One backward pass for
 * each rate: products of exponentials are exponentials, so nothing has to be summed twice.
 * @param heldBy the days and weights of each mark of the tree, by the mark's place.
 * @param sumsOf the sums of an overlying tree, where they may be known already.
 */
export function treeSums(
  tree: OverlayTree,
  heldBy: (place: number) => Held,
  sumsOf: (above: OverlayTree) => TreeSums = (above) => treeSums(above, heldBy),
): TreeSums {
  const held = heldBy(tree.place);
  const { from, weights } = held;
  const overlying = tree.overlying.map(sumsOf);
  const parts: RateDays[] =
    overlying.length === 0 ? partsOf(held).map((part) => ({ ...part, onDay: part.weights })) : [];
  for (const choice of overlying.length === 0 ? [] : choicesOf(held, overlying)) {
    let part = parts.find(({ rate }) => Math.abs(rate - choice.rate) < SAME_RATE);
    if (part === undefined) {
      part = { rate: choice.rate, share: 1, onDay: new Float64Array(weights.length) };
      parts.push(part);
    }
    addProduct(part.onDay, choice, overlying, from);
  }
  const steps = Math.ceil(weights.length / STEP);
  const rates = inPairs(parts).flatMap(([a, b]) => {
    const ofA = { ...a, aheadOfSteps: new Float64Array(steps) };
    const ofB = { ...(b ?? { ...a, share: 0 }), aheadOfSteps: new Float64Array(b === undefined ? 0 : steps) };
    fillSteps(ofA, ofB);
    return b === undefined ? [ofA] : [ofA, ofB];
  });
  return { tree, from, length: weights.length, rates, overlying };
}

/** Parts by twos: every day waits for the sum of the day after it, so that a second sum beside the first takes little time. */
const inPairs = <T>(parts: readonly T[]): (readonly [T, T | undefined])[] =>
  parts.flatMap((part, at) => (at % 2 === 0 ? [[part, parts[at + 1]] as const] : []));

function fillSteps(a: RateSum, b: RateSum): void {
  const [perDayA, perDayB] = [Math.exp(-a.rate), Math.exp(-b.rate)];
  const [shareA, shareB] = [a.share, b.share];
  const [onDayA, onDayB] = [a.onDay, b.onDay];
  const [stepsA, stepsB] = [a.aheadOfSteps, b.aheadOfSteps];
  let [sumA, sumB] = [0, 0];
  for (let i = onDayA.length - 1; i >= 0; i -= 1) {
    sumA = sumA * perDayA + shareA * (onDayA[i] as number);
    sumB = sumB * perDayB + shareB * (onDayB[i] as number);
    if (i % STEP !== 0) continue;
    const step = i / STEP;
    stepsA[step] = sumA;
    if (step < stepsB.length) stepsB[step] = sumB;
  }
}

/** The sum from a day of the mark on, its first being 0; there is nothing after its last. */
function aheadOn(day: number, perDay: number, { share, onDay, aheadOfSteps }: RateSum): number {
  if (day >= onDay.length) return 0;
  const step = Math.ceil(day / STEP);
  let sum = aheadOfSteps[step] ?? 0;
  for (let i = Math.min(step * STEP, onDay.length) - 1; i >= day; i -= 1)
    sum = sum * perDay + share * (onDay[i] as number);
  return sum;
}

/** Adds share · weights · what lies ahead in each tree above, day by day. */
function addProduct(
  out: Float64Array,
  { share, weights, above }: Omit<Choice, 'rate'>,
  trees: readonly TreeSums[],
  firstDay: number,
): void {
  const product = weights.slice();
  for (const [k, sum] of above.entries()) multiplyByAhead(product, firstDay, trees[k]?.from ?? 0, sum);
  for (let i = 0; i < out.length; i += 1) out[i] = (out[i] as number) + share * (product[i] as number);
}

/** Multiplies each day by the sum that lies ahead of it. */
function multiplyByAhead(out: Float64Array, firstDay: number, from: number, sum: RateSum): void {
  const ahead = roomFor(out.length);
  writeAhead(ahead, firstDay, from, sum);
  multiplyInto(out, ahead);
}

/** The sum that lies ahead of each day: fallen off before the first day of the sum, nothing after its last. */
function writeAhead(out: Float64Array, firstDay: number, from: number, { rate, share, onDay }: RateSum): void {
  const perDay = Math.exp(-rate);
  const start = Math.min(Math.max(from - firstDay, 0), out.length);
  const end = Math.min(Math.max(from + onDay.length - firstDay, 0), out.length);
  const offset = firstDay - from;
  out.fill(0, end);
  let sum = 0;
  for (let i = onDay.length - 1; i >= Math.max(0, start + offset); i -= 1) {
    sum = sum * perDay + share * (onDay[i] as number);
    if (i - offset < end) out[i - offset] = sum;
  }
  let before = sum * Math.exp(-rate * (from - (firstDay + start - 1)));
  for (let i = start - 1; i >= 0; i -= 1) {
    out[i] = before;
    before *= perDay;
  }
}

/** The sum for a making on day y, which may lie between two days: there the straight line between them is taken. */
export function aheadOf({ from, length, rates }: TreeSums, y: number): number {
  const at = y - from;
  if (at > length - 1) return 0;
  let sum = 0;
  if (at <= 0) {
    for (const { rate, aheadOfSteps } of rates)
      sum += (aheadOfSteps[0] as number) * (at === 0 ? 1 : Math.exp(rate * at));
    return sum;
  }
  const day = Math.floor(at);
  const part = at - day;
  for (const one of rates) {
    const perDay = Math.exp(-one.rate);
    const after = aheadOn(day + 1, perDay, one);
    const on = after * perDay + one.share * (one.onDay[day] as number);
    sum += on * (1 - part) + (part === 0 ? 0 : part * after);
  }
  return sum;
}

/**
 * The days to be expected of one mark, for makings on the given days in their order: the mean of its days not before the
 * making, weighed as `aheadOf` does. One backward pass without room for what is not asked for.
 */
export function expectedOn(held: Held, makings: Float64Array): Float64Array {
  const out = new Float64Array(makings.length);
  const total = new Float64Array(makings.length);
  for (const [a, b] of inPairs(partsOf(held))) addExpected(out, total, makings, held.from, a, b ?? { ...a, share: 0 });
  for (let k = 0; k < out.length; k += 1) out[k] = total[k] === 0 ? 0 : (out[k] as number) / (total[k] as number);
  return out;
}

/** Adds to `total` what two parts weigh for each making, and to `out` the same times the days. */
function addExpected(
  out: Float64Array,
  total: Float64Array,
  makings: Float64Array,
  from: number,
  a: RatePart,
  b: RatePart,
): void {
  const [perDayA, perDayB] = [Math.exp(-a.rate), Math.exp(-b.rate)];
  const [shareA, shareB] = [a.share, b.share];
  const [weightsA, weightsB] = [a.weights, b.weights];
  let [sumA, timesA, sumB, timesB] = [0, 0, 0, 0];
  let i = weightsA.length;
  for (let k = makings.length - 1; k >= 0; k -= 1) {
    const at = (makings[k] as number) - from;
    if (at > weightsA.length - 1) continue;
    const first = Math.max(0, Math.ceil(at));
    while (i > first) {
      i -= 1;
      const valueA = shareA * (weightsA[i] as number);
      const valueB = shareB * (weightsB[i] as number);
      sumA = sumA * perDayA + valueA;
      sumB = sumB * perDayB + valueB;
      timesA = timesA * perDayA + valueA * (from + i);
      timesB = timesB * perDayB + valueB * (from + i);
    }
    // Fallen off from the first day counted to the making.
    const [leftA, leftB] = [Math.exp(-a.rate * (first - at)), Math.exp(-b.rate * (first - at))];
    total[k] = (total[k] as number) + sumA * leftA + sumB * leftB;
    out[k] = (out[k] as number) + timesA * leftA + timesB * leftB;
  }
}

/** The sum for every making from `firstDay` on, written over the whole of `out`. */
export function fillAhead(out: Float64Array, firstDay: number, { from, rates }: TreeSums): void {
  out.fill(0);
  for (const sum of rates) {
    const ahead = roomFor(out.length);
    writeAhead(ahead, firstDay, from, sum);
    addInto(out, ahead);
  }
}

/**
 * How likely each mark of the tree was put on on each of its days, not scaled, when makings have the weights `made`
 * from `firstDay` on. Told to `tell` for the root first, then for the marks above it.
 * The forward counterpart of `treeSums`: what comes from all earlier makings is carried up from mark to mark.
 */
export function tellDays(
  made: Float64Array,
  firstDay: number,
  sums: TreeSums,
  tell: (place: number, days: Weighted) => void,
  heldBy: (place: number) => Held,
): void {
  const arriving = sums.rates.map(({ rate }) => arrivals(made, firstDay, rate, sums.from, sums.length));
  tellTree(sums, arriving, tell, heldBy);
}

function tellTree(
  sums: TreeSums,
  arriving: readonly Float64Array[],
  tell: (place: number, days: Weighted) => void,
  heldBy: (place: number) => Held,
): void {
  const { tree, from, length, rates, overlying } = sums;
  const days = new Float64Array(length);
  for (const [k, { onDay, share }] of rates.entries()) {
    const arrived = arriving[k];
    if (arrived !== undefined) addArrived(days, share, onDay, arrived);
  }
  tell(tree.place, { from, weights: days });
  if (overlying.length === 0) return;

  const choices = choicesOf(heldBy(tree.place), overlying);
  for (const [which, above] of overlying.entries()) {
    const upwards = above.rates.map((sum) => {
      const leaving = new Float64Array(length);
      for (const choice of choices) {
        if (choice.above[which] !== sum) continue;
        const arrived = arriving[rates.findIndex(({ rate }) => Math.abs(rate - choice.rate) < SAME_RATE)];
        if (arrived === undefined) continue;
        const others = choice.above.filter((_, k) => k !== which);
        const otherTrees = overlying.filter((_, k) => k !== which);
        const product = new Float64Array(length);
        addProduct(product, { ...choice, above: others }, otherTrees, from);
        for (let i = 0; i < length; i += 1)
          leaving[i] = (leaving[i] as number) + (product[i] as number) * (arrived[i] as number);
      }
      return arrivals(leaving, from, sum.rate, above.from, above.length);
    });
    tellTree(above, upwards, tell, heldBy);
  }
}

function addArrived(days: Float64Array, share: number, onDay: Float64Array, arrived: Float64Array): void {
  for (let i = 0; i < days.length; i += 1)
    days[i] = (days[i] as number) + share * (onDay[i] as number) * (arrived[i] as number);
}

/** Σ over earlier days, each day included, of `leaving`, fallen off at the rate to each of `length` days from `to` on. */
function arrivals(leaving: Float64Array, firstDay: number, rate: number, to: number, length: number): Float64Array {
  const out = new Float64Array(length);
  const perDay = Math.exp(-rate);
  let sum = 0;
  const [until, last] = [to + length, firstDay + leaving.length];
  for (let day = firstDay; day < Math.min(to, last); day += 1) sum = sum * perDay + (leaving[day - firstDay] as number);
  if (last < to) sum *= perDay ** (to - Math.max(last, firstDay));
  const started = Math.max(to, firstDay);
  for (let day = started; day < Math.min(until, last); day += 1) {
    sum = sum * perDay + (leaving[day - firstDay] as number);
    out[day - to] = sum;
  }
  for (let day = Math.max(started, last); day < until; day += 1) {
    sum *= perDay;
    out[day - to] = sum;
  }
  return out;
}
