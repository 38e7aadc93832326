import { type Assumptions, DAYS_PER_YEAR } from '../assumptions.ts';

/** What a mark is on the object for. */
export type MarkRole = 'maker' | 'retailer' | 'owner' | 'depository' | 'carrier' | 'sale' | 'other';

/** One exponential part of a law of delay: its share of all, and what one more day leaves of it, 0 <= perDay < 1. */
type DelayPart = { readonly share: number; readonly perDay: number };

/**
 * How long after the making a mark of one role is put on.
 * 1. Maker, retailer: exponential, mean `delay.trade`.
 * 2. Owner: two exponentials, an owner who had it new and a later one.
 * 3. Every other role: any day from the making on alike, with a fall-off by the calendar, so that a late label does not
 *    draw the making towards itself. Its `perDay` is that fall-off; what it multiplies does not depend on the making.
 */
export type DelayLaw =
  | { readonly kind: 'since-making'; readonly parts: readonly DelayPart[] }
  | { readonly kind: 'by-calendar'; readonly perDay: number };

const perDay = (meanYears: number): number => Math.exp(-1 / (meanYears * DAYS_PER_YEAR));

/**
 * The law in whole days. A delay of k days, k = 0, 1, 2 …, has the weight exp(−k / mean), and the weights of one
 * exponential are scaled to add up to 1 over all k >= 0: (1 − perDay) · perDay^k. It is the exponential's counterpart
 * in whole days; its mean is half a day short of the exponential's.
 */
export function delayLaw(role: MarkRole, { values }: Assumptions): DelayLaw {
  if (role === 'maker' || role === 'retailer') {
    return { kind: 'since-making', parts: [{ share: 1, perDay: perDay(values['delay.trade']) }] };
  }
  if (role !== 'owner') return { kind: 'by-calendar', perDay: perDay(values['delay.later']) };
  const soon = values['delay.owner.soon.share'];
  return {
    kind: 'since-making',
    parts: [
      { share: soon, perDay: perDay(values['delay.owner.soon']) },
      { share: 1 - soon, perDay: perDay(values['delay.owner.late']) },
    ],
  };
}

/**
 * Σ over the makings y <= t of made(y) · d(t − y), for every day t: how likely the mark is on each day before anything
 * is known of the mark itself. One pass: an exponential sum over all earlier days is yesterday's, times `perDay`, plus
 * today's. By the calendar the fall-off counts from the first day of the array.
 */
export function delayed(made: Float64Array, law: DelayLaw): Float64Array {
  const out = new Float64Array(made.length);
  if (law.kind === 'by-calendar') {
    let before = 0;
    let fallOff = 1;
    for (let t = 0; t < made.length; t += 1) {
      before += made[t] as number;
      out[t] = before * fallOff;
      fallOff *= law.perDay;
    }
    return out;
  }
  for (const { share, perDay: left } of law.parts) {
    const scale = share * (1 - left);
    let sum = 0;
    for (let t = 0; t < made.length; t += 1) {
      sum = sum * left + (made[t] as number);
      out[t] = (out[t] as number) + scale * sum;
    }
  }
  return out;
}
