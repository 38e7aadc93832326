import type { Day, Span } from './span.ts';

/**
 * The thirteen relations between two stretches of time, each with its converse at the mirrored place:
 * J. F. Allen, Maintaining Knowledge about Temporal Intervals, Communications of the ACM 26 (1983), 832–843.
 */
export const ALLEN_RELATIONS = [
  'before',
  'meets',
  'overlaps',
  'finished by',
  'contains',
  'starts',
  'equals',
  'started by',
  'during',
  'finishes',
  'overlapped by',
  'met by',
  'after',
] as const;

export type AllenRelation = (typeof ALLEN_RELATIONS)[number];

/** Bounds of an unknown day, both inclusive; either may be infinite. */
type DayBounds = { readonly earliest: Day; readonly latest: Day };

/** How span `a` stands to span `b`. Open sides count as one and the same point beyond all days. */
export function relationOf(a: Span, b: Span): AllenRelation {
  if (a.until < b.from) return 'before';
  if (a.until === b.from) return 'meets';
  if (a.from > b.until) return 'after';
  if (a.from === b.until) return 'met by';
  if (a.from < b.from) return a.until < b.until ? 'overlaps' : a.until === b.until ? 'finished by' : 'contains';
  if (a.from === b.from) return a.until < b.until ? 'starts' : a.until === b.until ? 'equals' : 'started by';
  return a.until < b.until ? 'during' : a.until === b.until ? 'finishes' : 'overlapped by';
}

/** If `a` stands so to `b`, how `b` stands to `a`. */
export function converse(relation: AllenRelation): AllenRelation {
  if (relation === 'equals') return 'equals';
  const mirrored: Partial<Record<AllenRelation, AllenRelation>> = {
    before: 'after',
    meets: 'met by',
    overlaps: 'overlapped by',
    'finished by': 'finishes',
    contains: 'during',
    starts: 'started by',
    after: 'before',
    'met by': 'meets',
    'overlapped by': 'overlaps',
    finishes: 'finished by',
    during: 'contains',
    'started by': 'starts',
  };
  return mirrored[relation] ?? relation;
}

let compositions: Map<string, readonly AllenRelation[]> | undefined;

/**
 * Allen's table of composition: given how `a` stands to `b` and `b` to `c`, how `a` can stand to `c`. It is made on
 * first use from every triple of spans on the points 0 to 5: three spans have at most six different ends, so that no
 * order of ends is missing.
 */
export function compose(ab: AllenRelation, bc: AllenRelation): readonly AllenRelation[] {
  compositions ??= allCompositions();
  return compositions.get(`${ab}|${bc}`) ?? [];
}

function allCompositions(): Map<string, readonly AllenRelation[]> {
  const spans: Span[] = [];
  for (let from = 0; from < 5; from++) {
    for (let until = from + 1; until <= 5; until++) spans.push({ from: from as Day, until: until as Day });
  }
  const found = new Map<string, Set<AllenRelation>>();
  for (const a of spans) {
    for (const b of spans) {
      for (const c of spans) {
        const key = `${relationOf(a, b)}|${relationOf(b, c)}`;
        const set = found.get(key) ?? new Set<AllenRelation>();
        found.set(key, set.add(relationOf(a, c)));
      }
    }
  }
  return new Map([...found].map(([key, set]) => [key, ALLEN_RELATIONS.filter((relation) => set.has(relation))]));
}

/** A stretch of finite days, both ends inside. */
type Reach = readonly [lowest: number, highest: number];

/** How many days something lasts, both inclusive; `most` may be infinite. */
export type Lasting = { readonly least: number; readonly most: number };

const A_DAY_OR_MORE: Lasting = { least: 1, most: Infinity };

/**
 * Which relations can hold between a tenure and a fixed window: the tenure's first day lies within `start`, the first
 * day no longer in post within `end`, and it lasts as long as `lasting` says. Each relation says of either end where it lies
 * against the ends of the window, so that it can hold if both ends have such days left, as far apart as that.
 * The unknown ends are days, however far the bounds reach, so that they never coincide with an open side of the window.
 * In the order of ALLEN_RELATIONS.
 */
export function possibleRelations(
  start: DayBounds,
  end: DayBounds,
  window: Span,
  { least, most }: Lasting = A_DAY_OR_MORE,
): AllenRelation[] {
  const { from, until } = window;
  const [first, last] = [start, end].map(({ earliest, latest }): Reach => [earliest, latest]);
  if (first === undefined || last === undefined) return [];
  const below = (reach: Reach, limit: number): Reach => [reach[0], Math.min(reach[1], limit - 1)];
  const above = (reach: Reach, limit: number): Reach => [Math.max(reach[0], limit + 1), reach[1]];
  const at = (reach: Reach, point: number): Reach =>
    Number.isFinite(point) ? [Math.max(reach[0], point), Math.min(reach[1], point)] : [1, 0];
  const inside = (reach: Reach): Reach => below(above(reach, from), until);
  const ends: Record<AllenRelation, readonly [start: Reach, end: Reach]> = {
    before: [first, below(last, from)],
    meets: [first, at(last, from)],
    overlaps: [below(first, from), inside(last)],
    'finished by': [below(first, from), at(last, until)],
    contains: [below(first, from), above(last, until)],
    starts: [at(first, from), inside(last)],
    equals: [at(first, from), at(last, until)],
    'started by': [at(first, from), above(last, until)],
    during: [inside(first), inside(last)],
    finishes: [inside(first), at(last, until)],
    'overlapped by': [inside(first), above(last, until)],
    'met by': [at(first, until), last],
    after: [above(first, until), last],
  };
  return ALLEN_RELATIONS.filter((relation) => {
    const [s, e] = ends[relation];
    return holdsDays(s) && holdsDays(e) && e[1] - s[0] >= least && e[0] - s[1] <= most;
  });
}

/** Has at least one finite day. */
const holdsDays = ([lowest, highest]: Reach): boolean => lowest <= highest && lowest < Infinity && highest > -Infinity;
