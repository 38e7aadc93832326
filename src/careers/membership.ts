import { type Assumptions, DAYS_PER_YEAR, forRank } from '../assumptions.ts';
import type { Rank } from '../services/rank.ts';
import type { Day, Span } from '../time/span.ts';
import {
  addPassed,
  allPassed,
  type Boundaries,
  chancePassed,
  firstPassed,
  type Passed,
  type Stretch,
  solveBoundaries,
  weighPassed,
} from './boundaries.ts';
import type { Career, Chain, Membership, Tenure } from './career.ts';

/** When a post began and when it ended. */
export type PostBoundaries = { readonly start: Passed; readonly end: Passed };

export type PostMembership = Membership & { boundaries(): PostBoundaries };

/**
 * The chance, for each tenure of a career, that its holder was in post on a day: the share of all careers within the
 * bounds, each weighed by Π exp(−(end − start)/τ) with τ the usual time in post in that rank, in which
 * start <= day < end. All tenures of one chain are solved together, since they share boundaries; that is done when the
 * first of them is asked. 1 on the certain days, 0 outside the possible ones.
 */
export function memberships(career: Career, assumptions: Assumptions): readonly PostMembership[] {
  const known = knownOf.get(career);
  if (known?.assumptions === assumptions) return known.found;
  const found = membershipsOf(career, assumptions);
  knownOf.set(career, { assumptions, found });
  return found;
}

/** A person is a candidate, is looked up and left out: solved once for all of it. */
const knownOf = new WeakMap<Career, { assumptions: Assumptions; found: readonly PostMembership[] }>();

function membershipsOf(career: Career, assumptions: Assumptions): readonly PostMembership[] {
  const found: PostMembership[] = new Array(career.tenures.length);
  for (const chain of career.chains) {
    let solved: PostBoundaries[] | undefined;
    chain.tenures.forEach((index, place) => {
      found[index] = inPost(() => {
        solved ??= solveChain(career, chain, assumptions);
        return solved[place] as PostBoundaries;
      });
    });
  }
  return found;
}

function solveChain(career: Career, chain: Chain, assumptions: Assumptions): PostBoundaries[] {
  const layout = layOut(career, chain, assumptions);
  const passed = solveBoundaries(layout, outerDays(assumptions));
  return layout.startAt.map((start, place) => ({
    start: passed[start] as Passed,
    end: passed[layout.endAt[place] as number] as Passed,
  }));
}

/** Boundaries of a chain, with the places of each tenure's start and end among them. */
export type Layout = Boundaries & { readonly startAt: readonly number[]; readonly endAt: readonly number[] };

/** A boundary stands between two tenures that touch; where they need not, the gap is a stretch of its own. */
export function layOut(career: Career, chain: Chain, assumptions: Assumptions): Layout {
  const earliest: number[] = [];
  const latest: number[] = [];
  const stretches: Stretch[] = [];
  const startAt: number[] = [];
  const endAt: number[] = [];
  chain.tenures.forEach((index, place) => {
    const { rank, start, end } = career.tenures[index] as Tenure;
    const gap = place === 0 ? undefined : chain.gaps[place - 1];
    if (gap !== undefined) stretches.push({ ratio: 1, least: gap, most: Infinity });
    if (place === 0 || gap !== undefined) {
      earliest.push(start.earliest);
      latest.push(start.latest);
    }
    startAt.push(earliest.length - 1);
    stretches.push({
      ratio: dailyRatio(rank, assumptions),
      least: chain.leastDays[place] ?? 1,
      most: chain.mostDays[place] ?? Infinity,
    });
    earliest.push(end.earliest);
    latest.push(end.latest);
    endAt.push(earliest.length - 1);
  });
  return { earliest, latest, stretches, startAt, endAt };
}

/** The weight of one more day in a rank: exp(−1/τ), τ its usual time in post in days. */
export const dailyRatio = (rank: Rank, assumptions: Assumptions): number =>
  Math.exp(-1 / (forRank(assumptions, 'tenure.mean', rank.id) * DAYS_PER_YEAR));

/** Where nothing else limits a day, the horizon does. */
export const outerDays = ({ horizon }: Assumptions): { first: number; last: number } => ({
  first: horizon.from,
  last: horizon.until,
});

/** Membership between two boundaries, which are worked out when they are first needed, and once. */
export function inPost(work: () => PostBoundaries): PostMembership {
  let boundaries: PostBoundaries | undefined;
  const solve = (): PostBoundaries => {
    boundaries ??= work();
    return boundaries;
  };
  let support: Span | undefined;
  const supportOf = ({ start, end }: PostBoundaries): Span => {
    support ??= { from: firstPassed(start) as Day, until: allPassed(end) as Day };
    return support;
  };
  return {
    boundaries: solve,
    get support() {
      return supportOf(solve());
    },
    at(day) {
      const boundaries = solve();
      const { from, until } = supportOf(boundaries);
      if (day < from || day >= until) return 0;
      return Math.max(0, chancePassed(boundaries.start, day) - chancePassed(boundaries.end, day));
    },
    fill(out, from) {
      const boundaries = solve();
      const { from: first, until } = supportOf(boundaries);
      const begin = Math.min(out.length, Math.max(0, first - from));
      const end = Math.max(begin, Math.min(out.length, until - from));
      out.fill(0);
      addPassed(boundaries.start, out, from, begin, end, 1);
      addPassed(boundaries.end, out, from, begin, end, -1);
      for (let at = begin; at < end; at++) if ((out[at] as number) < 0) out[at] = 0;
    },
    weighed(days, { from, until }) {
      const { start, end } = solve();
      return weighPassed(start, days, from, until) - weighPassed(end, days, from, until);
    },
  };
}
