import { FIXED, type Network } from './network.ts';

/** Minimal sets of claims that cannot all be true, each in rising order; smallest sets first. */
export type Contradictions = {
  readonly sets: readonly (readonly number[])[];
  /** False where there were too many to go through them all. */
  readonly complete: boolean;
};

/** Steps of the search after which it is given up: far more than one person's evidence needs. */
const MOST_STEPS = 150_000;

/**
 * All minimal sets of claims whose constraints, with the fixed ones, contain a negative cycle.
 *
 * A minimal set belongs to a simple cycle, so it is enough to go through the simple cycles of nodes that can be
 * negative, and on each through the constraints that can stand for each step of it. A network of days is all but a
 * chain beside its origin, and has few cycles of nodes; most of the work is in parallel constraints.
 */
export function findContradictions(network: Network): Contradictions {
  const steps = collectSteps(network);
  const found = new Map<string, readonly number[]>();
  let budget = MOST_STEPS;

  function expand(cycle: readonly Step[], at: number, length: number, rest: number, claims: readonly number[]): void {
    if (budget-- <= 0) return;
    const step = cycle[at];
    if (step === undefined) {
      const set = [...claims].sort((a, b) => a - b);
      found.set(set.join(' '), set);
      return;
    }
    const restAfter = rest - step.least;
    for (const { w, claim } of step.choices) {
      if (length + w + restAfter >= 0) break; // choices stand shortest first
      const known = claim === FIXED || claims.includes(claim);
      expand(cycle, at + 1, length + w, restAfter, known ? claims : [...claims, claim]);
    }
  }

  /** Simple cycles through `start` and nodes above it only, so that each is met once. */
  function walk(start: number, node: number, path: Step[], length: number, visited: Set<number>): void {
    for (const step of steps[node] ?? []) {
      if (step.to < start || budget <= 0) continue;
      const total = length + step.least;
      path.push(step);
      if (step.to === start) {
        if (total < 0) expand(path, 0, 0, total, []);
      } else if (!visited.has(step.to)) {
        budget--;
        visited.add(step.to);
        walk(start, step.to, path, total, visited);
        visited.delete(step.to);
      }
      path.pop();
    }
  }

  for (let start = 0; start < network.nodes; start++) walk(start, start, [], 0, new Set());
  return { sets: minimalOnly([...found.values()]), complete: budget > 0 };
}

type Choice = { readonly w: number; readonly claim: number };

/** All constraints from one node to another, the shortest first. */
type Step = { readonly to: number; readonly choices: Choice[]; least: number };

function collectSteps(network: Network): Step[][] {
  const steps: Step[][] = Array.from({ length: network.nodes }, () => []);
  network.w.forEach((w, edge) => {
    const from = steps[network.y[edge] as number] as Step[];
    const to = network.x[edge] as number;
    let step = from.find((other) => other.to === to);
    if (step === undefined) {
      step = { to, choices: [], least: 0 };
      from.push(step);
    }
    step.choices.push({ w, claim: network.claim[edge] as number });
  });
  for (const step of steps.flat()) {
    // What always holds makes a claim that says no more superfluous.
    const fixed = Math.min(...step.choices.filter(({ claim }) => claim === FIXED).map(({ w }) => w));
    const useful = step.choices.filter(({ w, claim }) => (claim === FIXED ? w === fixed : w < fixed));
    step.choices.splice(0, step.choices.length, ...useful.sort((a, b) => a.w - b.w || a.claim - b.claim));
    step.least = (step.choices[0] as Choice).w;
  }
  return steps;
}

/** Leaves out every set that contains another. */
function minimalOnly(sets: (readonly number[])[]): (readonly number[])[] {
  sets.sort((a, b) => a.length - b.length || compareLists(a, b));
  const kept: (readonly number[])[] = [];
  const keptOf = new Map<number, (readonly number[])[]>(); // by the lowest claim of the set
  for (const set of sets) {
    const members = new Set(set);
    const contains = set.some((claim) => keptOf.get(claim)?.some((other) => other.every((one) => members.has(one))));
    if (contains) continue;
    kept.push(set);
    const lowest = set[0] as number;
    const others = keptOf.get(lowest);
    if (others === undefined) keptOf.set(lowest, [set]);
    else others.push(set);
  }
  return kept;
}

function compareLists(a: readonly number[], b: readonly number[]): number {
  for (let at = 0; at < a.length && at < b.length; at++) {
    if (a[at] !== b[at]) return (a[at] as number) - (b[at] as number);
  }
  return a.length - b.length;
}
