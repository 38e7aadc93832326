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
export const weightOf = (borne: readonly Borne[], { day, weight }: FewDays): number =>
  borne.reduce((sum, { factor, begun, ended }) => {
    let own = 0;
    for (let k = 0; k < day.length; k += 1) {
      const t = day[k] as number;
      own += (weight[k] as number) * begun(t) * (1 - ended(t));
    }
    return sum + factor * own;
  }, 0);

/**
 * The same if a list shows him in a post on one day. Starts and ends are taken as if they did not depend on each other,
 * which holds wherever the post has been seen already; it is for choosing what to work out exactly, no more.
 * 1. The post is the stretch itself: it had begun by that day, and had not ended.
 * 2. The stretch comes before the post: it had ended by then.
 * 3. The stretch comes after the post: it had not begun.
 * 4. The two have nothing to do with each other.
 */
export function weightIfListed(
  borne: readonly Borne[],
  listed: Listable,
  on: number,
  { day, weight }: FewDays,
): number {
  return borne.reduce((sum, stretch) => {
    const { begun, ended, succession, place } = stretch;
    const related = succession === listed.succession;
    const factor = related && place === listed.place ? stretch.factorIfSeen : stretch.factor;
    const [begunThen, endedThen] = [begun(on), ended(on)];
    let own = 0;
    for (let k = 0; k < day.length; k += 1) {
      const t = day[k] as number;
      let chance: number;
      if (!related) chance = begun(t) * (1 - ended(t));
      else if (place === listed.place)
        chance = part(begun(Math.min(t, on)), begunThen) * part(1 - ended(Math.max(t, on)), 1 - endedThen);
      else if (place < listed.place) chance = t >= on ? 0 : begun(t) * part(endedThen - ended(t), endedThen);
      else chance = t <= on ? 0 : part(begun(t) - begunThen, 1 - begunThen) * (1 - ended(t));
      own += (weight[k] as number) * Math.max(0, chance);
    }
    return sum + factor * own;
  }, 0);
}

const part = (some: number, all: number): number => (all > 0 ? some / all : 0);

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
