import type { Claim, Conflict } from './career.ts';
import { byRecording, givesWayBefore, type RecordedClaim, sayClaim } from './claims.ts';
import { type Model, makeNetwork, type UsedNilSearch } from './constraints.ts';
import { findContradictions } from './contradictions.ts';
import { contradiction, type Network, type NetworkBounds, tightestBounds } from './network.ts';
import { type NilFindings, placeNilSearches } from './nil-searches.ts';
import { cheapestWayOut, otherWaysOut, type Prices, type Way } from './ways-out.ts';

/** Conflicts listed; the rest are counted. */
export const MOST_CONFLICTS = 1000;

/** Contradicting sets that are weighed against each other where there are too many to find them all. */
export const MOST_WEIGHED = 10_000;

/** Other ways out that are tried to see which bounds rest on the choice. */
const MOST_WAYS = 256;
const FEW_WAYS = 16;

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
  const way = [...cheapestWayOut(complete ? known : known.slice(0, MOST_WEIGHED), prices)];
  if (!complete) {
    // Not all sets were met or weighed: what contradiction is left over is cleared one by one.
    for (let left = contradiction(without(way), cost); left !== undefined; left = contradiction(without(way), cost)) {
      const set = shrink(left, claims, without, cost);
      known.push(set);
      way.push(...cheapestWayOut([set], prices));
    }
  }
  for (const set of known) met.push(set);
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

export function pricesOf(claims: readonly RecordedClaim[]): Prices {
  const turn: number[] = [];
  const order = claims.map((_, k) => k);
  order.sort((a, b) => givesWayBefore(claims[a] as RecordedClaim, claims[b] as RecordedClaim));
  order.forEach((claim, place) => {
    turn[claim] = place;
  });
  return { reliability: claims.map(({ reliability }) => reliability), turn };
}

/** The other ways out of the conflicts that were met, the best first; none of them where there are too many sets. */
export function otherWays(
  claims: readonly RecordedClaim[],
  { off, sets }: Settled,
): { ways: readonly Way[]; complete: boolean } {
  if (sets.length > MOST_WEIGHED) return { ways: [], complete: false };
  const chosen = [...claims.keys()].filter((k) => off[k] === 1);
  const { ways, complete } = otherWaysOut(sets, chosen, pricesOf(claims), MOST_WAYS);
  return { ways: complete ? ways : ways.slice(0, FEW_WAYS), complete };
}

/** The contradicting sets of claims that were met, the smallest first, and omissions of the printer among them. */
export type ConflictSets = {
  /** Members by their places, in the order in which they were recorded. */
  readonly sets: readonly { readonly members: readonly number[]; readonly omission: boolean }[];
  /** Claims that are set aside, or not used as omissions of the printer. */
  readonly aside: ReadonlySet<number>;
};

export function conflictSets(claims: readonly RecordedClaim[], { off, sets, findings }: Settled): ConflictSets {
  const { omissions } = findings;
  if (sets.length + omissions.length === 0) return { sets: [], aside: new Set() };
  const aside = new Set([...claims.keys()].filter((k) => off[k] === 1));
  for (const { claim } of omissions) aside.add(claim);
  const order = inRecordingOrder(claims);
  const places: number[] = [];
  order.forEach((claim, place) => {
    places[claim] = place;
  });
  const placed = (set: readonly number[]): number[] => set.map((k) => places[k] as number).sort((a, b) => a - b);
  const all = [
    ...sets.map((set) => ({ set: placed(set), omission: false })),
    ...omissions.map(({ claim, against }) => ({ set: placed([...against, claim]), omission: true })),
  ];
  all.sort((a, b) => bySize(a.set, b.set));
  return {
    sets: all.map(({ set, omission }) => ({ members: set.map((place) => order[place] as number), omission })),
    aside,
  };
}

/** Conflicts in words, the smallest first, omissions of the printer among them. */
export function reportConflicts(
  claims: readonly RecordedClaim[],
  settled: Settled,
): { conflicts: Conflict[]; conflictsBeyond: number } {
  const { sets, aside } = conflictSets(claims, settled);
  const conflicts = sets.slice(0, MOST_CONFLICTS).map(({ members }) => {
    const say = (k: number) => sayClaim(claims[k] as RecordedClaim);
    return { members: members.map(say), setAside: members.filter((k) => aside.has(k)).map(say) };
  });
  return { conflicts, conflictsBeyond: sets.length - conflicts.length };
}

function bySize(a: readonly number[], b: readonly number[]): number {
  if (a.length !== b.length) return a.length - b.length;
  const at = a.findIndex((place, k) => place !== b[k]);
  return at < 0 ? 0 : (a[at] as number) - (b[at] as number);
}

/** The claims by their places, in the order in which they were recorded. */
export const inRecordingOrder = (claims: readonly RecordedClaim[]): number[] =>
  [...claims.keys()].sort((a, b) => byRecording(claims[a] as RecordedClaim, claims[b] as RecordedClaim));

export const sayAll = (claims: readonly RecordedClaim[], set: readonly number[]): Claim[] =>
  set
    .map((k) => claims[k] as RecordedClaim)
    .sort(byRecording)
    .map(sayClaim);
