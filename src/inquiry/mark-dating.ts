import type { Assumptions } from '../assumptions.ts';
import { stretched, uniform } from '../dating/density.ts';
import { type Making, makingDensity } from '../dating/making.ts';
import type { RoleWeights } from '../dating/mark-roles.ts';
import { type Marking, markBetween, markDensity } from '../dating/marking.ts';
import { splitForce } from '../dating/recorded-force.ts';
import { HeldbyError } from '../errors.ts';
import type { EvidenceReader } from '../ledger/evidence.ts';
import {
  cluesOf,
  featuresOf,
  type MarkRow,
  marksOf,
  objectById,
  type RecordedClue,
  type RecordedFeature,
} from '../ledger/marks.ts';
import type { Db } from '../ledger/open.ts';
import type { Day, Span } from '../time/span.ts';

/** When a mark was put on, the records on which that rests, and the confirmed wordings that it is dated by. */
export type MarkDays = {
  readonly marking: Marking;
  readonly grounds: readonly string[];
  readonly dated: boolean;
  readonly clues: readonly RecordedClue[];
};

/** An object's features and the years to reckon with: its own horizon or the ledger's, made to hold its marks' dates. */
export type ObjectDays = {
  readonly horizon: Span;
  readonly features: readonly RecordedFeature[];
  readonly making: Making;
  readonly cluesOfMark: (mark: number) => readonly RecordedClue[];
};

/** @param without the id of a feature, or of a clue on a mark, that is left out. */
export function objectDays(
  db: Db,
  object: number,
  read: EvidenceReader,
  assumptions: Assumptions,
  without?: string,
): ObjectDays {
  const own = objectById(db, object)?.horizon_id;
  const stated = marksOf(db, object).flatMap(({ made_id }) => (made_id === null ? [] : [read.date(made_id).span]));
  const cluesOfMark = (mark: number) => cluesOf(db, mark, read.date).filter(({ id }) => id !== without);
  const firm = marksOf(db, object).flatMap(({ id }) => cluesOfMark(id).flatMap(firmDays));
  const horizon = stretched(
    own === null || own === undefined ? assumptions.horizon : closedBy(read.date(own).span, assumptions.horizon),
    [...stated, ...firm],
  );
  const features = featuresOf(db, object, read.date).filter(({ id }) => id !== without);
  const making = makingDensity(features.flatMap(splitForce), horizon);
  return { horizon, features, making, cluesOfMark };
}

/** An object's own horizon, an open side of it taken from the ledger's, or a century further where that lies beyond. */
const closedBy = ({ from, until }: Span, ledger: Span): Span => ({
  from: (Number.isFinite(from) ? from : Math.min(ledger.from, until - CENTURY_DAYS)) as Day,
  until: (Number.isFinite(until) ? until : Math.max(ledger.until, from + CENTURY_DAYS)) as Day,
});

const CENTURY_DAYS = 36_525;

/** Days that the horizon must hold for a clue that nothing is older than: a mark of 1973 or later is of some year. */
function firmDays({ window, force }: RecordedClue): Span[] {
  if (force === 'usual' || force === 'hard-end' || !Number.isFinite(window.from)) return [];
  return [{ from: window.from, until: Math.min(window.until, window.from + CENTURY_DAYS / 4) as Day }];
}

/** When a recorded mark was put on. */
export function markDaysOf(
  mark: MarkRow,
  { features, making, cluesOfMark }: ObjectDays,
  read: EvidenceReader,
  assumptions: Assumptions,
): MarkDays {
  const stated = mark.made_id === null ? undefined : read.date(mark.made_id).span;
  const clues = cluesOfMark(mark.id);
  const marking = markDensity(
    { id: `m${mark.id}`, roles: mark.roles, stated, clues: clues.flatMap(splitForce) },
    making.density,
    assumptions,
  );
  return {
    marking,
    grounds: [
      ...(stated === undefined ? [] : [`m${mark.id}`]),
      ...clues.map(({ id }) => id),
      ...features.filter(({ id }) => making.used.includes(id)).map(({ id }) => id),
    ],
    dated: marking.windowIs === 'stated',
    clues,
  };
}

/** When words of which nothing else is known were put on something: between two days, or on any day of the horizon. */
export function daysOfWords(between: Span | undefined, roles: RoleWeights, assumptions: Assumptions): MarkDays {
  const { horizon } = assumptions;
  if (between === undefined) {
    const marking = markDensity({ id: '', roles, stated: undefined, clues: [] }, uniform(horizon), assumptions);
    return { marking, grounds: [], dated: false, clues: [] };
  }
  return betweenDays(between, roles, horizon, assumptions);
}

/** A question's own days in the place of all that is known of the mark; the horizon is made to hold them. */
export function betweenDays(between: Span, roles: RoleWeights, horizon: Span, assumptions: Assumptions): MarkDays {
  const marking = markBetween(between, roles, stretched(horizon, [between]), assumptions);
  if (!marking)
    throw new HeldbyError(
      'USAGE',
      'The days asked for lie outside the horizon.',
      'Give days within it, or change it: heldby assume horizon A/B --why TEXT',
    );
  return { marking, grounds: [], dated: true, clues: [] };
}
