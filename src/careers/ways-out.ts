/**
 * Ways out of contradictions: sets of claims that take at least one member from every contradicting set.
 *
 * @see R. Reiter, "A theory of diagnosis from first principles", Artificial Intelligence 32 (1987) 57–95: what can be
 * given up to restore consistency are the minimal hitting sets of the minimal contradicting sets.
 */
export type Prices = {
  /** Reliability of each claim; what is set aside is to cost as little as possible. */
  readonly reliability: readonly number[];
  /** Rank of each claim in giving way, 0 first: decides between ways that cost the same. */
  readonly turn: readonly number[];
};

export type Way = readonly number[];

type Sets = readonly (readonly number[])[];

/** Looks at a set after which a search is cut short and the best found so far is taken. */
const MOST_VISITS = 300_000;

/** The way that costs the least; among equals the one with the claim that gives way first. In rising order. */
export const cheapestWayOut = (sets: Sets, prices: Prices): Way =>
  rising(independentParts(sets).flatMap((part) => cheapestOfPart(part, prices)));

/**
 * The other ways out from which nothing can be left out, the cheapest first. Contradictions that share no claim are got
 * out of independently; where all combinations of that are more than `most`, one part at a time takes another way.
 * Not `complete` where some ways are left out.
 */
export function otherWaysOut(
  sets: Sets,
  chosen: Way,
  prices: Prices,
  most: number,
): { ways: readonly Way[]; complete: boolean } {
  let complete = true;
  const parts = independentParts(sets).map((part) => {
    const own = new Set(part.flat());
    const here = chosen.filter((claim) => own.has(claim));
    const found = minimalWays(part, most);
    complete &&= found.complete;
    return { here, others: found.ways.filter((way) => !sameWay(way, here)) };
  });
  const combinations = parts.reduce((product, { others }) => product * (others.length + 1), 1);
  let ways: Way[] = [];
  if (combinations <= most) {
    ways = [[]];
    for (const { here, others } of parts)
      ways = ways.flatMap((way) => [here, ...others].map((more) => [...way, ...more]));
    ways = ways.map((way) => rising([...way])).filter((way) => !sameWay(way, chosen));
  } else {
    complete = false;
    for (const { here, others } of parts) {
      const rest = chosen.filter((claim) => !here.includes(claim));
      ways.push(...others.map((other) => rising([...rest, ...other])));
    }
  }
  const priced = ways.map((way) => ({ way, cost: costOf(prices, way), turns: turnsOf(prices, way) }));
  priced.sort((a, b) => a.cost - b.cost || compareTurns(a.turns, b.turns));
  return { ways: priced.slice(0, most).map(({ way }) => way), complete };
}

const rising = (way: number[]): Way => way.sort((a, b) => a - b);

const sameWay = (a: Way, b: Way): boolean => a.length === b.length && a.every((claim, at) => claim === b[at]);

/** Thousandths of reliability, so that sums are exact; at least one, so that nothing is set aside without need. */
const thousandths = ({ reliability }: Prices, claim: number): number =>
  Math.max(1, Math.round((reliability[claim] as number) * 1000));

const costOf = (prices: Prices, way: Way): number => way.reduce((sum, claim) => sum + thousandths(prices, claim), 0);

const turnsOf = ({ turn }: Prices, way: Way): Way => rising(way.map((claim) => turn[claim] as number));

/** Below 0 where `a` holds the claim that gives way first among those that only one of them holds. */
function compareTurns(a: Way, b: Way): number {
  const at = a.findIndex((turn, place) => turn !== b[place]);
  return at < 0 ? 0 : (a[at] as number) - (b[at] ?? Infinity);
}

/** Groups of sets that share no claim with the sets of other groups. */
export function independentParts(sets: Sets): Sets[] {
  const parts: { claims: Set<number>; sets: (readonly number[])[] }[] = [];
  for (const set of sets) {
    const touching = parts.filter(({ claims }) => set.some((claim) => claims.has(claim)));
    const [into] = touching;
    if (into === undefined) {
      parts.push({ claims: new Set(set), sets: [set] });
      continue;
    }
    into.sets.push(set);
    for (const claim of set) into.claims.add(claim);
    for (const other of touching.slice(1)) {
      into.sets.push(...other.sets);
      for (const claim of other.claims) into.claims.add(claim);
      parts.splice(parts.indexOf(other), 1);
    }
  }
  return parts.map((part) => part.sets);
}

