import type { Rank } from '../services/rank.ts';
import type { Span } from '../time/span.ts';

/** A record's id as the ledger shows it: `e410`, `n3`. Ids order by kind, then number. */
export type RecordId = string;

/**
 * The name under which its sender knows a record, whatever the ledger numbers it. Where contradicting claims weigh the
 * same and come from sources of one day, the greater key gives way, so that the order of recording never decides.
 */
type Keyed = { readonly key?: string | undefined };

/**
 * The first three succeed each other: in post, and on half-pay or retired with the rank but without the post. The others
 * are held beside and take no part in succession.
 */
export type AppointmentKind =
  | 'substantive'
  | 'half-pay'
  | 'retired'
  | 'brevet'
  | 'staff'
  | 'local'
  | 'temporary'
  | 'acting';

export const isSuccessive = (kind: AppointmentKind): boolean =>
  kind === 'substantive' || kind === 'half-pay' || kind === 'retired';

/** A date as evidence: `span` is already widened where the date was approximate. */
export type DateEvidence = {
  readonly span: Span;
  /** An uncertain date (`1834?`) keeps its bounds but weighs no more than hearsay. */
  readonly uncertain: boolean;
  /** As it was written, for sentences about it. */
  readonly text: string;
};

/** A corps by its key (spellings folded, renumberings followed); the name is the one to show. */
export type Corps = { readonly key: string; readonly name: string };

/** A line of an edition in which the person is listed. */
export type ListedEntry = Keyed & {
  readonly id: RecordId;
  readonly edition: {
    readonly id: RecordId;
    readonly label: string;
    /** The list that it is an issue of. */
    readonly series?: string;
    readonly asAt: DateEvidence;
    readonly lagDays: number;
  };
  readonly rank: Rank;
  readonly corps: Corps | undefined;
  readonly kind: AppointmentKind;
  /** The "dated" column: the date of rank. */
  readonly dated: DateEvidence | undefined;
  readonly page: string | undefined;
};

export type NilSearch = Keyed & {
  readonly id: RecordId;
  readonly edition: ListedEntry['edition'];
  readonly service: string;
};

export type NoticeEvent =
  | 'appointed'
  | 'promoted'
  | 'exchanged' // a stated start of the rank that the notice names
  | 'half-pay'
  | 'retired'
  | 'resigned'
  | 'dismissed'
  | 'superseded' // a stated end of the post then held
  | 'born'
  | 'died'
  | 'married'
  | 'renamed'
  | 'other'; // these bound no tenure

export type Notice = Keyed & {
  readonly id: RecordId;
  readonly event: NoticeEvent;
  readonly date: DateEvidence;
  readonly service: string | undefined;
  readonly rank: Rank | undefined;
  readonly corps: Corps | undefined;
  readonly kind: AppointmentKind;
  readonly source: string;
};

/** A condition of service: at least, or at most, so many days in a rank (in any of its posts taken one by one). */
export type Condition = Keyed & {
  readonly id: RecordId;
  readonly rank: Rank;
  readonly atLeastDays: number | undefined;
  readonly atMostDays: number | undefined;
};

export type LifeDate = Keyed & { readonly id: RecordId; readonly date: DateEvidence };

/** Everything recorded that bears on one person's career. */
export type CareerEvidence = {
  readonly entries: readonly ListedEntry[];
  readonly notices: readonly Notice[];
  readonly nilSearches: readonly NilSearch[];
  readonly conditions: readonly Condition[];
  /** The person record's own life dates; `id` is the person's. */
  readonly born: LifeDate | undefined;
  readonly died: LifeDate | undefined;
  /** Records that the researcher set aside, over whatever the arithmetic would choose. */
  readonly setAside: ReadonlySet<RecordId>;
  /** Every main step of each military ladder met here, junior first: from these come implied ranks. */
  readonly mainSteps: ReadonlyMap<string, readonly Rank[]>;
};
