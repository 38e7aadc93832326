import type { Claim, Conflict } from './career.ts';
import { byRecording, givesWayBefore, type RecordedClaim, sayClaim } from './claims.ts';
import { type Model, makeNetwork, type UsedNilSearch } from './constraints.ts';
import { findContradictions } from './contradictions.ts';
import { contradiction, type Network, type NetworkBounds, tightestBounds } from './network.ts';
import { type NilFindings, placeNilSearches } from './nil-searches.ts';
import { cheapestWayOut, otherWaysOut, type Prices, type Way } from './ways-out.ts';

/** Conflicts listed; the rest are counted. */
const MOST_CONFLICTS = 1000;

/** Other ways out that are tried to see which bounds rest on the choice. */
const MOST_WAYS = 256;

/** A model without contradictions: what was set aside, what its nil searches tell, and its network. */
export type Settled = {
  readonly off: Uint8Array;
  readonly findings: NilFindings;
  readonly bounds: NetworkBounds;
  /** The minimal contradicting sets that were met. */
  readonly sets: readonly (readonly number[])[];
};

export const allClaims = ({ positive, nilSearches }: Model): readonly RecordedClaim[] =>
  nilSearches.length === 0 ? positive : [...positive, ...nilSearches];

/**
 * Sets aside, beside what `off` sets aside already, the claims of least total reliability that clear all conflicts.
 * Positive claims are settled first. Nil searches are then read by what is left of them; those that can be used might
 * still contradict each other, and are settled in their turn.
 *
 * @param cost of a path through each claim: see `tightestBounds`.
 */
export function settle(model: Model, claims: readonly RecordedClaim[], cost: Float64Array, start: Uint8Array): Settled {
  const off = start.slice();
  const sets: (readonly number[])[] = [];
  let bounds = clear(model, claims, cost, off, [], sets);
  for (;;) {
    const findings = placeNilSearches(model, off);
    if (findings.used.length === 0) return { off, findings, bounds, sets };
    const met = sets.length;
    bounds = clear(model, claims, cost, off, findings.used, sets);
    if (sets.length === met) return { off, findings, bounds, sets };
  }
}

/** Bounds of one network, after its conflicts, if it has any, are cleared by what is added to `off` and told in `met`. */
function clear(
  model: Model,
  claims: readonly RecordedClaim[],
  cost: Float64Array,
  off: Uint8Array,
  used: readonly UsedNilSearch[],
  met: (readonly number[])[],
): NetworkBounds {
  const network = makeNetwork(model, off, used);
  const bounds = tightestBounds(network, cost);
  if (bounds !== undefined) return bounds;
  const { sets, complete } = findContradictions(network);
  const known = [...sets];
  const prices = pricesOf(claims);
  const without = (way: readonly number[]): Network => {
    const less = off.slice();
    for (const claim of way) less[claim] = 1;
    return makeNetwork(
      model,
      less,
      used.filter(({ claim }) => less[claim] === 0),
    );
  };
  let way = cheapestWayOut(known, prices);
  if (!complete) {
    // Some sets were not met: whatever contradiction is left over is one of them.
    for (let left = contradiction(without(way), cost); left !== undefined; left = contradiction(without(way), cost)) {
      known.push(shrink(left, claims, without, cost));
      way = cheapestWayOut(known, prices);
    }
  }
  met.push(...known);
  const cleared = tightestBounds(without(way), cost);
  for (const claim of way) off[claim] = 1;
  if (cleared === undefined) throw new Error('Constraints that always hold contradict each other.');
  return cleared;
}

/** Leaves out of a contradicting set what it can do without. */
function shrink(
  set: readonly number[],
  claims: readonly RecordedClaim[],
  without: (way: readonly number[]) => Network,
  cost: Float64Array,
): readonly number[] {
  let kept = set;
  for (const claim of set) {
    const fewer = kept.filter((one) => one !== claim);
    const others = claims.map((_, k) => k).filter((k) => !fewer.includes(k));
    if (contradiction(without(others), cost) !== undefined) kept = fewer;
  }
  return kept;
}

function pricesOf(claims: readonly RecordedClaim[]): Prices {
  const turn: number[] = [];
  const order = claims.map((_, k) => k);
  order.sort((a, b) => givesWayBefore(claims[a] as RecordedClaim, claims[b] as RecordedClaim));
  order.forEach((claim, place) => {
    turn[claim] = place;
  });
  return { reliability: claims.map(({ reliability }) => reliability), turn };
}

/** The other ways out of the conflicts that were met, the best first. */
export function otherWays(
  claims: readonly RecordedClaim[],
  { off, sets }: Settled,
): { ways: readonly Way[]; complete: boolean } {
  const chosen = claims.map((_, k) => k).filter((k) => off[k] === 1);
  return otherWaysOut(sets, chosen, pricesOf(claims), MOST_WAYS);
}

/** Conflicts in words, the smallest first, omissions of the printer among them. */
export function reportConflicts(
  claims: readonly RecordedClaim[],
  { off, sets, findings }: Settled,
): { conflicts: Conflict[]; conflictsBeyond: number } {
  const omitted = findings.omissions.map(({ claim, against }) => [...against, claim]);
  const all = [...sets, ...omitted].map((set) => set.map((k) => claims[k] as RecordedClaim).sort(byRecording));
  all.sort((a, b) => a.length - b.length || compareMembers(a, b));
  const aside = new Set(claims.filter((_, k) => off[k] === 1));
  for (const { claim } of findings.omissions) aside.add(claims[claim] as RecordedClaim);
  const conflicts = all.slice(0, MOST_CONFLICTS).map((members) => ({
    members: members.map(sayClaim),
    setAside: members.filter((claim) => aside.has(claim)).map(sayClaim),
  }));
  return { conflicts, conflictsBeyond: all.length - conflicts.length };
}

function compareMembers(a: readonly RecordedClaim[], b: readonly RecordedClaim[]): number {
  for (let at = 0; at < a.length && at < b.length; at++) {
    const order = byRecording(a[at] as RecordedClaim, b[at] as RecordedClaim);
    if (order !== 0) return order;
  }
  return 0;
}

export const sayAll = (claims: readonly RecordedClaim[], set: readonly number[]): Claim[] =>
  set
    .map((k) => claims[k] as RecordedClaim)
    .sort(byRecording)
    .map(sayClaim);
