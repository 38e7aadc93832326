import type { Assumptions } from '../assumptions.ts';
import type { Rank } from '../services/rank.ts';
import { type Day, NO_END, NO_START, type Span } from '../time/span.ts';
import { type Passed, solveBoundaries } from './boundaries.ts';
import type { Career, Membership, Tenure } from './career.ts';
import { isSuccessive } from './evidence.ts';
import { adultLife, styleKept } from './life-membership.ts';
import { dailyRatio, inPost, layOut, outerDays, type PostMembership } from './membership.ts';

/** A time in which somebody could have borne a style without evidence of the post itself. */
export type CandidateTenure = {
  /** Undefined for the adult life of a person, whatever his rank. */
  readonly rank: Rank | undefined;
  /** The tenures of the career from which it follows. */
  readonly tenures: readonly number[];
  readonly possible: Span;
  readonly certain: Span | undefined;
  readonly provisional: boolean;
  readonly membership: Membership;
};

/**
 * Nobody begins a captain: for each succession of a service with main steps, the step just below the first known rank.
 * It ends where the first known tenure starts, begins at the earliest when its holder is of age, and has its weight
 * like any other; but it binds nothing else.
 *
 * @param mainSteps of each service, junior first.
 */
export function impliedBelow(
  career: Career,
  mainSteps: MainSteps,
  assumptions: Assumptions,
): readonly CandidateTenure[] {
  const known = knownBelow.get(career);
  if (known?.mainSteps === mainSteps && known.assumptions === assumptions) return known.found;
  const found = stepsBelow(career, mainSteps, assumptions);
  knownBelow.set(career, { mainSteps, assumptions, found });
  return found;
}

type MainSteps = ReadonlyMap<string, readonly Rank[]>;
type KnownBelow = { mainSteps: MainSteps; assumptions: Assumptions; found: readonly CandidateTenure[] };
const knownBelow = new WeakMap<Career, KnownBelow>();

function stepsBelow(career: Career, mainSteps: MainSteps, assumptions: Assumptions): readonly CandidateTenure[] {
  const found: CandidateTenure[] = [];
  for (const chain of career.chains) {
    const first = career.tenures[chain.tenures[0] as number] as Tenure;
    const rank = stepBelow(first.rank, mainSteps.get(first.rank.service));
    if (rank === undefined || !isSuccessive(first.kind) || first.rank.concurrent) continue;
    // A first post that nothing supports is itself the step below, or nothing is known to be below.
    const held = chain.tenures.map((at) => career.tenures[at] as Tenure).find(({ unsupported }) => !unsupported);
    if (held !== first && (!held || stepBelow(held.rank, mainSteps.get(held.rank.service)) !== rank)) continue;
    const { adultFrom } = career.life;
    const latestStart = (first.start.latest - 1) as Day;
    if (latestStart < adultFrom) continue;
    const earliestEnd = Math.max(first.start.earliest, adultFrom + 1) as Day;
    const layout = layOut(career, chain, assumptions);
    const membership = inPost(() => {
      const [start, end] = solveBoundaries(
        {
          earliest: [adultFrom, earliestEnd, ...layout.earliest.slice(1)],
          latest: [latestStart, ...layout.latest],
          stretches: [{ ratio: dailyRatio(rank, assumptions), least: 1, most: Infinity }, ...layout.stretches],
        },
        outerDays(assumptions),
      );
      return { start: start as Passed, end: end as Passed };
    });
    found.push({
      rank,
      tenures: [first.index],
      possible: { from: adultFrom, until: first.start.latest },
      certain: latestStart < earliestEnd ? { from: latestStart, until: earliestEnd } : undefined,
      provisional: first.provisional,
      membership,
    });
  }
  return found;
}

function stepBelow(rank: Rank, steps: readonly Rank[] | undefined): Rank | undefined {
  const { order, branch } = rank;
  // A surgeon or a paymaster was no lieutenant before: other branches have ladders of their own.
  if (order === undefined || branch !== undefined) return undefined;
  return steps?.filter((step) => step.order !== undefined && step.order < order).at(-1);
}

/**
 * A style that is kept after leaving: from the end of a tenure to the death of its holder. Whether the rank is one
 * whose style is kept is for the caller to know.
 */
export function courtesyTenure(
  career: Career,
  index: number,
  inPostThen: PostMembership,
  assumptions: Assumptions,
): CandidateTenure | undefined {
  const { rank, end, provisional } = career.tenures[index] as Tenure;
  const death = career.life.death ?? { earliest: NO_START, latest: NO_END };
  const until = (death.latest + 1) as Day;
  if (end.earliest >= until) return undefined;
  const certainUntil = (death.earliest + 1) as Day;
  return {
    rank,
    tenures: [index],
    possible: { from: end.earliest, until },
    certain: end.latest < certainUntil ? { from: end.latest, until: certainUntil } : undefined,
    provisional,
    membership: styleKept(() => inPostThen.boundaries().end, death, assumptions),
  };
}

/**
 * The adult life of a person, for marks that name no rank: certain between the first and the last day that he is known
 * in post, falling off exponentially before (mean `person.before`) and after (mean `person.after`), and cut off at the
 * minimum age and at death. Undefined where neither a post nor a date of life is known.
 */
export function lifeTenure(career: Career, assumptions: Assumptions): CandidateTenure | undefined {
  const { adultFrom, death } = career.life;
  const known = career.tenures.filter(({ implied }) => !implied);
  const days = known.flatMap(({ start, end }) => [start.latest, end.earliest - 1]).filter(Number.isFinite);
  if (days.length === 0) {
    if (Number.isFinite(adultFrom)) days.push(adultFrom);
    if (death !== undefined) days.push(...[death.earliest, death.latest].filter(Number.isFinite).slice(0, 1));
  }
  if (days.length === 0) return undefined;
  const possible: Span = { from: adultFrom, until: ((death?.latest ?? Infinity) + 1) as Day };
  const firstPost = Math.min(...known.map(({ start }) => start.latest)) as Day;
  const lastPost = Math.max(...known.map(({ end }) => end.earliest)) as Day;
  return {
    rank: undefined,
    tenures: known.map(({ index }) => index),
    possible,
    certain: firstPost < lastPost ? { from: firstPost, until: lastPost } : undefined,
    provisional: known.some(({ provisional }) => provisional),
    membership: adultLife(Math.min(...days), Math.max(...days), possible, assumptions),
  };
}
