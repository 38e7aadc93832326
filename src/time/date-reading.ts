import type { Span } from './span.ts';

export type Calendar = 'gregorian' | 'julian' | 'republican' | 'regnal';

/** How finely the date was given; what "about" means depends on it. */
export type Precision = 'day' | 'month' | 'year';

/** How one end of a stretch of days was given. */
export type Edge = { readonly precision: Precision; readonly approximate: boolean; readonly uncertain: boolean };

/** One stretch of days that an expression names; `1834 or 1836` has two. */
export type DatePart = { readonly span: Span; readonly from: Edge; readonly until: Edge };

/**
 * What a date expression means. `span` holds the bounds of the specification, which qualifiers do not widen; see
 * `asEvidence` for the days that a date can vouch for.
 */
export type DateReading = {
  /** The expression as it was given, trimmed. */
  readonly text: string;
  /** The same in EDTF (ISO 8601-2), whatever it was written in. */
  readonly edtf: string;
  /** From the first day of the earliest part to the last of the latest. */
  readonly span: Span;
  readonly parts: readonly DatePart[];
  readonly uncertain: boolean;
  readonly approximate: boolean;
  readonly calendar: Calendar;
  /** In words: "9th regnal year of George III: 25 October 1768 – 24 October 1769". */
  readonly words: string;
};
