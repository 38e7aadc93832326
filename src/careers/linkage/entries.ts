import type { Rank } from '../../services/rank.ts';
import type { Span } from '../../time/span.ts';
import type { AppointmentKind, Corps, DateEvidence, RecordId } from '../evidence.ts';

/** One issue of a periodical list. */
export type ListEdition = {
  readonly id: RecordId;
  readonly label: string;
  /** Editions of one service are looked at together, whichever series they belong to. */
  readonly service: string;
  /** The day or days at which it states the list. */
  readonly asAt: Span;
  readonly lagDays: number;
  /**
   * Whether every line of it was taken down: only then does a name that is missing speak against a man. In an edition of
   * which a part was taken, only the surnames of its sweeps were looked at.
   */
  readonly whole: boolean;
};

/** A line of an edition, whoever bears it. */
export type ListEntry = {
  readonly id: RecordId;
  /** Its place among the editions given. */
  readonly edition: number;
  /** As printed. */
  readonly surname: string;
  /** As printed, in their order; empty where the list gives none. */
  readonly forenames: string;
  /** What tells namesakes apart: `jun.`, `(2)`. */
  readonly suffix: string | undefined;
  readonly rank: Pick<Rank, 'id' | 'title' | 'order' | 'service'> | undefined;
  readonly corps: Corps | undefined;
  readonly kind: AppointmentKind;
  /** The date of rank. */
  readonly dated: DateEvidence | undefined;
  /** Place in the order of seniority of his rank in this edition, 1 the most senior, where the list stands in that order. */
  readonly seniority: number | undefined;
  /** The person whom somebody has said it to be. */
  readonly person: RecordId | undefined;
  /** Whether that was said later than the entry was recorded: by putting entries together, or by a decision. */
  readonly placed?: boolean;
};

/** What somebody decided once and for ever: two entries or persons are one, or they are not. Ids of either kind. */
export type Binding = { readonly kind: 'same' | 'differ'; readonly one: RecordId; readonly other: RecordId };

/** A surname all bearers of which were taken down from an edition. */
export type NameSweep = { readonly edition: number; readonly surname: string };

export type LifeDates = {
  readonly person: RecordId;
  readonly born: DateEvidence | undefined;
  readonly died: DateEvidence | undefined;
};

/** All that the joining of entries rests on. Nothing depends on the order of the lists. */
export type LinkageInput = {
  readonly editions: readonly ListEdition[];
  readonly entries: readonly ListEntry[];
  readonly sweeps: readonly NameSweep[];
  readonly lives: readonly LifeDates[];
  readonly bindings: readonly Binding[];
  /** Nobody is listed younger (assumption `minimum.age`). */
  readonly minimumAgeYears: number;
  /** Joins that are less sure than this are doubtful (assumption `wording.certain`). */
  readonly certainShare: number;
};
