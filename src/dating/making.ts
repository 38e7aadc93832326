import { intersection, NO_START, type Span } from '../time/span.ts';
import { type Density, normalised, totalOf, uniform } from './density.ts';
import { type Confidence, type HardWindow, settleHardWindows, type WindowConflict } from './hard-windows.ts';
import { type Force, multiplyByWindow, type Weight } from './window-factor.ts';

/** Whether the part that bears a trait belongs to the object as it was made. */
export type PartState = 'original' | 'thought-original' | 'doubtful' | 'replaced' | 'added';

/** A datable trait of the object with the days on which such a thing was made. */
export type FeatureWindow = {
  readonly id: string;
  readonly text: string;
  readonly window: Span;
  readonly force: Force;
  readonly weight: Weight;
  readonly state: PartState;
  /** How sure the window is; without one it counts as medium. */
  readonly confidence?: Confidence;
  /** Order of recording: a later record has a larger number. */
  readonly recorded: number;
};

export type Making = {
  /** Adds up to 1 over the horizon. */
  readonly density: Density;
  /** The features that bear on it, in the order given. */
  readonly used: readonly string[];
  readonly conflicts: readonly WindowConflict[];
};

/** How far a part's trait may have nothing to do with the making; common practice, from memory. */
const INDIFFERENCE: Readonly<Record<'original' | 'thought-original' | 'doubtful', number>> = {
  original: 0,
  'thought-original': 0.1,
  doubtful: 0.5,
};

/**
 * The window by which a feature leaves no other day possible, if it does. Cases:
 * 1. an original part with a hard window: that window;
 * 2. a replaced or added part with a hard window: nothing later than its end, because the object was there to be altered;
 * 3. a part that is only thought original, or doubtful: none, since its window is mixed with indifference;
 * 4. a usual window: none.
 */
export function exclusion({ window, force, state }: FeatureWindow): Span | undefined {
  if (force !== 'hard') return undefined;
  if (state === 'original') return window;
  if (state !== 'replaced' && state !== 'added') return undefined;
  return Number.isFinite(window.until) ? { from: NO_START, until: window.until } : undefined;
}

/**
 * When the object was made, from its features alone: the product over the features of how well each day agrees with
 * their windows. A doubtful part mixes in indifference, (1 − r) · factor + r · mean of the factor over the horizon.
 * Without any feature every day of the horizon is alike. `horizon` must be closed.
 */
export function makingDensity(features: readonly FeatureWindow[], horizon: Span): Making {
  const hard: HardWindow[] = [];
  for (const { id, confidence = 'medium', recorded, ...feature } of features) {
    const window = exclusion({ id, recorded, ...feature });
    if (window !== undefined) hard.push({ id, window, confidence, recorded });
  }
  const { kept, conflicts } = settleHardWindows(hard, horizon);
  const unfit: WindowConflict[] = [];

  const product = new Float64Array(horizon.until - horizon.from).fill(1);
  const used: string[] = [];
  for (const feature of features) {
    const excluding = exclusion(feature);
    if (excluding !== undefined && !kept.has(feature.id)) continue;
    if (excluding === undefined && (feature.state === 'replaced' || feature.state === 'added')) continue;
    if (feature.force === 'hard' && excluding === undefined && intersection(feature.window, horizon) === undefined) {
      // Fits no day, and its mean is nothing either: to mix it in would leave nothing at all.
      unfit.push({ members: [feature.id], setAside: [feature.id] });
      continue;
    }
    const window = excluding ?? feature.window;
    const indifference = indifferenceOf(feature.state);
    if (indifference === 0) multiplyByWindow(product, horizon.from, window, feature.force, feature.weight);
    else {
      const factor = new Float64Array(product.length).fill(1);
      multiplyByWindow(factor, horizon.from, window, feature.force, feature.weight);
      multiplyMixed(product, factor, indifference);
    }
    used.push(feature.id);
    if (used.length % FEATURES_A_SCALE === 0) scaleUp(product);
  }
  const density = normalised({ from: horizon.from, weights: product }) ?? uniform(horizon);
  return { density, used, conflicts: [...conflicts, ...unfit] };
}

const indifferenceOf = (state: PartState): number =>
  state === 'replaced' || state === 'added' ? 0 : INDIFFERENCE[state];

function multiplyMixed(product: Float64Array, factor: Float64Array, indifference: number): void {
  const share = 1 - indifference;
  const mixedIn = (indifference * totalOf(factor)) / factor.length;
  for (let i = 0; i < product.length; i += 1) {
    product[i] = (product[i] as number) * (share * (factor[i] as number) + mixedIn);
  }
}

/** After so many features the product is scaled: one usual window leaves 10^-20 at least over several centuries. */
const FEATURES_A_SCALE = 4;

/** Many contradicting usual windows must not vanish to 0. */
function scaleUp(product: Float64Array): void {
  let largest = 0;
  for (let i = 0; i < product.length; i += 1) if ((product[i] as number) > largest) largest = product[i] as number;
  if (largest > 0) for (let i = 0; i < product.length; i += 1) product[i] = (product[i] as number) / largest;
}
