import { intersection, type Span } from '../time/span.ts';

export type Confidence = 'high' | 'medium' | 'low';

/** A window outside which nothing can be: `recorded` is larger for a source recorded later. */
export type HardWindow = {
  readonly id: string;
  readonly window: Span;
  readonly confidence: Confidence;
  readonly recorded: number;
};

/**
 * Windows without a common day: a pair, or one window alone that lies wholly outside the horizon. Drop any member, and
 * this conflict is gone. `setAside` names the members that the dating does not use.
 */
export type WindowConflict = { readonly members: readonly string[]; readonly setAside: readonly string[] };

const STANDING: Readonly<Record<Confidence, number>> = { high: 0, medium: 1, low: 2 };

/** The firmest first: by confidence, then the one recorded earlier. */
const byStanding = (a: HardWindow, b: HardWindow): number =>
  STANDING[a.confidence] - STANDING[b.confidence] || a.recorded - b.recorded || (a.id < b.id ? -1 : 1);

/**
 * Which hard windows can hold together. Intervals that meet two by two have a common point, so the smallest
 * contradicting sets are pairs; the horizon counts as one more interval. The firmest are kept first, so what gives way
 * is the window of least confidence, then the one recorded later.
 * @see Helly, E., Über Mengen konvexer Körper mit gemeinschaftlichen Punkten, Jahresbericht der Deutschen
 *   Mathematiker-Vereinigung 32 (1923) 175–176: in one dimension, pairwise meeting is enough.
 */
export function settleHardWindows(
  windows: readonly HardWindow[],
  horizon: Span,
): { readonly kept: ReadonlySet<string>; readonly conflicts: readonly WindowConflict[] } {
  const ordered = [...windows].sort(byStanding);
  const kept = new Set<string>();
  let common = horizon;
  for (const { id, window } of ordered) {
    const narrower = intersection(common, window);
    if (narrower === undefined) continue;
    common = narrower;
    kept.add(id);
  }
  const conflicts: WindowConflict[] = [];
  const outside = (given: HardWindow): boolean => intersection(given.window, horizon) === undefined;
  for (const [place, one] of ordered.entries()) {
    if (outside(one)) {
      conflicts.push({ members: [one.id], setAside: [one.id] });
      continue;
    }
    for (const other of ordered.slice(place + 1)) {
      if (outside(other) || intersection(one.window, other.window) !== undefined) continue;
      conflicts.push({ members: [one.id, other.id], setAside: [one.id, other.id].filter((id) => !kept.has(id)) });
    }
  }
  return { kept, conflicts };
}
