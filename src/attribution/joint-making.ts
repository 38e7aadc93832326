import type { Assumptions } from '../assumptions.ts';
import { addInto, type Density, largestOf, normalised } from '../dating/density.ts';
import { type ChainMark, type PreparedMark, prepareMarks } from './chain-marks.ts';
import { fillAhead, type Held, treeSums } from './overlay-sums.ts';

/** All marks of an object, and when it was made by its features and them together. */
export type JointMarks = {
  readonly marks: readonly PreparedMark[];
  readonly density: Density;
  /** All marks together leave no day of making: the density is then that of the features alone. */
  readonly excluded: boolean;
};

/** @param surnamesOf keys of every surname that a person bore. */
export function jointMarks(
  making: Density,
  chains: readonly ChainMark[],
  surnamesOf: (person: string) => readonly string[],
  assumptions: Assumptions,
): JointMarks {
  const marks = prepareMarks(making, chains, surnamesOf, assumptions);
  return { marks, ...jointMaking(making, marks) };
}

/**
 * When the object was made, by its features and all its marks together:
 * g′(y) ∝ g(y) · Π over the marks of Σ over t >= y of w(t) · d(t − y) · e(t), where e is what the ledger knows of the
 * holders that the mark can name on that day (1 where it names none). A mark dated before any making is left out.
 * Where all marks together leave no day, the features' own density stands, and `excluded` says so.
 */
export function jointMaking(making: Density, marks: readonly PreparedMark[]): { density: Density; excluded: boolean } {
  const weights = making.weights.slice();
  const first = Math.max(
    0,
    weights.findIndex((weight) => weight > 0),
  );
  const days = weights.findLastIndex((weight) => weight > 0) + 1 - first;
  for (const { anybody, detached } of marks) {
    if (detached || anybody.every((held) => held.weights.length === 0)) continue;
    const ahead = aheadOfAll(anybody, first, days);
    const largest = largestOf(ahead);
    if (largest === 0) {
      // Whoever can have put it on was gone before any making.
      if (anybody.some((held) => held.weights.some((weight) => weight > 0))) weights.fill(0);
      continue;
    }
    multiplyScaled(weights.subarray(first, first + ahead.length), ahead, largest);
  }
  const joint = normalised({ from: making.from, weights });
  return { density: joint ?? { from: making.from, weights: making.weights.slice() }, excluded: joint === undefined };
}

/** Multiplies each weight by its factor over the largest of them. */
function multiplyScaled(weights: Float64Array, factors: Float64Array, largest: number): void {
  for (let i = 0; i < weights.length; i += 1) weights[i] = ((weights[i] as number) * (factors[i] as number)) / largest;
}

/** What a mark makes of each day of making, from `first` on: its possible holders together, those of each law of delay by themselves. */
function aheadOfAll(anybody: readonly Held[], first: number, days: number): Float64Array {
  const [all = new Float64Array(days), ...others] = anybody.map((held) => {
    const ahead = new Float64Array(days);
    fillAhead(
      ahead,
      first,
      treeSums({ place: 0, overlying: [] }, () => held),
    );
    return ahead;
  });
  for (const one of others) addInto(all, one);
  return all;
}
