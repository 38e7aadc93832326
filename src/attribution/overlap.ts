import { ALLEN_RELATIONS, type AllenRelation, possibleRelations } from '../time/allen.ts';
import { type Day, intersection, type Span } from '../time/span.ts';
import type { CandidateInput } from './candidate.ts';

/** Days that tenures share with a window: from the first to the first no longer shared, and how many there are. */
export type Overlap = { readonly span: Span; readonly days: number };

/** What several spans share with the window together; days that two of them hold count once. */
export function overlap(spans: readonly Span[], window: Span): Overlap | undefined {
  const shared = spans
    .map((span) => intersection(span, window))
    .filter((span) => span !== undefined)
    .sort((a, b) => a.from - b.from || a.until - b.until);
  const first = shared[0];
  if (first === undefined) return undefined;
  let days = 0;
  let reached: number = first.from;
  for (const { from, until } of shared) {
    if (until <= reached) continue;
    days += until - Math.max(from, reached);
    reached = until;
  }
  return { span: { from: first.from, until: reached as Day }, days };
}

export type IntervalComparison = {
  /** Days of the window on which one of the tenures can have run; undefined if none. */
  readonly possible: Overlap | undefined;
  /** Days of the window on which one of the tenures must have run. */
  readonly certain: Overlap | undefined;
  /** Every relation that can hold between one of the tenures and the window, in Allen's order. */
  readonly relations: readonly AllenRelation[];
};

/** The plain arithmetic of spans, without any weights: a candidate's tenures against the window of the mark. */
export function compareWithWindow({ posts }: CandidateInput, window: Span): IntervalComparison {
  const tenures = posts.flatMap(({ tenure }) => (tenure === undefined ? [] : [tenure]));
  const relations = new Set(
    tenures.flatMap(({ start, end, lasting }) => possibleRelations(start, end, window, lasting)),
  );
  return {
    possible: overlap(
      tenures.map(({ possible }) => possible),
      window,
    ),
    certain: overlap(
      tenures.flatMap(({ certain }) => (certain === undefined ? [] : [certain])),
      window,
    ),
    relations: ALLEN_RELATIONS.filter((relation) => relations.has(relation)),
  };
}
