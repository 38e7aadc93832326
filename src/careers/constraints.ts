import type { Assumptions } from '../assumptions.ts';
import { plusMonths } from '../time/evidence-date.ts';
import { type Day, intersection, type Span } from '../time/span.ts';
import type { Appointment, Appointments } from './appointments.ts';
import {
  conditionClaim,
  datedClaim,
  lifeClaim,
  listedClaim,
  nilClaim,
  noticeClaim,
  type RecordedClaim,
} from './claims.ts';
import type { CareerEvidence, Condition, ListedEntry, Notice } from './evidence.ts';
import { constrain, emptyNetwork, FIXED, type Network, notAfter, notBefore } from './network.ts';

/** Appointments that stand one after another in `slots`, from `first` to `last`; a concurrent one stands alone. */
export type Row = {
  readonly service: string;
  readonly first: number;
  readonly last: number;
  readonly concurrent: boolean;
};

/** A person's unknown days and what is claimed of them. */
export type Model = {
  readonly slots: readonly Appointment[];
  readonly rows: readonly Row[];
  /** All claims but those of nil searches, which come after them. */
  readonly positive: readonly RecordedClaim[];
  /** The constraints of the positive claims, without those that always hold. */
  readonly claimed: Network;
  readonly nilSearches: readonly (RecordedClaim & { readonly part: 'nil' })[];
};

export const startNode = (slot: number): number => 1 + 2 * slot;
export const endNode = (slot: number): number => 2 + 2 * slot;

/**
 * Claims as difference constraints on the first day in post (start) and the first day no longer in post (end).
 *
 * 1. Stated start, stated end, in [a, b]: a <= start <= b, a <= end <= b.
 * 2. Listed in an edition that stands as at [p, q] and lags up to L days: there is a day x with p − L <= x <= q,
 *    start <= x and end >= x + 1. Each claim has its own x, which nothing else binds, so that it drops out of the
 *    network (Fourier and Motzkin's elimination): start <= q, end >= p − L + 1.
 * 3. Born: the first start is not before birth and the minimum age. Died: the last end is not after death + 1.
 * 4. Condition of service: at least, at most so many days from start to end.
 *
 * A date of rank that stands word for word the same beside an earlier post in that rank, or before days on which that
 * post was still held, binds only that one, since lists print when the rank was reached and not the post.
 */
export function makeModel(
  evidence: CareerEvidence,
  { successions, concurrent }: Appointments,
  assumptions: Assumptions,
): Model {
  const slots: Appointment[] = [];
  const rows: Row[] = [];
  const add = (service: string, appointments: readonly Appointment[], isConcurrent: boolean) => {
    const first = slots.length;
    slots.push(...appointments);
    rows.push({ service, first, last: slots.length - 1, concurrent: isConcurrent });
  };
  const addConcurrent = (service: string | undefined) => {
    for (const one of concurrent) {
      const settled = successions.some((other) => other.service === one.rank.service);
      if (service === undefined ? !settled : one.rank.service === service) add(one.rank.service, [one], true);
    }
  };
  for (const { service, appointments } of successions) {
    add(service, appointments, false);
    if (concurrent.length > 0) addConcurrent(service);
  }
  if (concurrent.length > 0) addConcurrent(undefined);
  const maker: Maker = { slots, rows, positive: [], claimed: emptyNetwork(1 + 2 * slots.length), assumptions };
  for (const row of rows) claimsOfRow(maker, row);
  claimsOfLife(maker, evidence);
  for (const record of evidence.conditions) claimOfCondition(maker, record);
  const nilSearches = evidence.nilSearches.map((record) => nilClaim(record, assumptions));
  return { slots, rows, positive: maker.positive, claimed: maker.claimed, nilSearches };
}

type Maker = {
  readonly slots: readonly Appointment[];
  readonly rows: readonly Row[];
  readonly positive: RecordedClaim[];
  readonly claimed: Network;
  readonly assumptions: Assumptions;
};

/** Adds the claim that is to be the next and that a day lies within a span. */
function claimWithin({ positive, claimed }: Maker, node: number, { from, until }: Span, claim: RecordedClaim): void {
  notBefore(claimed, node, from, positive.length);
  notAfter(claimed, node, until - 1, positive.length);
  positive.push(claim);
}

function claimsOfRow(maker: Maker, row: Row): void {
  const { slots, positive, claimed, assumptions } = maker;
  for (let slot = row.first; slot <= row.last; slot++) {
    const { entries, starts, ends } = slots[slot] as Appointment;
    for (const entry of entries) {
      const { asAt, lagDays } = entry.edition;
      notAfter(claimed, startNode(slot), asAt.span.until - 1, positive.length);
      notBefore(claimed, endNode(slot), asAt.span.from - lagDays + 1, positive.length);
      positive.push(listedClaim(entry, assumptions));
      if (entry.dated === undefined) continue;
      const dated = startNode(firstDatedSo(slots, row, slot, entry.dated.span));
      claimWithin(maker, dated, entry.dated.span, datedClaim(entry, entry.dated, assumptions));
    }
    for (const notice of starts) {
      claimWithin(maker, startNode(slot), notice.date.span, noticeClaim(notice, 'start', assumptions));
    }
    for (const notice of ends) {
      claimWithin(maker, endNode(slot), notice.date.span, noticeClaim(notice, 'end', assumptions));
    }
  }
}

