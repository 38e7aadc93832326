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
  /** A node on, or led to from, a negative cycle; −1 where none was met. */
  readonly endless: number;
};

/**
 * The constraints that can carry a bound: of those between the origin and one node only the tightest, the cheapest
 * among equals. A person's evidence is mostly such, and this leaves a few of them.
 */
function usefulEdges({ nodes, x, y, w, claim }: Network, cost: Float64Array): Int32Array {
  const upper = new Int32Array(nodes).fill(-1);
  const lower = new Int32Array(nodes).fill(-1);
  const useful = new Int32Array(w.length);
  let count = 0;
  const price = (edge: number): number => {
    const by = claim[edge] as number;
    return by === FIXED ? 0 : (cost[by] as number);
  };
  for (let edge = 0; edge < w.length; edge++) {
    const best = y[edge] === ORIGIN ? upper : x[edge] === ORIGIN ? lower : undefined;
    if (best === undefined) {
      useful[count++] = edge;
      continue;
    }
    const node = (x[edge] as number) + (y[edge] as number);
    const known = best[node] as number;
    const shorter = known < 0 ? -1 : (w[edge] as number) - (w[known] as number);
    if (shorter < 0 || (shorter === 0 && price(edge) < price(known))) best[node] = edge;
  }
  for (let node = 0; node < nodes; node++) {
    if ((upper[node] as number) >= 0) useful[count++] = upper[node] as number;
    if ((lower[node] as number) >= 0) useful[count++] = lower[node] as number;
  }
  return useful.subarray(0, count);
}

/**
 * Shortest paths over the given edges from the origin (`backwards`: to the origin; `everywhere`: from all nodes at
 * once, each at 0). Among paths of one length the one of least cost is taken; `cost` is the price of each claim, and
 * must be positive, so that no path can be made cheaper by going round.
 */
function shortestPaths(
  network: Network,
  edges: Int32Array,
  cost: Float64Array,
  backwards: boolean,
  everywhere: boolean,
): Paths {
  const { nodes, w, claim } = network;
  const tail = backwards ? network.x : network.y;
  const head = backwards ? network.y : network.x;
  const last = edges.length - 1;
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
  let endless = -1;
  for (let round = 0; round <= nodes; round++) {
    let changed = -1;
    for (let step = -1 - last; step <= last; step++) {
      const edge = edges[step < 0 ? last + 1 + step : last - step] as number;
      const from = tail[edge] as number;
      const to = head[edge] as number;
      const newLength = (length[from] as number) + (w[edge] as number);
      if (newLength > (length[to] as number) || newLength === Infinity) continue;
      const by = claim[edge] as number;
      const newPrice = by === FIXED ? (price[from] as number) : (price[from] as number) + (cost[by] as number);
      if (newLength < (length[to] as number) || newPrice < (price[to] as number)) {
        length[to] = newLength;
        price[to] = newPrice;
        via[to] = edge;
        changed = to;
      }
    }
    endless = changed;
    if (changed < 0 || (!everywhere && (length[ORIGIN] as number) < 0)) break;
  }
  return { length, via, endless };
}

/**
 * The claims of one negative cycle, in rising order; undefined where the network is consistent. An empty list would
 * mean that fixed constraints contradict each other. Every node is a start, since a part of the network need not be
 * joined to the origin.
 */
export function contradiction(network: Network, cost: Float64Array): readonly number[] | undefined {
  const { via, endless } = shortestPaths(network, usefulEdges(network, cost), cost, false, true);
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
  /** The constraints of the path behind a bound, from the node to the origin; empty where the side is open. */
  earliestPath(node: number): readonly PathStep[];
  latestPath(node: number): readonly PathStep[];
};

/** One constraint of a path: x − y <= w, by a claim or FIXED. */
export type PathStep = { readonly x: number; readonly y: number; readonly w: number; readonly claim: number };

/**
 * The bounds of a network, undefined where its constraints contradict each other. `cost` ranks paths of the same
 * length: see `shortestPaths`.
 */
export function tightestBounds(network: Network, cost: Float64Array): NetworkBounds | undefined {
  const edges = usefulEdges(network, cost);
  const from = shortestPaths(network, edges, cost, false, false);
  if (from.endless >= 0) return undefined;
  const to = shortestPaths(network, edges, cost, true, false);
  if (to.endless >= 0) return undefined;
  const earliest = to.length;
  let apart = false; // a node that nothing joins to the origin, so that a cycle there was not met
  for (let node = 0; node < network.nodes; node++) {
    if (earliest[node] === Infinity && from.length[node] === Infinity) apart = true;
    earliest[node] = 0 - (earliest[node] as number);
  }
  if (apart && shortestPaths(network, edges, cost, false, true).endless >= 0) return undefined;
  return {
    earliest,
    latest: from.length,
    earliestGrounds: (node) => claimsAlong(network, to.via, node, network.x),
    latestGrounds: (node) => claimsAlong(network, from.via, node, network.y),
    earliestPath: (node) => stepsAlong(network, to.via, node, network.x),
    latestPath: (node) => stepsAlong(network, from.via, node, network.y),
  };
}

function stepsAlong(network: Network, via: Int32Array, node: number, before: readonly number[]): readonly PathStep[] {
  const { x, y, w, claim } = network;
  const steps: PathStep[] = [];
  for (let at = node, edge = via[at] as number; edge >= 0; edge = via[at] as number) {
    steps.push({ x: x[edge] as number, y: y[edge] as number, w: w[edge] as number, claim: claim[edge] as number });
    at = before[edge] as number;
  }
  return steps;
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
