import type { Coded } from './coded.ts';

/**
 * How a man who is listed goes on: the chance that he is found next in the g-th edition looked at after this one, and
 * that he is not found again. Hazards are taken together over gaps that double in length (1, 2, 3–4, 5–8 …), so that each
 * rests on enough cases.
 */
export type Staying = {
  /** log2 of the chance to be found next after a gap of g editions (g at least 1). */
  readonly log2Next: Float64Array;
  /** log2 of the chance not to be found in any of the next r editions (r at least 0). */
  readonly log2Gone: Float64Array;
  /** Share of the entries of an edition, beyond the first of its service, that are a man's first. */
  readonly newShare: number;
  /** For each class of gaps the hazard. */
  readonly hazards: readonly number[];
};

/** Before anything is known; common practice, from memory: a list loses a seventh of its men in a year. */
const FIRST_HAZARD = 0.85;
const LATER_HAZARD = 0.1;
const FIRST_NEW_SHARE = 0.2;

/** What has not been seen yet is not impossible. */
const HALF_A_CASE = 0.5;

/** Number of the class of a gap: 0 for 1, 1 for 2, 2 for 3 and 4, 3 for 5 to 8. */
export const gapClass = (gap: number): number => (gap <= 1 ? 0 : 32 - Math.clz32(gap - 1));

/** What was seen: for each class how often a man was found at such a gap, and how often he could have been. */
export type StayingCounts = {
  readonly found: Float64Array;
  readonly open: Float64Array;
  newMen: number;
  entries: number;
};

export const emptyCounts = (longest: number): StayingCounts => ({
  found: new Float64Array(gapClass(longest) + 1),
  open: new Float64Array(gapClass(longest) + 1),
  newMen: 0,
  entries: 0,
});

/** @param priorCases how many cases the first guess weighs. */
export function stayingFrom(counts: StayingCounts | undefined, longest: number, priorCases: number): Staying {
  const classes = gapClass(longest) + 1;
  const hazards: number[] = [];
  for (let of = 0; of < classes; of++) {
    const guess = of === 0 ? FIRST_HAZARD : of === 1 ? LATER_HAZARD : (hazards[of - 1] as number) / 2;
    const found = counts?.found[of] ?? 0;
    const open = counts?.open[of] ?? 0;
    hazards.push((found + Math.max(guess * priorCases, HALF_A_CASE)) / (open + priorCases));
  }
  const log2Next = new Float64Array(longest + 2);
  const log2Gone = new Float64Array(longest + 2);
  let left = 0;
  for (let gap = 1; gap <= longest + 1; gap++) {
    const hazard = hazards[Math.min(gapClass(gap), classes - 1)] as number;
    log2Next[gap] = left + Math.log2(hazard);
    left += Math.log2(1 - hazard);
    log2Gone[gap] = left;
  }
  const seen = counts ?? { newMen: 0, entries: 0 };
  const newShare = (seen.newMen + FIRST_NEW_SHARE * priorCases) / (seen.entries + priorCases);
  return { log2Next, log2Gone, newShare, hazards };
}

/** At `lane * steps + step` log2 of the number of men expected to be listed there for the first time. */
export function newcomers({ count, step, lane, editions }: Coded, newShare: number): Float64Array {
  const steps = editions.sorted.length;
  const lanes = lane.reduce((most, each) => Math.max(most, each + 1), 1);
  const listed = new Float64Array(lanes * steps);
  for (let at = 0; at < count; at++) {
    const slot = (lane[at] as number) * steps + (step[at] as number);
    listed[slot] = (listed[slot] as number) + 1;
  }
  return listed.map((men, slot) => {
    const share = editions.isFirst[slot % steps] === 1 ? 1 : newShare;
    return Math.log2(Math.max(HALF_A_CASE, men * share));
  });
}
