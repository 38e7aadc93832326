import type { Assumptions } from '../assumptions.ts';
import type { RecordId } from '../careers/evidence.ts';

export type Robustness = {
  readonly robust: boolean;
  /** The records whose omission cuts the share to `hang.ratio` of it or less: the most needed first. */
  readonly hangsOn: readonly RecordId[];
  /** The same candidate's share without each record, in the order the records came in. */
  readonly without: readonly { readonly id: RecordId; readonly share: number }[];
};

/** Shares come out of long sums: one that is above the limit by no more than this has come down to it. */
const ROUNDING = 1e-9;

/**
 * Whether a conclusion would stand without any one record: each record under the best named candidate is left out, and
 * the question answered again (the jackknife).
 * @param share the candidate's share with all records.
 * @param shareWithout the same candidate's share when one record is left out; 0 if they are no longer a candidate.
 * @see Tukey, J. W., Bias and confidence in not-quite large samples, Annals of Mathematical Statistics 29 (1958) 614.
 */
export function robustness(
  share: number,
  records: readonly RecordId[],
  shareWithout: (id: RecordId) => number,
  { values }: Pick<Assumptions, 'values'>,
): Robustness {
  const without = [...new Set(records)].map((id) => ({ id, share: shareWithout(id) }));
  const limit = share * values['hang.ratio'] + ROUNDING;
  const hangsOn = without
    .map((one, place) => ({ ...one, place }))
    .filter((one) => one.share <= limit)
    .sort((a, b) => a.share - b.share || a.place - b.place)
    .map(({ id }) => id);
  return { robust: hangsOn.length === 0, hangsOn, without };
}
