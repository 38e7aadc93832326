import type { Assumptions } from '../assumptions.ts';
import { isClosed, type Span } from '../time/span.ts';
import { type DelayLaw, delayed, delayLaw, type MarkRole } from './delay.ts';
import { type Density, daysOf, normalised, shortestSpan, uniform, within } from './density.ts';
import { type Confidence, type HardWindow, settleHardWindows, type WindowConflict } from './hard-windows.ts';
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
  readonly role: MarkRole;
  /** The mark's own date as evidence (an approximate one already widened). */
  readonly stated: Span | undefined;
  readonly clues: readonly MarkClue[];
};

export type Marking = {
  /** When the mark was put on: f(t), adding up to 1. */
  readonly density: Density;
  /** The window to show and to compare tenures with: the stated one, or the shortest span that holds 95 % of f. */
  readonly window: Span;
  readonly windowIs: 'stated' | 'reckoned';
  /** The mark's own window w(t) on the same days, from 0 to 1. */
  readonly own: Float64Array;
  readonly law: DelayLaw;
  /** Among the mark's own windows. */
  readonly conflicts: readonly WindowConflict[];
  /** The mark's own window lies wholly before any day on which the object can have been made; f is then w alone. */
  readonly beforeMaking: boolean;
};

/** The share of a density that a span shown for it holds. */
export const SHOWN_SHARE = 0.95;

/**
 * When the mark was put on: f(t) ∝ w(t) · Σ over y of g(y) · d(t − y), where g is the making of the object and d the
 * delay usual for the mark's role. w(t) is 0 outside the mark's own date and its hard clues, and the factor of the
 * window for usual clues. The days are those of `making`, which must hold every date that the mark states.
 */
export function markDensity(mark: MarkDating, making: Density, assumptions: Assumptions): Marking {
  const horizon = daysOf(making);
  const law = delayLaw(mark.role, assumptions);
  const { own, conflicts } = ownWindow(mark, horizon);
  const weights = delayed(making.weights, law);
  if (mark.stated !== undefined || mark.clues.length > 0) multiplyInto(weights, own);
  const together = normalised({ from: making.from, weights });
  const density = together ?? normalised({ from: making.from, weights: own.slice() }) ?? uniform(horizon);
  const isStated = mark.stated !== undefined && isClosed(mark.stated);
  return {
    density,
    window: isStated ? mark.stated : (shortestSpan(density, SHOWN_SHARE) ?? horizon),
    windowIs: isStated ? 'stated' : 'reckoned',
    own,
    law,
    conflicts,
    beforeMaking: together === undefined,
  };
}

/**
 * A question's own span of days in place of everything that is known of the mark: every day of it alike. An open side
 * reaches to the horizon's. Undefined where the span and the horizon share no day.
 */
export function markBetween(
  between: Span,
  role: MarkRole,
  horizon: Span,
  assumptions: Assumptions,
): Marking | undefined {
  const days = within(between, horizon);
  if (days === undefined) return undefined;
  const density = uniform(days);
  return {
    density,
    window: days,
    windowIs: 'stated',
    own: new Float64Array(density.weights.length).fill(1),
    law: delayLaw(role, assumptions),
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

function multiplyInto(weights: Float64Array, factor: Float64Array): void {
  for (let i = 0; i < weights.length; i += 1) weights[i] = (weights[i] as number) * (factor[i] as number);
}
