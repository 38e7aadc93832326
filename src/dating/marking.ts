import type { Assumptions } from '../assumptions.ts';
import { isClosed, type Span } from '../time/span.ts';
import { ANY_DAY, type DelayLaw, delayed, delayLaw, timesLaw } from './delay.ts';
import {
  type Density,
  daysOf,
  mixed,
  multiplyInto,
  normalised,
  shortestSpan,
  totalOf,
  uniform,
  within,
} from './density.ts';
import { type Confidence, type HardWindow, settleHardWindows, type WindowConflict } from './hard-windows.ts';
import type { RoleWeight, RoleWeights } from './mark-roles.ts';
import { type Force, multiplyByWindow, type Weight } from './window-factor.ts';

/** A datable wording of the mark that the researcher confirmed, or a fact that the mark names. */
export type MarkClue = {
  readonly id: string;
  readonly window: Span;
  readonly force: Force;
  readonly weight: Weight;
  readonly confidence?: Confidence;
  readonly recorded: number;
};

/** What the mark itself says of its day. */
export type MarkDating = {
  readonly id: string;
  readonly roles: RoleWeights;
  /** The mark's own date as evidence (an approximate one already widened). */
  readonly stated: Span | undefined;
  readonly clues: readonly MarkClue[];
};

/** When the mark was put on if it has one of its roles. */
export type RoleDays = RoleWeight & {
  /** f(t) under this role alone, adding up to 1. */
  readonly density: Density;
  /** Scaled so that, with w(t) and the making, it adds up to the weight of the role. */
  readonly law: DelayLaw;
};

export type Marking = {
  /** When the mark was put on: f(t), adding up to 1; of several roles the mean by their weights. */
  readonly density: Density;
  /** Under each of its roles. */
  readonly roles: readonly RoleDays[];
  /** The window to show and to compare tenures with: the stated one, or the shortest span that holds 95 % of f. */
  readonly window: Span;
  readonly windowIs: 'stated' | 'reckoned';
  /** The mark's own window w(t) on the same days, from 0 to 1. */
  readonly own: Float64Array;
  /** Among the mark's own windows. */
  readonly conflicts: readonly WindowConflict[];
  /** The mark's own window lies wholly before any day on which the object can have been made; f is then w alone. */
  readonly beforeMaking: boolean;
};

/** The share of a density that a span shown for it holds. */
export const SHOWN_SHARE = 0.95;

/** The span to show for a density, worked out once for each. */
export function shownSpan(density: Density): Span | undefined {
  const known = shown.get(density) ?? { span: shortestSpan(density, SHOWN_SHARE) };
  shown.set(density, known);
  return known.span;
}

const shown = new WeakMap<Density, { readonly span: Span | undefined }>();

/**
 * When the mark was put on: f(t) ∝ w(t) · Σ over y of g(y) · d(t − y), where g is the making of the object and d the
 * delay usual for the mark's role. w(t) is 0 outside the mark's own date and its hard clues, and the factor of the
 * window for usual clues. The days are those of `making`, which must hold every date that the mark states. Where the role
 * is uncertain, f is the mean of the densities under each role, every one adding up to 1 by itself.
 */
export function markDensity(mark: MarkDating, making: Density, assumptions: Assumptions): Marking {
  const horizon = daysOf(making);
  const { own, conflicts } = ownWindow(mark, horizon);
  const since = Math.max(
    0,
    own.findIndex((factor) => factor > 0),
  );
  const dated = mark.stated !== undefined || mark.clues.length > 0;
  const under = mark.roles.map(({ role, weight }) => {
    const law = delayLaw(role, assumptions, since);
    const weights = delayedOnce(making.weights, law).slice();
    if (dated) multiplyInto(weights, own);
    return { role, weight, law, total: totalOf(weights), density: normalised({ from: making.from, weights }) };
  });
  const beforeMaking = under.every(({ density }) => density === undefined);
  const ownDays = (): Density => normalised({ from: making.from, weights: own.slice() }) ?? uniform(horizon);
  const roles = under.flatMap(({ role, weight, law, total, density }): RoleDays[] => {
    if (beforeMaking) return [{ role, weight, law: timesLaw(ANY_DAY, weight), density: ownDays() }];
    return density === undefined ? [] : [{ role, weight, law: timesLaw(law, weight / total), density }];
  });
  const density = mixed(roles) ?? ownDays();
  const isStated = mark.stated !== undefined && isClosed(mark.stated);
  return {
    density,
    roles,
    window: isStated ? mark.stated : (shownSpan(density) ?? horizon),
    windowIs: isStated ? 'stated' : 'reckoned',
    own,
    conflicts,
    beforeMaking,
  };
}

/** The marks of an object mostly follow its making in the same way: worked out once for each making and law. */
function delayedOnce(made: Float64Array, law: DelayLaw): Float64Array {
  const ofMaking = delays.get(made) ?? new Map<string, Float64Array>();
  delays.set(made, ofMaking);
  // From when a part counts is no matter where it does not fall off.
  const key = law
    .map(({ scale, perDay, fallOff, since }) => [scale, perDay, fallOff, fallOff === 1 ? 0 : since].join())
    .join(' ');
  const known = ofMaking.get(key) ?? delayed(made, law);
  ofMaking.set(key, known);
  return known;
}

const delays = new WeakMap<Float64Array, Map<string, Float64Array>>();

/**
 * A question's own span of days in place of everything that is known of the mark: every day of it alike. An open side
 * reaches to the horizon's. Undefined where the span and the horizon share no day.
 */
export function markBetween(
  between: Span,
  roles: RoleWeights,
  horizon: Span,
  assumptions: Assumptions,
): Marking | undefined {
  const days = within(between, horizon);
  if (days === undefined) return undefined;
  const density = uniform(days);
  return {
    density,
    roles: roles.map(({ role, weight }) => ({ role, weight, density, law: delayLaw(role, assumptions) })),
    window: days,
    windowIs: 'stated',
    own: new Float64Array(density.weights.length).fill(1),
    conflicts: [],
    beforeMaking: false,
  };
}

/** w(t). The mark's stated date stands above its clues where they exclude each other. */
function ownWindow(
  { id, stated, clues }: MarkDating,
  horizon: Span,
): { own: Float64Array; conflicts: readonly WindowConflict[] } {
  const hard: HardWindow[] = clues
    .filter(({ force }) => force === 'hard')
    .map((clue) => ({
      id: clue.id,
      window: clue.window,
      confidence: clue.confidence ?? 'medium',
      recorded: clue.recorded,
    }));
  if (stated !== undefined) hard.push({ id, window: stated, confidence: 'high', recorded: Number.NEGATIVE_INFINITY });
  const { kept, conflicts } = settleHardWindows(hard, horizon);

  const own = new Float64Array(horizon.until - horizon.from).fill(1);
  for (const { id: hardId, window } of hard) {
    if (kept.has(hardId)) multiplyByWindow(own, horizon.from, window, 'hard', 'strong');
  }
  for (const { force, window, weight } of clues) {
    if (force === 'usual') multiplyByWindow(own, horizon.from, window, force, weight);
  }
  return { own, conflicts };
}