/**
 * The post of the row that a date of rank printed beside `slot` binds. Among the earlier posts in that rank:
 * 1. one is attested, or was left, after the date, which then cannot be that of the exchange: the first of them;
 * 2. one has the same date printed beside it, or began then by a notice: the first such;
 * 3. else `slot` itself.
 */
function firstDatedSo(slots: readonly Appointment[], row: Row, slot: number, date: Span): number {
  const own = slots[slot] as Appointment;
  const printed = ({ dated }: ListedEntry) => dated?.span.from === date.from && dated.span.until === date.until;
  const began = (notice: Notice) => intersection(notice.date.span, date) !== undefined;
  const lastsBeyond = ({ entries, starts, ends }: Appointment): boolean =>
    entries.some(({ edition }) => edition.asAt.span.from - edition.lagDays >= date.until) ||
    [...starts, ...ends].some((notice) => notice.date.span.from >= date.until);
  let first: number | undefined;
  let same: number | undefined;
  for (let earlier = row.first; earlier < slot; earlier++) {
    const post = slots[earlier] as Appointment;
    if (post.rank.id !== own.rank.id) continue;
    first ??= earlier;
    if (lastsBeyond(post)) return first;
    if (same === undefined && (post.entries.some(printed) || post.starts.some(began))) same = earlier;
  }
  return same ?? slot;
}

function claimsOfLife({ rows, positive, claimed, assumptions }: Maker, evidence: CareerEvidence): void {
  const { notices } = evidence;
  for (const record of [evidence.born, ...notices.filter(({ event }) => event === 'born')]) {
    if (record === undefined) continue;
    const firstDay = ofAge(record.date.span, assumptions);
    for (const { first } of rows) notBefore(claimed, startNode(first), firstDay, positive.length);
    positive.push(lifeClaim(record, 'born', assumptions));
  }
  for (const record of [evidence.died, ...notices.filter(({ event }) => event === 'died')]) {
    if (record === undefined) continue;
    const { until } = record.date.span; // death + 1, at the latest
    for (const { last } of rows) notAfter(claimed, endNode(last), until, positive.length);
    positive.push(lifeClaim(record, 'died', assumptions));
  }
}

/** The first day on which one who was born within the span can have been appointed; ages count in calendar years. */
export const ofAge = (born: Span, { values }: Assumptions): Day =>
  plusMonths(born.from, Math.round(values['minimum.age'] * 12));

/** A condition holds for each post in the rank taken alone, but not for what is held beside a succession. */
function claimOfCondition({ slots, positive, claimed, assumptions }: Maker, record: Condition): void {
  const { atLeastDays, atMostDays } = record;
  const before = claimed.w.length;
  slots.forEach(({ rank, kind }, slot) => {
    if (kind !== 'substantive' || rank.id !== record.rank.id || rank.service !== record.rank.service) return;
    const claim = positive.length;
    if (atLeastDays !== undefined) constrain(claimed, startNode(slot), endNode(slot), -atLeastDays, claim);
    if (atMostDays !== undefined) constrain(claimed, endNode(slot), startNode(slot), atMostDays, claim);
  });
  if (claimed.w.length > before) positive.push(conditionClaim(record, assumptions));
}

/** A nil search that shows in which gap its day lies: before the first post, after the last, or between two. */
export type UsedNilSearch = {
  /** Its place among the claims: after the positive ones. */
  readonly claim: number;
  /** The appointment before the gap, which the next one then need not touch; undefined outside the succession. */
  readonly gapAfter: number | undefined;
  /** Constraints x − y <= w. */
  readonly edges: readonly (readonly [x: number, y: number, w: number])[];
};

/** Whether a notice of leaving stands between an appointment and the next, which then need not touch. */
export const leavesGap = ({ ends }: Appointment): boolean => ends.length > 0;

/**
 * The network of the claims that are not set aside. `off[k]` is 1 where the positive claim k is not to be used. What
 * holds by nature (an end after its start, the succession, the gap that a notice of leaving opens) holds always.
 */
export function makeNetwork(model: Model, off: Uint8Array, used: readonly UsedNilSearch[]): Network {
  const { slots, rows, claimed } = model;
  const network = emptyNetwork(1 + 2 * slots.length);
  for (const { first, last } of rows) {
    for (let slot = first; slot <= last; slot++) {
      constrain(network, startNode(slot), endNode(slot), -1, FIXED);
      if (slot === last) continue;
      constrain(network, endNode(slot), startNode(slot + 1), 0, FIXED);
      if (leavesGap(slots[slot] as Appointment) || used.some(({ gapAfter }) => gapAfter === slot)) continue;
      constrain(network, startNode(slot + 1), endNode(slot), 0, FIXED);
    }
  }
  for (let at = 0; at < claimed.w.length; at++) {
    const claim = claimed.claim[at] as number;
    if (off[claim] === 1) continue;
    constrain(network, claimed.x[at] as number, claimed.y[at] as number, claimed.w[at] as number, claim);
  }
  for (const { claim, edges } of used) {
    for (const [x, y, w] of edges) constrain(network, x, y, w, claim);
  }
  return network;
}
