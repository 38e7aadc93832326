import type { Assumptions } from '../assumptions.ts';
import { plusMonths } from '../time/evidence-date.ts';
import type { Day, Span } from '../time/span.ts';
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
import type { CareerEvidence, ListedEntry, NilSearch } from './evidence.ts';
import { constrain, emptyNetwork, FIXED, type Network, ORIGIN } from './network.ts';

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
  readonly nilSearches: readonly { readonly claim: RecordedClaim; readonly record: NilSearch }[];
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
 * A date of rank that stands word for word the same beside an earlier post in that rank binds only that one, since
 * lists print when the rank was reached and not the post.
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
  const positive: RecordedClaim[] = [];
  for (const row of rows) claimsOfRow(positive, slots, row, assumptions);
  claimsOfLife(positive, rows, evidence, assumptions);
  claimsOfConditions(positive, slots, evidence, assumptions);
  const nilSearches = evidence.nilSearches.map((record) => ({ claim: nilClaim(record, assumptions), record }));
  return { slots, rows, positive, nilSearches };
}

function within(claim: RecordedClaim, node: number, { from, until }: Span): void {
  if (from !== -Infinity) claim.edges.push(ORIGIN, node, -from);
  if (until !== Infinity) claim.edges.push(node, ORIGIN, until - 1);
}

function claimsOfRow(claims: RecordedClaim[], slots: readonly Appointment[], row: Row, assumptions: Assumptions): void {
  for (let slot = row.first; slot <= row.last; slot++) {
    const { entries, starts, ends } = slots[slot] as Appointment;
    for (const entry of entries) {
      const listed = listedClaim(entry, assumptions);
      const { asAt, lagDays } = entry.edition;
      if (asAt.span.until !== Infinity) listed.edges.push(startNode(slot), ORIGIN, asAt.span.until - 1);
      if (asAt.span.from !== -Infinity) listed.edges.push(ORIGIN, endNode(slot), lagDays - asAt.span.from - 1);
      claims.push(listed);
      if (entry.dated === undefined) continue;
      const dated = datedClaim(entry, entry.dated, assumptions);
      within(dated, startNode(firstDatedSo(slots, row, slot, entry.dated.span)), entry.dated.span);
      claims.push(dated);
    }
    for (const notice of starts) {
      const start = noticeClaim(notice, 'start', assumptions);
      within(start, startNode(slot), notice.date.span);
      claims.push(start);
    }
    for (const notice of ends) {
      const end = noticeClaim(notice, 'end', assumptions);
      within(end, endNode(slot), notice.date.span);
      claims.push(end);
    }
  }
}

/** The first post of the row in the rank of `slot` beside which a list prints that date. */
function firstDatedSo(slots: readonly Appointment[], row: Row, slot: number, date: Span): number {
  const own = slots[slot] as Appointment;
  const printed = ({ dated }: ListedEntry) => dated?.span.from === date.from && dated.span.until === date.until;
  for (let earlier = row.first; earlier < slot; earlier++) {
    const post = slots[earlier] as Appointment;
    if (post.rank.id === own.rank.id && post.entries.some(printed)) return earlier;
  }
  return slot;
}

function claimsOfLife(
  claims: RecordedClaim[],
  rows: readonly Row[],
  evidence: CareerEvidence,
  assumptions: Assumptions,
): void {
  const ofNotices = (event: 'born' | 'died') => evidence.notices.filter((notice) => notice.event === event);
  for (const record of [evidence.born, ...ofNotices('born')]) {
    if (record === undefined) continue;
    const claim = lifeClaim(record, 'born', assumptions);
    const firstDay = ofAge(record.date.span, assumptions);
    if (firstDay !== -Infinity) for (const row of rows) claim.edges.push(ORIGIN, startNode(row.first), -firstDay);
    claims.push(claim);
  }
  for (const record of [evidence.died, ...ofNotices('died')]) {
    if (record === undefined) continue;
    const claim = lifeClaim(record, 'died', assumptions);
    const { until } = record.date.span; // death + 1, at the latest
    if (until !== Infinity) for (const row of rows) claim.edges.push(endNode(row.last), ORIGIN, until);
    claims.push(claim);
  }
}

/** The first day on which one who was born within the span can have been appointed; ages count in calendar years. */
export const ofAge = (born: Span, { values }: Assumptions): Day =>
  plusMonths(born.from, Math.round(values['minimum.age'] * 12));

/** A condition holds for each post in the rank taken alone, but not for what is held beside a succession. */
function claimsOfConditions(
  claims: RecordedClaim[],
  slots: readonly Appointment[],
  { conditions }: CareerEvidence,
  assumptions: Assumptions,
): void {
  for (const record of conditions) {
    const claim = conditionClaim(record, assumptions);
    slots.forEach(({ rank, kind }, slot) => {
      if (kind !== 'substantive' || rank.id !== record.rank.id || rank.service !== record.rank.service) return;
      if (record.atLeastDays !== undefined) claim.edges.push(startNode(slot), endNode(slot), -record.atLeastDays);
      if (record.atMostDays !== undefined) claim.edges.push(endNode(slot), startNode(slot), record.atMostDays);
    });
    if (claim.edges.length > 0) claims.push(claim);
  }
}

/** A nil search that shows in which gap its day lies: before the first post, after the last, or between two. */
export type UsedNilSearch = {
  /** Its place among the claims: after the positive ones. */
  readonly claim: number;
  /** The appointment before the gap, which the next one then need not touch; undefined outside the succession. */
  readonly gapAfter: number | undefined;
  readonly edges: readonly number[];
};

/** Whether a notice of leaving stands between an appointment and the next, which then need not touch. */
export const leavesGap = ({ ends }: Appointment): boolean => ends.length > 0;

/**
 * The network of the claims that are not set aside. `off[k]` is 1 where the positive claim k is not to be used. What
 * holds by nature (an end after its start, the succession, the gap that a notice of leaving opens) holds always.
 */
export function makeNetwork(model: Model, off: Uint8Array, used: readonly UsedNilSearch[]): Network {
  const { slots, rows, positive } = model;
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
  positive.forEach(({ edges }, k) => {
    if (off[k] === 0) addEdges(network, edges, k);
  });
  for (const { claim, edges } of used) addEdges(network, edges, claim);
  return network;
}

function addEdges(network: Network, edges: readonly number[], claim: number): void {
  for (let at = 0; at < edges.length; at += 3) {
    constrain(network, edges[at] as number, edges[at + 1] as number, edges[at + 2] as number, claim);
  }
}
