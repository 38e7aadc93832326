import { HeldbyError } from '../errors.ts';
import { withKeys } from '../inquiry/keys.ts';
import { lotQuestions } from '../inquiry/lot-questions.ts';
import { reportOf } from '../inquiry/report.ts';
import { timelineOf } from '../inquiry/timeline.ts';
import type { Db } from '../ledger/open.ts';
import type { LotToPrint } from '../report/compose.ts';

/** What is to be said of a lot, beside its name. */
export type LotAsked = {
  /** Whether a form holds a picture of its calendar. */
  readonly withPicture: boolean;
  /** The act whose state of the ledger is told; undefined for the last. */
  readonly asOf: number | undefined;
};

/** One lot, with its calendar where a form holds one; both from the same answers. */
export function lotToPrint(db: Db, name: string, { withPicture, asOf }: LotAsked): LotToPrint {
  const ask = lotQuestions(db);
  try {
    const lot = withKeys(db, reportOf(db, name, asOf, ask));
    return { lot, timeline: withPicture ? timelineOf(db, lot.object.id, ask) : undefined };
  } catch (error) {
    if (!(error instanceof HeldbyError) || error.code === 'REFERENCE' || error.code === 'AMBIGUOUS') throw error;
    throw new HeldbyError(error.code, error.message, error.hint, `object ${name}`);
  }
}
