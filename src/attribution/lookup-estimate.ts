import type { Density } from '../dating/density.ts';
import type { MarkDays } from './candidate.ts';

/** The chances that a stretch of a life has begun, and that it has ended, by a day. */
export type Stretch = {
  readonly begun: (day: number) => number;
  readonly ended: (day: number) => number;
};

/** A stretch in which somebody bore the rank of the mark; `place`: its order in its succession. */
export type Borne = Stretch & {
  readonly succession: number;
  readonly place: number;
  readonly factor: number;
  /** The factor once a list has shown him in that very post, which was perhaps only implied. */
  readonly factorIfSeen: number;
};

/** A post in which a list can show him. */
export type Listable = Stretch & {
  readonly succession: number;
  readonly place: number;
};

/** A few days that stand for all days of a mark, each with the weight of those around it. */
export type FewDays = {
  readonly day: Float64Array;
  readonly weight: Float64Array;
};

const FEW = 240;

/** Blocks of as many days each; a block stands at the day nearest the mean of its weight. */
export function fewDays({ density, days }: MarkDays): FewDays {
  const length = days.until - days.from;
  const step = Math.max(1, Math.ceil(length / FEW));
  const offset = days.from - density.from;
  const day: number[] = [];
  const weight: number[] = [];
  for (let start = 0; start < length; start += step) {
    let sum = 0;
    let moment = 0;
    for (let i = start; i < Math.min(length, start + step); i += 1) {
      const w = density.weights[offset + i] as number;
      sum += w;
      moment += w * i;
    }
    if (sum === 0) continue;
    day.push(days.from + Math.round(moment / sum));
    weight.push(sum);
  }
  return { day: Float64Array.from(day), weight: Float64Array.from(weight) };
}

/** What the stretches weigh against the days of the mark: Σ factor · P(begun and not ended). */
export const weightOf = (borne: readonly Borne[], few: FewDays): number =>
  borne.reduce((sum, stretch) => sum + stretch.factor * last(sumsOf(stretch, few).within), 0);

/**
 * Sums over the days before each of the few, and over all of them at the end: of their weights times the chance that a
 * stretch has begun, that it has not ended, and both.
 */
type Sums = { readonly begun: Float64Array; readonly open: Float64Array; readonly within: Float64Array };

/** One person is looked up in many editions. */
const known = new WeakMap<Borne, { few: FewDays; sums: Sums }>();

function sumsOf(stretch: Borne, few: FewDays): Sums {
  const found = known.get(stretch);
  if (found?.few === few) return found.sums;
  const { day, weight } = few;
  const size = day.length + 1;
  const sums = { begun: new Float64Array(size), open: new Float64Array(size), within: new Float64Array(size) };
  for (let k = 0; k < day.length; k += 1) {
    const [t, w] = [day[k] as number, weight[k] as number];
    const [begun, open] = [stretch.begun(t), 1 - stretch.ended(t)];
    sums.begun[k + 1] = (sums.begun[k] as number) + w * begun;
    sums.open[k + 1] = (sums.open[k] as number) + w * open;
    sums.within[k + 1] = (sums.within[k] as number) + w * begun * open;
  }
  known.set(stretch, { few, sums });
  return sums;
}

const last = (sums: Float64Array): number => sums[sums.length - 1] as number;

/**
 * The same if a list shows him in a post on one day. Starts and ends are taken as if they did not depend on each other,
 * which holds wherever the post has been seen already; it is for choosing what to work out exactly, no more.
 * 1. The post is the stretch itself: it had begun by that day, and had not ended.
 * 2. The stretch comes before the post: it had ended by then.
 * 3. The stretch comes after the post: it had not begun.
 * 4. The two have nothing to do with each other.
 */
export function weightIfListed(borne: readonly Borne[], listed: Listable, on: number, few: FewDays): number {
  const [before, until] = [placeOf(few.day, on), placeOf(few.day, on + 1)];
  return borne.reduce((sum, stretch) => {
    const { begun, open, within } = sumsOf(stretch, few);
    if (stretch.succession !== listed.succession) return sum + stretch.factor * last(within);
    const [begunThen, openThen] = [stretch.begun(on), 1 - stretch.ended(on)];
    const after = (sums: Float64Array): number => last(sums) - (sums[until] as number);
    if (stretch.place === listed.place)
      return sum + stretch.factorIfSeen * (part(begun[until] as number, begunThen) + part(after(open), openThen));
    // What has ended by a day was open on those before, less what is still open.
    const own =
      stretch.place < listed.place
        ? part((within[before] as number) - openThen * (begun[before] as number), 1 - openThen)
        : part(after(within) - begunThen * after(open), 1 - begunThen);
    return sum + stretch.factor * Math.max(0, own);
  }, 0);
}

const part = (some: number, all: number): number => (all > 0 ? some / all : 0);

/** How many of the days, in their order, lie before one. */
function placeOf(days: Float64Array, day: number): number {
  let [from, until] = [0, days.length];
  while (from < until) {
    const middle = (from + until) >> 1;
    if ((days[middle] as number) < day) from = middle + 1;
    else until = middle;
  }
  return from;
}

/**
 * For every day of `density`: Σ over all days t of its weight · exp(−|t − day| / mean), with a mean in days for those
 * before the day and one for those after it. Two passes, one from each end.
 */
export function nearness({ weights }: Density, meanBefore: number, meanAfter: number): Float64Array {
  let left = Math.exp(-1 / meanBefore);
  const out = new Float64Array(weights.length);
  let sum = 0;
  for (let i = 0; i < weights.length; i += 1) {
    sum = sum * left + (weights[i] as number);
    out[i] = sum;
  }
  sum = 0;
  left = Math.exp(-1 / meanAfter);
  for (let i = weights.length - 1; i >= 0; i -= 1) {
    out[i] = (out[i] as number) + sum;
    sum = (sum + (weights[i] as number)) * left;
  }
  return out;
}
