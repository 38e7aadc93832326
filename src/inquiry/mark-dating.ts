import type { Assumptions } from '../assumptions.ts';
import type { MarkRole } from '../dating/delay.ts';
import { stretched, uniform } from '../dating/density.ts';
import { type FeatureWindow, type Making, makingDensity } from '../dating/making.ts';
import { type Marking, markBetween, markDensity } from '../dating/marking.ts';
import { HeldbyError } from '../errors.ts';
import type { EvidenceReader } from '../ledger/evidence.ts';
import { featuresOf, type MarkRow, marksOf, objectById } from '../ledger/marks.ts';
import type { Db } from '../ledger/open.ts';
import type { Day, Span } from '../time/span.ts';

/** When a mark was put on, and the records on which that rests. */
export type MarkDays = { readonly marking: Marking; readonly grounds: readonly string[]; readonly dated: boolean };

/** An object's features and the years to reckon with: its own horizon or the ledger's, made to hold its marks' dates. */
export type ObjectDays = {
  readonly horizon: Span;
  readonly features: readonly FeatureWindow[];
  readonly making: Making;
};

export function objectDays(
  db: Db,
  object: number,
  read: EvidenceReader,
  assumptions: Assumptions,
  without?: string,
): ObjectDays {
  const own = objectById(db, object)?.horizon_id;
  const stated = marksOf(db, object).flatMap(({ made_id }) => (made_id === null ? [] : [read.date(made_id).span]));
  const horizon = stretched(
    own === null || own === undefined ? assumptions.horizon : closedBy(read.date(own).span, assumptions.horizon),
    stated,
  );
  const features = featuresOf(db, object, read.date).filter(({ id }) => id !== without);
  return { horizon, features, making: makingDensity(features, horizon) };
}

/** An object's own horizon, an open side of it taken from the ledger's, or a century further where that lies beyond. */
const closedBy = ({ from, until }: Span, ledger: Span): Span => ({
  from: (Number.isFinite(from) ? from : Math.min(ledger.from, until - CENTURY_DAYS)) as Day,
  until: (Number.isFinite(until) ? until : Math.max(ledger.until, from + CENTURY_DAYS)) as Day,
});

const CENTURY_DAYS = 36_525;

/** When a recorded mark was put on. */
export function markDaysOf(
  mark: MarkRow,
  { features, making }: ObjectDays,
  read: EvidenceReader,
  assumptions: Assumptions,
): MarkDays {
  const stated = mark.made_id === null ? undefined : read.date(mark.made_id).span;
  const marking = markDensity({ id: `m${mark.id}`, role: mark.role, stated, clues: [] }, making.density, assumptions);
  return {
    marking,
    grounds: [
      ...(stated === undefined ? [] : [`m${mark.id}`]),
      ...features.filter(({ id }) => making.used.includes(id)).map(({ id }) => id),
    ],
    dated: marking.windowIs === 'stated',
  };
}

/** When words of which nothing else is known were put on something: between two days, or on any day of the horizon. */
export function daysOfWords(between: Span | undefined, role: MarkRole, assumptions: Assumptions): MarkDays {
  const { horizon } = assumptions;
  if (between === undefined) {
    const marking = markDensity({ id: '', role, stated: undefined, clues: [] }, uniform(horizon), assumptions);
    return { marking, grounds: [], dated: false };
  }
  return betweenDays(between, role, horizon, assumptions);
}

/** A question's own days in the place of all that is known of the mark; the horizon is made to hold them. */
export function betweenDays(between: Span, role: MarkRole, horizon: Span, assumptions: Assumptions): MarkDays {
  const marking = markBetween(between, role, stretched(horizon, [between]), assumptions);
  if (!marking)
    throw new HeldbyError(
      'USAGE',
      'The days asked for lie outside the horizon.',
      'Give days within it, or change it: heldby assume horizon A/B --why TEXT',
    );
  return { marking, grounds: [], dated: true };
}
