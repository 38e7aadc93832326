import { type Density, normalised } from '../dating/density.ts';
import type { PreparedMark } from './chain-marks.ts';
import { fillAhead, treeSums } from './overlay-sums.ts';

/**
 * When the object was made, by its features and all its marks together:
 * g′(y) ∝ g(y) · Π over the marks of Σ over t >= y of w(t) · d(t − y) · e(t), where e is what the ledger knows of the
 * holders that the mark can name on that day (1 where it names none). A mark dated before any making is left out.
 * Where all marks together leave no day, the features' own density stands, and `excluded` says so.
 */
export function jointMaking(making: Density, marks: readonly PreparedMark[]): { density: Density; excluded: boolean } {
  const weights = making.weights.slice();
  const ahead = new Float64Array(weights.length);
  for (const { law, anybody, detached } of marks) {
    if (detached || anybody.weights.length === 0) continue;
    fillAhead(
      ahead,
      0,
      treeSums({ place: 0, law, overlying: [] }, () => anybody),
    );
    let largest = 0;
    for (let i = 0; i < ahead.length; i += 1) largest = Math.max(largest, ahead[i] as number);
    if (largest === 0) continue;
    for (let i = 0; i < weights.length; i += 1) weights[i] = ((weights[i] as number) * (ahead[i] as number)) / largest;
  }
  const joint = normalised({ from: making.from, weights });
  return { density: joint ?? { from: making.from, weights: making.weights.slice() }, excluded: joint === undefined };
}
