import type { AssumptionName, Assumptions } from '../assumptions.ts';
import type { Rank } from '../services/rank.ts';
import { longDay } from '../time/phrase.ts';
import type { Claim } from './career.ts';
import type {
  AppointmentKind,
  Condition,
  Corps,
  DateEvidence,
  LifeDate,
  ListedEntry,
  NilSearch,
  Notice,
} from './evidence.ts';
import { compareIds } from './record-order.ts';

/** What one record states about one thing; an entry makes two claims where it has a date of rank. */
export type RecordedClaim = {
  /** What it would cost to set the claim aside. */
  readonly reliability: number;
  /** The first day of its source; −Infinity for a condition of service, which has none. */
  readonly sourceDay: number;
} & (
  | { readonly part: 'listed' | 'dated'; readonly record: ListedEntry }
  | { readonly part: 'start' | 'end'; readonly record: Notice }
  | { readonly part: 'born' | 'died'; readonly record: LifeDate | Notice }
  | { readonly part: 'condition'; readonly record: Condition }
  | { readonly part: 'nil'; readonly record: NilSearch }
);

const sourceDay = ({ span }: DateEvidence): number => (Number.isFinite(span.from) ? span.from : span.until - 1);

/** A date given as uncertain vouches for no more than hearsay does. */
const weigh = ({ values }: Assumptions, name: AssumptionName, { uncertain }: DateEvidence): number =>
  values[uncertain ? 'reliability.hearsay' : name];

export const listedClaim = (record: ListedEntry, assumptions: Assumptions): RecordedClaim => ({
  reliability: weigh(assumptions, 'reliability.listing', record.edition.asAt),
  sourceDay: sourceDay(record.edition.asAt),
  part: 'listed',
  record,
});

export const datedClaim = (record: ListedEntry, dated: DateEvidence, assumptions: Assumptions): RecordedClaim => ({
  reliability: weigh(assumptions, 'reliability.dated', dated),
  sourceDay: sourceDay(record.edition.asAt),
  part: 'dated',
  record,
});

export const noticeClaim = (record: Notice, part: 'start' | 'end', assumptions: Assumptions): RecordedClaim => ({
  reliability: weigh(assumptions, 'reliability.notice', record.date),
  sourceDay: sourceDay(record.date),
  part,
  record,
});

export const lifeClaim = (
  record: LifeDate | Notice,
  part: 'born' | 'died',
  assumptions: Assumptions,
): RecordedClaim => ({
  reliability: weigh(assumptions, 'reliability.life', record.date),
  sourceDay: sourceDay(record.date),
  part,
  record,
});

/** A condition of service is printed in regulations, and weighs as much as a notice. */
export const conditionClaim = (record: Condition, { values }: Assumptions): RecordedClaim => ({
  reliability: values['reliability.notice'],
  sourceDay: -Infinity,
  part: 'condition',
  record,
});

export const nilClaim = (record: NilSearch, assumptions: Assumptions): RecordedClaim & { readonly part: 'nil' } => ({
  reliability: weigh(assumptions, 'reliability.nil', record.edition.asAt),
  sourceDay: sourceDay(record.edition.asAt),
  part: 'nil',
  record,
});

export const sayClaim = (claim: RecordedClaim): Claim => ({
  id: claim.record.id,
  part: claim.part,
  claim: inWords(claim),
});

function inWords(claim: RecordedClaim): string {
  switch (claim.part) {
    case 'listed':
      return `listed as ${office(claim.record)}, ${place(claim.record)}, as at ${saidDate(claim.record.edition.asAt)}`;
    case 'dated':
      return `dated ${claim.record.dated === undefined ? '' : saidDate(claim.record.dated)} as ${office(claim.record)}, ${place(claim.record)}`;
    case 'start':
    case 'end':
      return noticeInWords(claim.record);
    case 'born':
    case 'died':
      return `${claim.part} ${saidDate(claim.record.date)}${'source' in claim.record ? ` (${claim.record.source})` : ''}`;
    case 'condition':
      return conditionInWords(claim.record);
    case 'nil':
      return `not found in edition ${claim.record.edition.label}, as at ${saidDate(claim.record.edition.asAt)}`;
  }
}

/** A date as it was recorded; a day written in figures as print has it. */
export const saidDate = ({ text, span }: DateEvidence): string =>
  /^\d{4}-\d\d-\d\d$/.test(text) ? longDay(span.from) : text;

type Office = { readonly rank: Rank; readonly corps: Corps | undefined; readonly kind: AppointmentKind };

const office = ({ rank, corps, kind }: Office): string =>
  `${rank.title}${kind === 'substantive' ? '' : ` (${kind})`}${corps === undefined ? '' : `, ${corps.name}`}`;

const place = ({ edition, page }: ListedEntry): string =>
  `edition ${edition.label}${page === undefined ? '' : `, p. ${page}`}`;

function noticeInWords({ event, rank, corps, kind, date, source }: Notice): string {
  const what = event === 'half-pay' ? 'placed on half-pay' : event;
  const post = rank === undefined ? (corps?.name ?? '') : office({ rank, corps, kind });
  const joined = event === 'appointed' || event === 'promoted' ? ' ' : ', ';
  return `${what}${post === '' ? '' : joined + post}, ${saidDate(date)} (${source})`;
}

function conditionInWords({ atLeastDays, atMostDays, rank }: Condition): string {
  const least = atLeastDays === undefined ? [] : [`at least ${atLeastDays}`];
  const most = atMostDays === undefined ? [] : [`at most ${atMostDays}`];
  return `${[...least, ...most].join(' and ')} days in post as ${rank.title}`;
}

/** Below 0 where `a` was recorded first; one record's claims in the order of their names. */
export const byRecording = (a: RecordedClaim, b: RecordedClaim): number =>
  (a.record === b.record ? 0 : compareIds(a.record.id, b.record.id)) ||
  (a.part < b.part ? -1 : a.part > b.part ? 1 : 0);

/**
 * Below 0 where `a` is to give way before `b` if both weigh the same: the later source first, then the greater of the
 * senders' keys; where one has no key, what is said decides. The order of recording does so only between claims that
 * say the same.
 */
export function givesWayBefore(a: RecordedClaim, b: RecordedClaim): number {
  if (a.sourceDay !== b.sourceDay) return a.sourceDay > b.sourceDay ? -1 : 1;
  const keyA = a.record.key;
  const keyB = b.record.key;
  if (keyA !== undefined && keyB !== undefined && keyA !== keyB) return keyA > keyB ? -1 : 1;
  const saidA = inWords(a);
  const saidB = inWords(b);
  return saidA === saidB ? compareIds(b.record.id, a.record.id) : saidA > saidB ? -1 : 1;
}
