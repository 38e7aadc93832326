import { type Assumptions, DAYS_PER_YEAR } from '../assumptions.ts';
import type { MarkRole } from './mark-roles.ts';

/**
 * A part of a law of delay: a mark put on k days after the making, on day t, weighs scale · perDay^k · fallOff^(t − since).
 * 0 <= perDay, fallOff <= 1; days are counted from the first of the horizon.
 */
export type DelayPart = {
  readonly scale: number;
  readonly perDay: number;
  readonly fallOff: number;
  readonly since: number;
};

/** How long after the making a mark is put on: the parts add up. */
export type DelayLaw = readonly DelayPart[];

/** Every day alike, whenever the object was made. */
export const ANY_DAY: DelayLaw = [{ scale: 1, perDay: 1, fallOff: 1, since: 0 }];

const perDay = (meanYears: number): number => Math.exp(-1 / (meanYears * DAYS_PER_YEAR));

/**
 * How long after the making a mark of one role is put on.
 * 1. Maker, retailer: exponential, mean `delay.trade`.
 * 2. Owner: two exponentials, an owner who had it new and a later one.
 * 3. Every other role: any day from the making on alike, with a fall-off by the calendar, so that a late label does not
 *    draw the making towards itself. What it multiplies does not depend on the making.
 *
 * The law in whole days. A delay of k days, k = 0, 1, 2 …, has the weight exp(−k / mean), and the weights of one
 * exponential are scaled to add up to 1 over all k >= 0: (1 − perDay) · perDay^k. It is the exponential's counterpart
 * in whole days; its mean is half a day short of the exponential's.
 * @param since the first day on which the mark can have been put on, from which a fall-off by the calendar counts.
 */
export function delayLaw(role: MarkRole, { values }: Assumptions, since = 0): DelayLaw {
  const sinceMaking = (share: number, meanYears: number): DelayPart => {
    const left = perDay(meanYears);
    return { scale: share * (1 - left), perDay: left, fallOff: 1, since };
  };
  if (role === 'maker' || role === 'retailer') return [sinceMaking(1, values['delay.trade'])];
  if (role !== 'owner') return [{ scale: 1, perDay: 1, fallOff: perDay(values['delay.later']), since }];
  const soon = values['delay.owner.soon.share'];
  return [sinceMaking(soon, values['delay.owner.soon']), sinceMaking(1 - soon, values['delay.owner.late'])];
}

/** The same law with every weight times `by`. */
export const timesLaw = (law: DelayLaw, by: number): DelayLaw =>
  law.map((part) => ({ ...part, scale: part.scale * by }));

/**
 * Σ over the makings y <= t of made(y) · d(t − y), for every day t: how likely the mark is on each day before anything
 * is known of the mark itself. One pass: an exponential sum over all earlier days is yesterday's, times `perDay`, plus
 * today's.
 */
export function delayed(made: Float64Array, law: DelayLaw): Float64Array {
  const out = new Float64Array(made.length);
  for (const { scale, perDay: left, fallOff, since } of law) {
    let sum = 0;
    let fallen = scale;
    for (let t = 0; t < made.length; t += 1) {
      sum = sum * left + (made[t] as number);
      out[t] = (out[t] as number) + fallen * sum;
      if (t >= since) fallen *= fallOff;
    }
  }
  return out;
}

/** `weights` of the days from `from` on, times the part's fall-off by the calendar. */
export function fallenOff(weights: Float64Array, from: number, { fallOff, since }: DelayPart): Float64Array {
  if (fallOff === 1) return weights;
  const out = new Float64Array(weights.length);
  for (let i = 0, left = fallOff ** (from - since); i < out.length; i += 1, left *= fallOff)
    out[i] = (weights[i] as number) * left;
  return out;
}
