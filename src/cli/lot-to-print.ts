import { HeldbyError } from '../errors.ts';
import { withKeys } from '../inquiry/keys.ts';
import { lotQuestions } from '../inquiry/lot-questions.ts';
import { reportOf } from '../inquiry/report.ts';
import { timelineOf } from '../inquiry/timeline.ts';
import type { Db } from '../ledger/open.ts';
import { photoPath, photosOf } from '../ledger/photos.ts';
import type { LotToPrint } from '../report/lot-to-print.ts';
import type { KeptPhotograph } from '../report/photograph.ts';

/** What is to be said of a lot, beside its name. */
export type LotAsked = {
  /** Whether a form holds a picture of its calendar. */
  readonly withPicture: boolean;
  /** Whether one shows the photographs. */
  readonly withPhotographs: boolean;
  /** The act whose state of the ledger is told; undefined for the last. */
  readonly asOf: number | undefined;
};

/** One lot, with its calendar where a form holds one; both from the same answers. */
export function lotToPrint(db: Db, name: string, { withPicture, withPhotographs, asOf }: LotAsked): LotToPrint {
  const ask = lotQuestions(db);
  try {
    const lot = withKeys(db, reportOf(db, name, asOf, ask));
    return {
      lot,
      timeline: withPicture ? timelineOf(db, lot.object.id, ask) : undefined,
      photographs: withPhotographs ? keptOf(db, [lot.object.id, ...lot.marks.map(({ id }) => id)]) : undefined,
    };
  } catch (error) {
    if (!(error instanceof HeldbyError) || error.code === 'REFERENCE' || error.code === 'AMBIGUOUS') throw error;
    throw new HeldbyError(error.code, error.message, error.hint, `object ${name}`);
  }
}

/** Where the copies of pictures lie, by the ids of their records. */
const keptOf = (db: Db, shown: readonly string[]): Record<string, KeptPhotograph> =>
  Object.fromEntries(
    shown
      .flatMap((of) => photosOf(db, of))
      .flatMap(({ id, sha256 }) =>
        sha256 === null ? [] : [[`ph${id}`, { path: photoPath(db.name, sha256), sha256 }]],
      ),
  );
