/**
 * A network of difference constraints x − y <= w between whole days ("simple temporal problem").
 *
 * Node 0 is the origin, day 0; the other nodes are unknown days. A constraint is an edge from y to x of length w. The
 * tightest upper bound of an unknown is the shortest path from the origin to it; its tightest lower bound is the
 * shortest path from it to the origin, with the sign changed; and the constraints can all hold exactly if no cycle has
 * a negative length.
 *
 * @see R. Dechter, I. Meiri, J. Pearl, "Temporal constraint networks", Artificial Intelligence 49 (1991) 61–95.
 * @see R. Bellman, "On a routing problem", Quarterly of Applied Mathematics 16 (1958) 87–90; J. Y. Yen, ibid. 27
 * (1970) 526–530, for going through the edges forwards and backwards by turns.
 */
export type Network = {
  readonly nodes: number;
  /** Parallel arrays, one place for each constraint `x[k] − y[k] <= w[k]`. All w are finite. */
  readonly x: number[];
  readonly y: number[];
  readonly w: number[];
  /** The claim that makes the constraint, or FIXED. */
  readonly claim: number[];
};

/** In place of a claim: the constraint holds by the nature of the thing and can never be set aside. */
export const FIXED = -1;

export const ORIGIN = 0;

export const emptyNetwork = (nodes: number): Network => ({ nodes, x: [], y: [], w: [], claim: [] });

/** Adds x − y <= w; an infinite w says nothing and is left out. */
export function constrain(network: Network, x: number, y: number, w: number, claim: number): void {
  if (w === Infinity) return;
  network.x.push(x);
  network.y.push(y);
  network.w.push(w);
  network.claim.push(claim);
}

/** first <= x, unless first is −Infinity. */
export const notBefore = (network: Network, x: number, first: number, claim: number): void =>
  constrain(network, ORIGIN, x, -first, claim);

/** x <= last, unless last is Infinity. */
export const notAfter = (network: Network, x: number, last: number, claim: number): void =>
  constrain(network, x, ORIGIN, last, claim);

type Paths = {
  /** Length of the shortest path for each node; Infinity where there is none. */
  readonly length: Float64Array;
  /** The last constraint of that path, −1 at its start. */
  readonly via: Int32Array;
  /** A node on, or led to from, a negative cycle; −1 where there is none. */
  readonly endless: number;
};

/**
 * Shortest paths from the origin (`backwards`: to the origin; `everywhere`: from all nodes at once, each at 0). Among
 * paths of one length the one of least cost is taken; `cost` is the price of each claim, and must be positive, so that
 * no path can be made cheaper by going round.
 */
function shortestPaths(network: Network, cost: Float64Array, backwards: boolean, everywhere: boolean): Paths {
  const { nodes, w, claim } = network;
  const tail = backwards ? network.x : network.y;
  const head = backwards ? network.y : network.x;
  const edges = w.length;
  const length = new Float64Array(nodes);
  const price = new Float64Array(nodes);
  const via = new Int32Array(nodes).fill(-1);
  if (!everywhere) {
    length.fill(Infinity);
    price.fill(Infinity);
    length[ORIGIN] = 0;
    price[ORIGIN] = 0;
  }
  // A round that goes forwards and then backwards settles at least one node, so `nodes` rounds are enough for any
  // network without a negative cycle.
  for (let round = 0; round <= nodes; round++) {
    let changed = -1;
    for (let turn = 0; turn < 2; turn++) {
      for (let step = 0; step < edges; step++) {
        const edge = turn === 0 ? step : edges - 1 - step;
        const from = tail[edge] as number;
        const to = head[edge] as number;
        const newLength = (length[from] as number) + (w[edge] as number);
        if (newLength > (length[to] as number)) continue;
        const by = claim[edge] as number;
        const newPrice = by === FIXED ? (price[from] as number) : (price[from] as number) + (cost[by] as number);
        if (newLength < (length[to] as number) || newPrice < (price[to] as number)) {
          length[to] = newLength;
          price[to] = newPrice;
          via[to] = edge;
          changed = to;
        }
      }
    }
    if (changed < 0) return { length, via, endless: -1 };
    if (round === nodes) return { length, via, endless: changed };
  }
  return { length, via, endless: -1 };
}

/**
 * The claims of one negative cycle, in rising order; undefined where the network is consistent. An empty list would
 * mean that fixed constraints contradict each other. Every node is a start, since a part of the network need not be
 * joined to the origin.
 */
export function contradiction(network: Network, cost: Float64Array): readonly number[] | undefined {
  const { via, endless } = shortestPaths(network, cost, false, true);
  if (endless < 0) return undefined;
  let node = endless;
  for (let step = 0; step < network.nodes; step++) node = network.y[via[node] as number] as number; // now on the cycle
  const claims = new Set<number>();
  const start = node;
  do {
    const edge = via[node] as number;
    const by = network.claim[edge] as number;
    if (by !== FIXED) claims.add(by);
    node = network.y[edge] as number;
  } while (node !== start);
  return [...claims].sort((a, b) => a - b);
}

/** The tightest bounds of every node, both inclusive, and the claims on which they rest. */
export type NetworkBounds = {
  readonly earliest: Float64Array;
  readonly latest: Float64Array;
  earliestGrounds(node: number): readonly number[];
  latestGrounds(node: number): readonly number[];
};

/** Bounds of a consistent network. `cost` ranks paths of the same length: see `shortestPaths`. */
export function tightestBounds(network: Network, cost: Float64Array): NetworkBounds {
  const from = shortestPaths(network, cost, false, false);
  const to = shortestPaths(network, cost, true, false);
  const earliest = to.length;
  for (let node = 0; node < network.nodes; node++) earliest[node] = 0 - (earliest[node] as number);
  return {
    earliest,
    latest: from.length,
    earliestGrounds: (node) => claimsAlong(network, to.via, node, network.x),
    latestGrounds: (node) => claimsAlong(network, from.via, node, network.y),
  };
}

function claimsAlong(network: Network, via: Int32Array, node: number, before: readonly number[]): readonly number[] {
  const claims: number[] = [];
  for (let at = node, edge = via[at] as number; edge >= 0; edge = via[at] as number) {
    const by = network.claim[edge] as number;
    if (by !== FIXED && !claims.includes(by)) claims.push(by);
    at = before[edge] as number;
  }
  return claims;
}
