import type { Assumptions } from '../assumptions.ts';
import type { Rank } from '../services/rank.ts';
import type { Claim, ClaimPart } from './career.ts';
import type {
  AppointmentKind,
  Condition,
  Corps,
  DateEvidence,
  Keyed,
  LifeDate,
  ListedEntry,
  NilSearch,
  Notice,
  RecordId,
} from './evidence.ts';
import { compareIds, compareKeys } from './record-order.ts';

/** What one record states about one thing; an entry makes two claims where it has a date of rank. */
export type RecordedClaim = {
  readonly id: RecordId;
  readonly part: ClaimPart;
  readonly record: Keyed & { readonly id: RecordId };
  /** What it would cost to set the claim aside. */
  readonly reliability: number;
  /** The first day of its source; −Infinity for a condition of service, which has none. */
  readonly sourceDay: number;
  /** In words, made when they are asked for. */
  readonly said: () => string;
  /** Its constraints x − y <= w, three numbers each; those of a nil search depend on what else is claimed. */
  readonly edges: number[];
};

const sourceDay = ({ span }: DateEvidence): number => (Number.isFinite(span.from) ? span.from : span.until - 1);

/** A date given as uncertain vouches for no more than hearsay does. */
function weigh(
  { values }: Assumptions,
  kind: 'life' | 'notice' | 'dated' | 'listing' | 'nil',
  date: DateEvidence,
): number {
  return date.uncertain ? values['reliability.hearsay'] : values[`reliability.${kind}`];
}

type Office = { readonly rank: Rank; readonly corps: Corps | undefined; readonly kind: AppointmentKind };

const office = ({ rank, corps, kind }: Office): string =>
  `${rank.title}${kind === 'substantive' ? '' : ` (${kind})`}${corps === undefined ? '' : `, ${corps.name}`}`;

const place = ({ edition, page }: ListedEntry): string =>
  `edition ${edition.label}${page === undefined ? '' : `, p. ${page}`}`;

export const listedClaim = (record: ListedEntry, assumptions: Assumptions): RecordedClaim => ({
  id: record.id,
  part: 'listed',
  record,
  reliability: weigh(assumptions, 'listing', record.edition.asAt),
  sourceDay: sourceDay(record.edition.asAt),
  said: () => `listed as ${office(record)}, ${place(record)}, as at ${record.edition.asAt.text}`,
  edges: [],
});

export const datedClaim = (record: ListedEntry, dated: DateEvidence, assumptions: Assumptions): RecordedClaim => ({
  id: record.id,
  part: 'dated',
  record,
  reliability: weigh(assumptions, 'dated', dated),
  sourceDay: sourceDay(record.edition.asAt),
  said: () => `dated ${dated.text} as ${office(record)}, ${place(record)}`,
  edges: [],
});

export const noticeClaim = (record: Notice, part: 'start' | 'end', assumptions: Assumptions): RecordedClaim => ({
  id: record.id,
  part,
  record,
  reliability: weigh(assumptions, 'notice', record.date),
  sourceDay: sourceDay(record.date),
  said: () => inWords(record),
  edges: [],
});

function inWords({ event, rank, corps, kind, date, source }: Notice): string {
  const what = event === 'half-pay' ? 'placed on half-pay' : event;
  const post = rank === undefined ? (corps?.name ?? '') : office({ rank, corps, kind });
  const joined = event === 'appointed' || event === 'promoted' ? ' ' : ', ';
  return `${what}${post === '' ? '' : joined + post}, ${date.text} (${source})`;
}

export const lifeClaim = (
  record: LifeDate | Notice,
  part: 'born' | 'died',
  assumptions: Assumptions,
): RecordedClaim => ({
  id: record.id,
  part,
  record,
  reliability: weigh(assumptions, 'life', record.date),
  sourceDay: sourceDay(record.date),
  said: () => `${part} ${record.date.text}${'source' in record ? ` (${record.source})` : ''}`,
  edges: [],
});

/** A condition of service is printed in regulations, and weighs as much as a notice. */
export const conditionClaim = (record: Condition, { values }: Assumptions): RecordedClaim => ({
  id: record.id,
  part: 'condition',
  record,
  reliability: values['reliability.notice'],
  sourceDay: -Infinity,
  said: () => {
    const least = record.atLeastDays === undefined ? [] : [`at least ${record.atLeastDays}`];
    const most = record.atMostDays === undefined ? [] : [`at most ${record.atMostDays}`];
    return `${[...least, ...most].join(' and ')} days in post as ${record.rank.title}`;
  },
  edges: [],
});

export const nilClaim = (record: NilSearch, assumptions: Assumptions): RecordedClaim => ({
  id: record.id,
  part: 'nil',
  record,
  reliability: weigh(assumptions, 'nil', record.edition.asAt),
  sourceDay: sourceDay(record.edition.asAt),
  said: () => `not found in edition ${record.edition.label}, as at ${record.edition.asAt.text}`,
  edges: [],
});

export const sayClaim = ({ id, part, said }: RecordedClaim): Claim => ({ id, part, claim: said() });

/** Below 0 where `a` was recorded first; one record's claims in the order of their names. */
export const byRecording = (a: RecordedClaim, b: RecordedClaim): number =>
  compareIds(a.id, b.id) || (a.part < b.part ? -1 : a.part > b.part ? 1 : 0);

/**
 * Below 0 where `a` is to give way before `b` if both weigh the same: the later source first, then the greater key.
 * The order of recording takes no part in it.
 */
export function givesWayBefore(a: RecordedClaim, b: RecordedClaim): number {
  if (a.sourceDay !== b.sourceDay) return a.sourceDay > b.sourceDay ? -1 : 1;
  return compareKeys(b.record, a.record) || (a.part < b.part ? 1 : a.part > b.part ? -1 : 0);
}
