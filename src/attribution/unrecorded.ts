import { type Assumptions, DAYS_PER_YEAR, forRank } from '../assumptions.ts';
import { scaleBy, sumOfProducts } from '../dating/density.ts';
import type { Span } from '../time/span.ts';
import { likelihood } from './agreement.ts';
import type { MarkDays } from './candidate.ts';

/** Every bearer of a surname was taken down from an edition; `midDay` is the middle of what the edition stands as at. */
export type Sweep = { readonly surname: string; readonly midDay: number };

/** What a mark asks of somebody who is not in the ledger. */
export type UnrecordedInput = {
  /** Id of the rank on the mark, as assumptions name it; undefined without a rank. */
  readonly rank: string | undefined;
  /** The surname as it was read; undefined where the mark gives none. `seenLetters` counts an unsure letter half. */
  readonly surname: { readonly damaged: boolean; readonly seenLetters: number } | undefined;
  /** Bits of a person all of whose other parts are unknown, against this mark. */
  readonly unknownBits: number;
  /** Sweeps of surnames that the reading fits exactly; others do not bear on it. */
  readonly sweeps: readonly Sweep[];
  /** Of a mark with several readings, each of them: λ is the mean of theirs. The fields above are those of the first. */
  readonly readings?: readonly ReadingInput[];
};

/** What one of several readings asks; of the sweeps only those of a surname that it fits exactly bear on it. */
export type ReadingInput = Pick<UnrecordedInput, 'rank' | 'surname' | 'unknownBits'> & {
  readonly share: number;
  readonly fits: (surname: string) => boolean;
};

/** What each reading asks, with its share. */
const eachReading = ({ readings, sweeps, ...only }: UnrecordedInput): { share: number; asked: UnrecordedInput }[] =>
  readings === undefined
    ? [{ share: 1, asked: { ...only, sweeps } }]
    : readings.map(({ share, fits, ...asked }) => ({
        share,
        asked: { ...asked, sweeps: sweeps.filter(({ surname }) => fits(surname)) },
      }));

/**
 * Share of all people whose surname fits a reading of which one letter is left, and what each further letter leaves of
 * it; judgement. Half a letter counts for an unsure one.
 */
const FITTING_ONE_LETTER = 0.07;
const LEFT_BY_A_LETTER = 0.2;

/** The share of people whose surname fits the reading: that of one surname, or more where the reading is damaged. */
export function nameFrequency(surname: UnrecordedInput['surname'], { values }: Pick<Assumptions, 'values'>): number {
  if (surname === undefined) return 1;
  if (!surname.damaged) return values['name.frequency'];
  const pattern = FITTING_ONE_LETTER * LEFT_BY_A_LETTER ** (surname.seenLetters - 1);
  return Math.min(1, Math.max(values['name.frequency'], pattern));
}

/** λ₀: how many equally fitting people in post on one day are expected not to be in the ledger, before any sweep. */
export const expectedUnswept = (mark: UnrecordedInput, assumptions: Assumptions): number =>
  eachReading(mark).reduce((sum, { share, asked }) => sum + share * unsweptOfOne(asked, assumptions), 0);

function unsweptOfOne(mark: UnrecordedInput, assumptions: Assumptions): number {
  const inPost =
    mark.rank === undefined ? assumptions.values['in-post.any'] : forRank(assumptions, 'in-post', mark.rank);
  return inPost * nameFrequency(mark.surname, assumptions) * likelihood(mark.unknownBits);
}

/**
 * λ(t) on every day of `days`: how many equally fitting people in post are expected not to be in the ledger. A sweep of
 * a surname lowers that surname's part of it to (1 − cov) + ε · cov, ε being what a sweep misses and
 * cov(t) = 1 − Π over the nearest sweep on each side of (1 − exp(−distance / service)): whoever was in post then stood,
 * as likely as not, in the list that was swept. The part is all of λ where the reading is undamaged, else the surname's
 * frequency over that of all surnames that fit.
 */
export function unrecordedOn(days: Span, mark: UnrecordedInput, assumptions: Assumptions): Float64Array {
  if (mark.readings === undefined) return unrecordedOfOne(days, mark, assumptions);
  const sum = new Float64Array(days.until - days.from);
  for (const { share, asked } of eachReading(mark)) {
    const one = unrecordedOfOne(days, asked, assumptions);
    for (let i = 0; i < sum.length; i += 1) sum[i] = (sum[i] as number) + share * (one[i] as number);
  }
  return sum;
}