/** Branch and bound on the contradicting set with the fewest claims left to choose from. */
function cheapestOfPart(sets: Sets, prices: Prices): Way {
  let best = greedyWay(sets, prices);
  let bestCost = costOf(prices, best);
  let bestTurns = turnsOf(prices, best);
  let visits = MOST_VISITS;
  const charges = new Charges(prices);

  function search(open: Sets, chosen: Way, cost: number): void {
    if (open.length === 0) {
      const turns = turnsOf(prices, chosen);
      if (cost < bestCost || (cost === bestCost && compareTurns(turns, bestTurns) < 0)) {
        best = chosen;
        bestCost = cost;
        bestTurns = turns;
      }
      return;
    }
    visits -= open.length;
    if (visits < 0 || cost + charges.leastCost(open) > bestCost) return;
    const branch = open.reduce((fewest, set) => (set.length < fewest.length ? set : fewest));
    const hits = branch.map((claim) => ({ claim, hits: open.filter((set) => set.includes(claim)).length }));
    hits.sort((a, b) => b.hits - a.hits || (prices.turn[a.claim] as number) - (prices.turn[b.claim] as number));
    const refused = new Set<number>();
    for (const { claim } of hits) {
      const left: (readonly number[])[] = [];
      let possible = true;
      for (const set of open) {
        if (set.includes(claim)) continue;
        const rest = refused.size === 0 ? set : set.filter((one) => !refused.has(one));
        if (rest.length === 0) possible = false;
        left.push(rest);
      }
      if (possible) search(left, [...chosen, claim], cost + thousandths(prices, claim));
      refused.add(claim); // every way with it has now been seen
    }
  }

  search(sets, [], 0);
  return best;
}

/**
 * What any way out of some sets costs at least. Each set in turn charges its members what the least of them still has
 * to pay; the charges together are never more than any way pays (weak duality; R. Bar-Yehuda and S. Even, "A linear
 * time approximation algorithm for the weighted vertex cover problem", Journal of Algorithms 2 (1981) 198–203).
 */
class Charges {
  readonly #whole: Float64Array;
  readonly #left: Float64Array;

  constructor(prices: Prices) {
    this.#whole = Float64Array.from(prices.reliability, (_, claim) => thousandths(prices, claim));
    this.#left = new Float64Array(this.#whole.length);
  }

  leastCost(sets: Sets): number {
    const left = this.#left;
    left.set(this.#whole);
    let charged = 0;
    for (const set of sets) {
      let least = Infinity;
      for (const claim of set) least = Math.min(least, left[claim] as number);
      if (least <= 0) continue;
      for (const claim of set) left[claim] = (left[claim] as number) - least;
      charged += least;
    }
    return charged;
  }
}

/** A way that is good enough to begin with: the claim that clears most for its cost, again and again. */
function greedyWay(sets: Sets, prices: Prices): Way {
  const chosen: number[] = [];
  let open = sets;
  while (open.length > 0) {
    const hits = new Map<number, number>();
    for (const set of open) for (const claim of set) hits.set(claim, (hits.get(claim) ?? 0) + 1);
    const better = ([a, hitsA]: [number, number], [b, hitsB]: [number, number]): boolean => {
      const gain = hitsB * thousandths(prices, a) - hitsA * thousandths(prices, b);
      return gain > 0 || (gain === 0 && (prices.turn[b] as number) < (prices.turn[a] as number));
    };
    const [next] = [...hits].reduce((a, b) => (better(a, b) ? b : a));
    chosen.push(next);
    open = open.filter((set) => !set.includes(next));
  }
  return withoutNeedless(sets, chosen);
}

/** Leaves out, the last chosen first, what the others make needless. */
function withoutNeedless(sets: Sets, chosen: Way): Way {
  const kept = new Set(chosen);
  for (const claim of [...chosen].reverse()) {
    if (sets.every((set) => set.some((one) => one !== claim && kept.has(one)))) kept.delete(claim);
  }
  return rising([...kept]);
}

/**
 * The ways out from which nothing can be left out, up to `most` of them, built up set by set (C. Berge, Hypergraphs,
 * 1989, ch. 2: minimal transversals). Ways are bit masks while they grow.
 */
function minimalWays(sets: Sets, most: number): { ways: readonly Way[]; complete: boolean } {
  const claims = rising([...new Set(sets.flat())]);
  const bit = new Map(claims.map((claim, place) => [claim, 1n << BigInt(place)] as const));
  const bitOf = (claim: number): bigint => bit.get(claim) as bigint;
  let ways: bigint[] = [0n];
  let complete = true;
  let visits = MOST_VISITS;
  for (const set of [...sets].sort((a, b) => a.length - b.length)) {
    const mask = set.reduce((sum, claim) => sum | bitOf(claim), 0n);
    const hitting = ways.filter((way) => (way & mask) !== 0n);
    visits -= ways.length;
    if (hitting.length === ways.length) continue;
    const grown = new Set<bigint>();
    for (const way of ways) {
      if ((way & mask) !== 0n) continue;
      for (const claim of set) {
        const larger = way | bitOf(claim);
        visits -= hitting.length;
        // A way that holds another whole one is not minimal.
        if (!hitting.some((other) => (other & larger) === other)) grown.add(larger);
      }
    }
    ways = [...hitting, ...grown];
    const room = visits > 0 ? most : 1;
    if (ways.length > room) {
      complete = false;
      ways = ways.slice(0, room);
    }
  }
  const found = ways.map((way) => claims.filter((claim) => (way & bitOf(claim)) !== 0n));
  return { ways: complete ? found : found.map((way) => withoutNeedless(sets, way)), complete };
}
