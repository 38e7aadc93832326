import type { Claim } from './career.ts';
import { type RecordedClaim, sayClaim } from './claims.ts';
import { conflictSets, MOST_WEIGHED, pricesOf } from './conflicts.ts';
import type { SettledCareer } from './solve.ts';
import { independentParts, otherWaysOut, type Prices } from './ways-out.ts';

/** A claim with its reliability, which is what it costs to set it aside. */
export type WeighedClaim = Claim & { readonly weight: number };

/** Of claims C, told with what they say and weigh. */
export type Explained<C> = {
  readonly members: readonly C[];
  /** The members that are set aside. */
  readonly setAside: readonly C[];
  /** How many conflicts are cleared by setting those aside, this one included. */
  readonly frees: number;
  /** What is set aside for all conflicts that have claims in common with this one. */
  readonly wayOut: readonly C[];
  /** The next best way out of them; undefined where there is none, or too many conflicts to tell. */
  readonly otherWayOut: readonly C[] | undefined;
};

export type ExplainedConflict = Explained<WeighedClaim> & {
  /**
   * A nil search that no gap in the service can hold: the printer left the name out; or, where it is one of three or
   * more in a row, the service was likely broken.
   */
  readonly omission: 'printer' | 'likely break' | undefined;
};

/** Other ways out that are compared. */
const MOST_WAYS = 64;

/** Conflicts of a career with their reasons, the smallest first: at most `most`, and how many there are beyond. */
export function explainConflicts(
  { claims, settled }: Pick<SettledCareer, 'claims' | 'settled'>,
  most: number,
): { readonly conflicts: readonly ExplainedConflict[]; readonly beyond: number } {
  const { sets, aside } = conflictSets(claims, settled);
  if (sets.length === 0) return { conflicts: [], beyond: 0 };
  const said: (WeighedClaim | undefined)[] = [];
  const say = (k: number): WeighedClaim => {
    const claim = claims[k] as RecordedClaim;
    said[k] ??= { ...sayClaim(claim), weight: claim.reliability };
    return said[k] as WeighedClaim;
  };
  const words = inWords(say);
  const omissions = new Set(sets.flatMap(({ members, omission }) => (omission ? [members] : [])));
  const explained = explainSets(
    sets.map(({ members }) => members),
    (members) => !omissions.has(members),
    aside,
    pricesOf(claims),
    most,
  );
  const inARow = new Set(settled.findings.unused.map(({ id }) => id)); // an omission is among them only as one of several
  const conflicts = explained.map((one, place): ExplainedConflict => {
    const told = words(one);
    const isBreak = told.setAside.some(({ id }) => inARow.has(id));
    return { ...told, omission: sets[place]?.omission === true ? (isBreak ? 'likely break' : 'printer') : undefined };
  });
  return { conflicts, beyond: sets.length - conflicts.length };
}

type ClaimSet = readonly number[];

/**
 * What clears each of the first `most` sets. Sets that share no claim are got out of independently, so each group of
 * them has its own next best way out.
 * @param hasWays whether a set can be got out of by any of its members: not an omission, which is never used.
 * @param aside the claims that are set aside.
 */
export function explainSets(
  sets: readonly ClaimSet[],
  hasWays: (set: ClaimSet) => boolean,
  aside: ReadonlySet<number>,
  prices: Prices,
  most: number,
): Explained<number>[] {
  const holding = new Map<number, number[]>();
  for (const [place, set] of sets.entries()) {
    for (const k of set) {
      const others = holding.get(k);
      if (others === undefined) holding.set(k, [place]);
      else others.push(place);
    }
  }
  const cleared = new Map<string, number>();
  const clearedBy = (claims: ClaimSet): number => {
    const known = cleared.get(claims.join());
    if (known !== undefined) return known;
    const count = new Set(claims.flatMap((k) => holding.get(k) ?? [])).size;
    cleared.set(claims.join(), count);
    return count;
  };
  const waysOf = waysOfGroups(sets.filter(hasWays), aside, prices);
  return sets.slice(0, most).map((members) => {
    const setAside = members.filter((k) => aside.has(k));
    const ways = hasWays(members) ? waysOf(members[0] as number) : undefined;
    return {
      members,
      setAside,
      frees: clearedBy(setAside),
      wayOut: ways?.chosen ?? setAside,
      otherWayOut: ways?.other,
    };
  });
}

/** The same in what the claims say; ways out that several conflicts share are put into words once. */
export function inWords<C>(say: (claim: number) => C): (explained: Explained<number>) => Explained<C> {
  const known = new Map<ClaimSet, readonly C[]>();
  const shared = (claims: ClaimSet): readonly C[] => {
    const words = known.get(claims) ?? claims.map(say);
    known.set(claims, words);
    return words;
  };
  return (explained) => ({
    members: explained.members.map(say),
    setAside: explained.setAside.map(say),
    frees: explained.frees,
    wayOut: shared(explained.wayOut),
    otherWayOut: explained.otherWayOut && shared(explained.otherWayOut),
  });
}

type Ways = { readonly chosen: readonly number[]; readonly other: readonly number[] | undefined };

/** The way out of the group of sets that a claim belongs to, and the next best; each group is worked out once. */
function waysOfGroups(
  sets: readonly ClaimSet[],
  aside: ReadonlySet<number>,
  prices: Prices,
): (claim: number) => Ways | undefined {
  if (sets.length === 0 || sets.length > MOST_WEIGHED) return () => undefined;
  const groups = independentParts(sets);
  const groupOf = new Map(groups.flatMap((group, place) => group.flat().map((claim) => [claim, place] as const)));
  const known = new Map<number, Ways>();
  return (claim) => {
    const place = groupOf.get(claim);
    if (place === undefined) return undefined;
    const worked = known.get(place);
    if (worked !== undefined) return worked;
    const group = groups[place] ?? [];
    const chosen = [...new Set(group.flat())].filter((k) => aside.has(k)).sort((a, b) => a - b);
    const [other] = otherWaysOut(group, chosen, prices, MOST_WAYS).ways;
    const ways = { chosen, other };
    known.set(place, ways);
    return ways;
  };
}
