import type {
  CareerEvidence,
  Condition,
  DateEvidence,
  LifeDate,
  ListedEntry,
  NilSearch,
  Notice,
  NoticeEvent,
} from '../../src/careers/evidence.ts';
import type { Rank } from '../../src/services/rank.ts';
import { gregorianDay } from '../../src/time/calendar.ts';
import type { Day, Span } from '../../src/time/span.ts';

/** Days in the tests are written as ISO dates, or as plain day numbers where the calendar plays no part. */
export type Written = string | number;

export function day(written: Written): Day {
  if (typeof written === 'number') return written as Day;
  const [year, month, dayOfMonth] = written.split('-').map(Number);
  return gregorianDay(year ?? 0, month ?? 1, dayOfMonth ?? 1);
}

const span = (first: Written, last: Written): Span => ({ from: day(first), until: (day(last) + 1) as Day });

/** One day, a span of both days and all between, or a date that is uncertain. */
export function date(first: Written, last: Written = first, uncertain = false): DateEvidence {
  return { span: span(first, last), uncertain, text: first === last ? `${first}` : `${first}/${last}` };
}

const rung = (id: string, title: string, order: number, step: number | undefined): Rank => ({
  id,
  title,
  order,
  step,
  service: 'army',
  courtesy: 'yes',
  concurrent: false,
});

export const ensign = rung('ensign', 'Ensign', 10, 0);
export const lieutenant = rung('lieutenant', 'Lieutenant', 20, 1);
export const captainLieutenant = rung('captain-lieutenant', 'Captain-Lieutenant', 30, undefined);
export const captain = rung('captain', 'Captain', 40, 2);
export const major = rung('major', 'Major', 60, 3);
const lieutenantColonel = rung('lieutenant-colonel', 'Lieutenant-Colonel', 70, 4);
export const colonel = rung('colonel', 'Colonel', 80, 5);
export const adjutant: Rank = { ...rung('adjutant', 'Adjutant', 15, undefined), concurrent: true };
/** An office in a service without a ladder. */
export const office = (id: string): Rank => ({
  id,
  title: id,
  service: 'harbour board',
  order: undefined,
  step: undefined,
  courtesy: 'no',
  concurrent: false,
});

export const MAIN_STEPS: ReadonlyMap<string, readonly Rank[]> = new Map([
  ['army', [ensign, lieutenant, captain, major, lieutenantColonel, colonel]],
]);

const corps = (name: string | undefined) => (name === undefined ? undefined : { key: name.toLowerCase(), name });

type ListedWith = {
  readonly last?: Written;
  readonly lag?: number;
  readonly corps?: string | undefined;
  readonly dated?: DateEvidence;
  readonly kind?: ListedEntry['kind'];
  readonly key?: string;
  readonly uncertain?: boolean;
};

/** Listed in the edition that stands as at a day; in the 2nd Fencibles unless it is said otherwise. */
export function listed(id: string, asAt: Written, rank: Rank, more: ListedWith = {}): ListedEntry {
  return {
    id,
    key: more.key,
    edition: {
      id: `ed${asAt}`,
      label: `${asAt}`.slice(0, 4),
      asAt: date(asAt, more.last ?? asAt, more.uncertain),
      lagDays: more.lag ?? 0,
    },
    rank,
    corps: corps('corps' in more ? more.corps : '2nd Fencibles'),
    kind: more.kind ?? 'substantive',
    dated: more.dated,
    page: undefined,
  };
}

export const notFound = (
  id: string,
  asAt: Written,
  more: { readonly last?: Written; readonly lag?: number; readonly service?: string } = {},
): NilSearch => ({
  id,
  edition: {
    id: `ed${asAt}`,
    label: `${asAt}`.slice(0, 4),
    asAt: date(asAt, more.last ?? asAt),
    lagDays: more.lag ?? 0,
  },
  service: more.service ?? 'army',
});

type NoticeWith = {
  readonly last?: Written;
  readonly rank?: Rank;
  readonly corps?: string;
  readonly service?: string;
  readonly kind?: Notice['kind'];
  readonly uncertain?: boolean;
};

export const notice = (id: string, event: NoticeEvent, on: Written, more: NoticeWith = {}): Notice => ({
  id,
  event,
  date: date(on, more.last ?? on, more.uncertain),
  service: more.service ?? more.rank?.service,
  rank: more.rank,
  corps: corps(more.corps),
  kind: more.kind ?? 'substantive',
  source: 'Gazette',
});

export const condition = (id: string, rank: Rank, atLeastDays?: number, atMostDays?: number): Condition => ({
  id,
  rank,
  atLeastDays,
  atMostDays,
});

export const life = (id: string, first: Written, last: Written = first): LifeDate => ({ id, date: date(first, last) });

/** Evidence on one person from its parts; what is not given is not recorded. */
export const evidence = (parts: Partial<CareerEvidence>): CareerEvidence => ({
  entries: [],
  notices: [],
  nilSearches: [],
  conditions: [],
  born: undefined,
  died: undefined,
  setAside: new Set(),
  mainSteps: MAIN_STEPS,
  ...parts,
});
