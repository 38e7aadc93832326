/**
 * Ways out of contradictions: sets of claims that take at least one member from every contradicting set.
 *
 * @see R. Reiter, "A theory of diagnosis from first principles", Artificial Intelligence 32 (1987) 57–95: what must be
 * given up to restore consistency are the minimal hitting sets of the minimal contradicting sets.
 */
export type Prices = {
  /** Reliability of each claim; what is set aside is to cost as little as possible. */
  readonly reliability: readonly number[];
  /** Rank of each claim in giving way, 0 first: decides between ways that cost the same. */
  readonly turn: readonly number[];
};

type Sets = readonly (readonly number[])[];

/** Sets of claims looked at before the search is cut short and the best way found so far is taken. */
const MOST_VISITS = 400_000;

/** The way that costs the least; among equals the one with the claim that gives way first. In rising order. */
export function cheapestWayOut(sets: Sets, prices: Prices): readonly number[] {
  return independentParts(sets)
    .flatMap((part) => cheapestOfPart(part, prices))
    .sort((a, b) => a - b);
}

/** Groups of sets that share no claim with the sets of other groups. */
function independentParts(sets: Sets): Sets[] {
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

/**
 * Branch and bound. Costs are whole numbers: thousandths of reliability, followed by one bit for each claim, the
 * highest for the claim that gives way first and counted as a gain, so that no two ways cost the same.
 */
function cheapestOfPart(sets: Sets, prices: Prices): readonly number[] {
  const claims = [...new Set(sets.flat())].sort((a, b) => turnOf(prices, b) - turnOf(prices, a));
  const bits = BigInt(claims.length);
  const cost = new Map(
    claims.map((claim, bit) => [claim, (thousandths(prices, claim) << bits) - (1n << BigInt(bit))] as const),
  );
  const costOf = (claim: number): bigint => cost.get(claim) as bigint;
  let best = greedyWayOut(sets, costOf);
  let bestCost = best.reduce((sum, claim) => sum + costOf(claim), 0n);
  let visits = MOST_VISITS;

  function search(open: Sets, chosen: readonly number[], soFar: bigint): void {
    if (open.length === 0) {
      if (soFar < bestCost) {
        best = chosen;
        bestCost = soFar;
      }
      return;
    }
    visits -= open.length;
    if (visits < 0 || soFar + leastCost(open, costOf) >= bestCost) return;
    const branch = open.reduce((least, set) => (set.length < least.length ? set : least));
    const hits = (claim: number) => open.reduce((count, set) => count + (set.includes(claim) ? 1 : 0), 0);
    const order = branch.map((claim) => ({ claim, hits: hits(claim) })).sort((a, b) => b.hits - a.hits);
    const refused = new Set<number>();
    for (const { claim } of order) {
      const left: (readonly number[])[] = [];
      let possible = true;
      for (const set of open) {
        if (set.includes(claim)) continue;
        const rest = refused.size === 0 ? set : set.filter((one) => !refused.has(one));
        if (rest.length === 0) possible = false;
        left.push(rest);
      }
      if (possible) search(left, [...chosen, claim], soFar + costOf(claim));
      refused.add(claim); // every way with it has now been seen
    }
  }

  search(sets, [], 0n);
  return best;
}

const turnOf = ({ turn }: Prices, claim: number): number => turn[claim] as number;

/** At least one, so that nothing is set aside without need. */
const thousandths = ({ reliability }: Prices, claim: number): bigint =>
  BigInt(Math.max(1, Math.round((reliability[claim] as number) * 1000)));

/**
 * What any way out of these sets costs at least. Each set in turn charges its members what the least of them still has
 * to pay; the charges together are never more than any way pays (weak duality; R. Bar-Yehuda and S. Even, "A linear
 * time approximation algorithm for the weighted vertex cover problem", Journal of Algorithms 2 (1981) 198–203).
 */
function leastCost(sets: Sets, costOf: (claim: number) => bigint): bigint {
  const left = new Map<number, bigint>();
  let charged = 0n;
  for (const set of sets) {
    let least: bigint | undefined;
    for (const claim of set) {
      const open = left.get(claim) ?? costOf(claim);
      if (least === undefined || open < least) least = open;
    }
    if (least === undefined || least <= 0n) continue;
    for (const claim of set) left.set(claim, (left.get(claim) ?? costOf(claim)) - least);
    charged += least;
  }
  return charged;
}

/** A way that is good enough to begin with: the claim that clears most for its cost, again and again. */
function greedyWayOut(sets: Sets, costOf: (claim: number) => bigint): readonly number[] {
  const chosen: number[] = [];
  let open = sets;
  while (open.length > 0) {
    const hits = new Map<number, number>();
    for (const set of open) for (const claim of set) hits.set(claim, (hits.get(claim) ?? 0) + 1);
    const [next] = [...hits].reduce((a, b) => (costOf(b[0]) * BigInt(a[1]) < costOf(a[0]) * BigInt(b[1]) ? b : a));
    chosen.push(next);
    open = open.filter((set) => !set.includes(next));
  }
  return withoutNeedless(sets, chosen);
}

/** Leaves out, the last chosen first, what the others make needless. */
function withoutNeedless(sets: Sets, chosen: readonly number[]): readonly number[] {
  let kept = chosen;
  for (const claim of [...chosen].reverse()) {
    const without = kept.filter((one) => one !== claim);
    if (sets.every((set) => set.some((one) => without.includes(one)))) kept = without;
  }
  return kept;
}

/**
 * Every way out from which nothing can be left out, in no particular order, up to `most` of them. Built up set by set
 * (C. Berge, Hypergraphs, 1989, ch. 2: minimal transversals).
 */
export function minimalWaysOut(sets: Sets, most: number): { ways: readonly (readonly number[])[]; complete: boolean } {
  let ways: (readonly number[])[] = [[]];
  let complete = true;
  for (const set of [...sets].sort((a, b) => a.length - b.length)) {
    const hitting = ways.filter((way) => set.some((claim) => way.includes(claim)));
    const grown = new Map<string, readonly number[]>();
    for (const way of ways) {
      if (hitting.includes(way)) continue;
      for (const claim of set) {
        // A way that holds another whole one is not minimal.
        if (
          hitting.some((other) => other.includes(claim) && other.every((one) => one === claim || way.includes(one)))
        ) {
          continue;
        }
        const larger = [...way, claim].sort((a, b) => a - b);
        grown.set(larger.join(' '), larger);
      }
    }
    ways = [...hitting, ...grown.values()];
    if (ways.length > most) {
      complete = false;
      ways = ways.slice(0, most);
    }
  }
  return { ways: ways.map((way) => withoutNeedless(sets, way)), complete };
}
