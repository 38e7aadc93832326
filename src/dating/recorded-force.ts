import { NO_END, NO_START, type Span } from '../time/span.ts';
import type { Force } from './window-factor.ts';

/**
 * How a window is recorded: `hard` or `usual` on both sides, or firm on one side only, as a wording that could not have
 * been written before a law, and fell out of use some years after it was repealed.
 */
export type RecordedForce = Force | 'hard-start' | 'hard-end';

/** A window as the arithmetic takes it: what is firm on one side only is a hard window and a usual one. */
export function splitForce<T extends { readonly window: Span; readonly force: RecordedForce }>(
  given: T,
): (Omit<T, 'force'> & { readonly force: Force })[] {
  const { window, force } = given;
  if (force === 'hard' || force === 'usual') return [{ ...given, force }];
  const firm: Span =
    force === 'hard-start' ? { from: window.from, until: NO_END } : { from: NO_START, until: window.until };
  return [
    { ...given, window: firm, force: 'hard' },
    { ...given, force: 'usual' },
  ];
}
