import type { Day } from '../time/span.ts';
import { sayClaim } from './claims.ts';
import { endNode, startNode } from './constraints.ts';
import type { WeighedClaim } from './explained-conflicts.ts';
import { FIXED, ORIGIN, type PathStep } from './network.ts';
import type { SettledCareer } from './solve.ts';

export const BOUNDS = ['startEarliest', 'startLatest', 'endEarliest', 'endLatest'] as const;
export type BoundName = (typeof BOUNDS)[number];

/**
 * What always holds between the days of posts.
 * `lasts`: a post lasts a day at least. `follows`: a post begins no earlier than the one before it ends.
 * `touches`: a post begins on the day on which the one before it ends.
 */
export type BoundRule = 'lasts' | 'follows' | 'touches';

/** One step of the chain behind a bound: the day of one post, and why it can be no earlier, or no later, than that. */
export type BoundReason = {
  /** Place of the post in the career. */
  readonly slot: number;
  readonly side: 'start' | 'end';
  readonly day: Day;
  readonly by: { readonly claim: WeighedClaim } | { readonly rule: BoundRule };
};

/**
 * The chain from a bound down to the claim that names a day: each step bounds one day of one post by that of the next
 * step, the last by a claim alone. Empty where nothing bounds it.
 */
export function boundReasons(
  { claims, settled }: SettledCareer,
  slot: number,
  bound: BoundName,
): readonly BoundReason[] {
  const { bounds } = settled;
  const isEarliest = bound.endsWith('Earliest');
  const node = bound.startsWith('start') ? startNode(slot) : endNode(slot);
  const path = isEarliest ? bounds.earliestPath(node) : bounds.latestPath(node);
  return path.map((step): BoundReason => {
    const here = isEarliest ? step.y : step.x;
    const place = placeOf(here);
    const day = (isEarliest ? bounds.earliest[here] : bounds.latest[here]) as Day;
    const claim = claims[step.claim];
    if (step.claim === FIXED || claim === undefined) return { ...place, day, by: { rule: ruleOf(step) } };
    return { ...place, day, by: { claim: { ...sayClaim(claim), weight: claim.reliability } } };
  });
}

const placeOf = (node: number): Pick<BoundReason, 'slot' | 'side'> =>
  node % 2 === 1 ? { slot: (node - 1) / 2, side: 'start' } : { slot: node / 2 - 1, side: 'end' };

function ruleOf({ x, y }: PathStep): BoundRule {
  if (x === ORIGIN || y === ORIGIN) throw new Error('no rule names a day');
  const [one, other] = [placeOf(x), placeOf(y)];
  if (one.slot === other.slot) return 'lasts';
  return one.side === 'end' ? 'follows' : 'touches';
}
