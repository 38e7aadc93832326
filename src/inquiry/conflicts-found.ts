import type { Explained } from '../careers/explained-conflicts.ts';

/** One record's statement as answers give it. */
export type SaidClaim = {
  readonly id: string;
  readonly key: string | null;
  readonly claim: string;
  /** What of the record it is: `listed`, `dated`, `born`, `window` … */
  readonly part: string;
  /** The list that it stands in; null for what is not of a list. */
  readonly source: string | null;
  /** The label of the edition that it stands in. */
  readonly edition?: string | undefined;
};

/** A claim that gives way. */
export type AsideClaim = SaidClaim & {
  /**
   * `computed`: nothing is reckoned from it. `researcher`: they set the record aside. `proposed`: it is the least
   * reliable, but what rests on it stands until the researcher decides.
   */
  readonly by: 'computed' | 'researcher' | 'proposed';
  readonly why: string;
};

export type Concern = { readonly id: string; readonly key: string | null; readonly name: string };

export type ConflictFound = {
  /**
   * `career`: posts and their dates; `life`: births, deaths, kin, records found to be one; `identity`: findings that two
   * are one and are not; `object`: windows and dates of features and marks.
   */
  readonly kind: 'career' | 'life' | 'identity' | 'object';
  readonly concerns: readonly Concern[];
  readonly members: readonly SaidClaim[];
  readonly setAside: readonly AsideClaim[];
  /** How many conflicts are cleared by setting those aside, this one included. */
  readonly frees: number;
  /** What would have to be set aside instead by the next best way out; empty where there is none. */
  readonly otherWayOut: readonly SaidClaim[];
  /** A nil search that no gap can hold: left out by the printer, or one of several in a row, likely a break of service. */
  readonly omission: 'printer' | 'likely break' | null;
};

const total = (claims: readonly { readonly weight: number }[]): number =>
  claims.reduce((sum, { weight }) => sum + weight, 0);

const figure = (weight: number): string => String(Math.round(weight * 1000) / 1000);

/** Why a way out was taken: what it costs beside the next best. */
export function whyCheapest({
  wayOut,
  otherWayOut,
}: Pick<Explained<{ readonly weight: number }>, 'wayOut' | 'otherWayOut'>): string {
  const cost = total(wayOut);
  const own = `reliability ${figure(cost)}${wayOut.length > 1 ? ' in all' : ''}`;
  if (otherWayOut === undefined) return `The least reliable: ${own}.`;
  const other = total(otherWayOut);
  return other > cost
    ? `The least reliable way out: ${own}, against ${figure(other)} for the next best.`
    : `As reliable as the next best way out (${own}); of equals the later source gives way.`;
}