function unrecordedOfOne(days: Span, mark: UnrecordedInput, assumptions: Assumptions): Float64Array {
  const unswept = unsweptOfOne(mark, assumptions);
  const out = new Float64Array(days.until - days.from).fill(1);
  const bySurname = new Map<string, number[]>();
  for (const { surname, midDay } of mark.sweeps) {
    const known = bySurname.get(surname);
    if (known === undefined) bySurname.set(surname, [midDay]);
    else known.push(midDay);
  }
  const part = partOfOneSurname(mark, bySurname.size, assumptions);
  const found = part * (1 - assumptions.values['sweep.missed']);
  for (const midDays of bySurname.values()) lowerBySweeps(out, days.from, midDays, found, assumptions);
  scaleBy(out, unswept);
  return out;
}

/** One surname's part of λ, never more than an equal part of the whole for each surname swept. */
function partOfOneSurname(mark: UnrecordedInput, surnames: number, assumptions: Pick<Assumptions, 'values'>): number {
  const frequency = nameFrequency(mark.surname, assumptions);
  const part = mark.surname?.damaged === false ? 1 : assumptions.values['name.frequency'] / frequency;
  return Math.min(part, 1 / Math.max(1, surnames));
}

/** Takes `found · cov(t)` off every day. */
function lowerBySweeps(
  out: Float64Array,
  firstDay: number,
  midDays: readonly number[],
  found: number,
  { values }: Pick<Assumptions, 'values'>,
): void {
  const meanDays = values['service.mean'] * DAYS_PER_YEAR;
  const sweeps = [...midDays].sort((a, b) => a - b);
  for (let k = -1; k < sweeps.length; k += 1) {
    const before = sweeps[k] ?? Number.NEGATIVE_INFINITY;
    const after = sweeps[k + 1] ?? Number.POSITIVE_INFINITY;
    // Days from this sweep up to the next; a day that is itself a sweep's is wholly covered by either.
    const start = Math.max(0, Math.ceil(before) - firstDay);
    const end = Math.min(out.length, Math.ceil(after) - firstDay);
    for (let i = start; i < end; i += 1) {
      out[i] = (out[i] as number) - found * covered(firstDay + i, before, after, meanDays);
    }
  }
}

/** cov(t): the chance that somebody in post on the day is found by the sweep before or after it. */
const covered = (day: number, before: number, after: number, meanDays: number): number =>
  1 - (1 - Math.exp((before - day) / meanDays)) * (1 - Math.exp((day - after) / meanDays));

/** One surname's part of λ on one day: how many bearers of it, equally fitting, a sweep of that day can still find. */
export function expectedOfSurname(
  day: number,
  surname: string,
  mark: UnrecordedInput,
  assumptions: Assumptions,
): number {
  if (mark.readings !== undefined) {
    const fitting = mark.readings.map(({ fits }) => fits(surname));
    return eachReading(mark).reduce(
      (sum, { share, asked }, place) =>
        fitting[place] ? sum + share * expectedOfSurname(day, surname, asked, assumptions) : sum,
      0,
    );
  }
  const { values } = assumptions;
  const swept = mark.sweeps.filter((sweep) => sweep.surname === surname).map(({ midDay }) => midDay);
  const surnames = new Set([surname, ...mark.sweeps.map((sweep) => sweep.surname)]).size;
  const before = Math.max(Number.NEGATIVE_INFINITY, ...swept.filter((midDay) => midDay <= day));
  const after = Math.min(Number.POSITIVE_INFINITY, ...swept.filter((midDay) => midDay > day));
  const found = (1 - values['sweep.missed']) * covered(day, before, after, values['service.mean'] * DAYS_PER_YEAR);
  return expectedUnswept(mark, assumptions) * partOfOneSurname(mark, surnames, assumptions) * (1 - found);
}

/** T₀ = Σ over the days of f(t) · λ(t): the weight of somebody unrecorded, and how many such people are expected. */
export function unrecordedWeight(
  mark: UnrecordedInput,
  { density, days, sums }: MarkDays,
  assumptions: Assumptions,
): number {
  if (mark.sweeps.length === 0) return expectedUnswept(mark, assumptions) * sums.alike(days.from, days.until);
  return sumOfProducts(unrecordedOn(days, mark, assumptions), density.weights, days.from - density.from);
}
