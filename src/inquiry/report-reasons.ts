import type { RedFlag } from './red-flags.ts';

/**
 * Why a lot is not yet safe to print.
 * 1. Its evidence contradicts itself: `windows` of features, a `mark` older than the object, `records` on a person that
 *    the answer depends on, or the researcher's own `conclusion` against the figures.
 * 2. It has no evidence: `undated`, `unmarked`, or `nobody` recorded fits a mark.
 * 3. Its conclusion `hangs` on one record.
 * 4. It has `rivals` that nobody has looked into.
 * 5. It bears on a red flag: `gap`, `transfer`, `species`, `living`, `export`.
 */
export type OpenReason =
  | 'windows'
  | 'mark'
  | 'records'
  | 'conclusion'
  | 'undated'
  | 'unmarked'
  | 'nobody'
  | 'hangs'
  | 'rivals'
  | RedFlag['flag'];

export const OPEN_REASONS: readonly OpenReason[] = [
  'windows',
  'mark',
  'records',
  'conclusion',
  'undated',
  'unmarked',
  'nobody',
  'hangs',
  'rivals',
  'gap',
  'transfer',
  'species',
  'living',
  'export',
];

export type OpenItem = {
  readonly reason: OpenReason;
  /** The records that it is about. */
  readonly about: readonly string[];
  /** What a sentence about it names. */
  readonly data: Readonly<Record<string, string>>;
  /** A command that shows it or settles it; null where something is to be done elsewhere. */
  readonly command: string | null;
};
