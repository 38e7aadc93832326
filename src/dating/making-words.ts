import { gregorianDay, toGregorian } from '../time/calendar.ts';
import { phrase } from '../time/phrase.ts';
import { type Day, lastDay, NO_END, NO_START, type Span } from '../time/span.ts';
import { type Density, daysOf, largestOf, shortestSpans, totalOf } from './density.ts';

/** Sides of a making on which nothing but the horizon ends it. */
type OpenSides = { readonly start: boolean; readonly end: boolean };

/** When the object was made, in figures and in words. */
export type MakingInWords = {
  /** The shortest span that holds 95 % of the density. */
  readonly span: Span;
  /** The shortest span that holds half of it. */
  readonly half: Span;
  /** For print. */
  readonly phrase: string;
  /** The whole years that the phrase says, without an end where nothing but the horizon ends it. */
  readonly printed: Span;
};

const SHOWN = 0.95;
const HALF = 0.5;
/**
 * A day that has this part of the height of the likeliest is still about as likely: a density that has not come down to
 * it at the horizon is ended by the horizon alone.
 */
const STILL_HIGH = 0.5;

/**
 * @param ended days on which evidence itself ends the making (the object's own horizon, a date on a mark), so that an
 * end of the density there is a finding.
 */
export function makingInWords(density: Density, ended: readonly Span[]): MakingInWords {
  const horizon = daysOf(density);
  const [span = horizon, half = horizon] = shortestSpans(density, [SHOWN, HALF]);
  const printed = printedYears(overPlateau(span, density), openSides(density, ended));
  return { span, half, phrase: makingPhrase(printed), printed };
}

/**
 * The span made longer as long as the next day is about as likely as the likeliest: of many days all alike the shortest
 * span leaves out some at an end for no reason, and print must not do so.
 */
function overPlateau(span: Span, { from, weights }: Density): Span {
  const high = STILL_HIGH * largestOf(weights);
  let first = span.from - from;
  let last = span.until - from - 1;
  while (first > 0 && (weights[first - 1] as number) >= high) first -= 1;
  while (last < weights.length - 1 && (weights[last + 1] as number) >= high) last += 1;
  return { from: (from + first) as Day, until: (from + last + 1) as Day };
}

function openSides({ from, weights }: Density, ended: readonly Span[]): OpenSides {
  const until = from + weights.length;
  const high = STILL_HIGH * largestOf(weights);
  return {
    start: (weights[0] ?? 0) >= high && !ended.some((span) => span.from === from),
    end: (weights[weights.length - 1] ?? 0) >= high && !ended.some((span) => span.until === until),
  };
}

/**
 * The making as print has it.
 * 1. Nothing ends it on either side: `date not determined`.
 * 2. Only the horizon ends it on one side: that side is open, `after 1845`, `before 1851`.
 * 3. Else whole years that hold the span, because a reckoned day is no finding: `1834–38`, `the 1830s`.
 */
export const makingPhrase = (printed: Span): string =>
  printed.from === NO_START && printed.until === NO_END ? 'date not determined' : phrase(printed);

export function printedYears(span: Span, open: OpenSides): Span {
  const { from, until } = wholeYears(span);
  return { from: open.start ? NO_START : from, until: open.end ? NO_END : until };
}

/** The calendar years that hold a span; it must be closed. */
export const wholeYears = (span: Span): Span => ({
  from: gregorianDay(toGregorian(span.from).year, 1, 1),
  until: gregorianDay(toGregorian(lastDay(span)).year + 1, 1, 1),
});

/** The density by calendar years: the share of each, from the horizon's first year on. */
export function byYear({ from, weights }: Density): { readonly firstYear: number; readonly shares: readonly number[] } {
  const firstYear = toGregorian(from).year;
  const shares: number[] = [];
  let start: number = from;
  for (let year = firstYear; start < from + weights.length; year += 1) {
    const next = Math.min(gregorianDay(year + 1, 1, 1), from + weights.length) as Day;
    shares.push(totalOf(weights.subarray(start - from, next - from)));
    start = next;
  }
  return { firstYear, shares };
}
