import type { Assumptions } from '../assumptions.ts';
import { markDays } from '../attribution/candidate.ts';
import { type Shares, sharesOf } from '../attribution/candidates.ts';
import type { EvidenceReader } from '../ledger/evidence.ts';
import type { MarkRow } from '../ledger/marks.ts';
import type { Db } from '../ledger/open.ts';
import { candidateInputs } from './candidate-inputs.ts';
import type { GroundsReader } from './grounds-tree.ts';
import { type MarkDays, markDaysOf, type ObjectDays, objectDays } from './mark-dating.ts';
import { type MarkQuestion, questionOfReadings, readingsOfMark } from './mark-question.ts';
import { namingRoles } from './naming-roles.ts';

/** A mark with everything that its figures are reckoned from. */
export type MarkSubject = {
  readonly db: Db;
  readonly mark: MarkRow;
  readonly read: EvidenceReader;
  readonly assumptions: Assumptions;
  readonly reader: GroundsReader;
  readonly object: ObjectDays;
  readonly days: MarkDays;
  readonly question: MarkQuestion;
  /** As if the mark named a holder for certain. */
  readonly shares: Shares;
  /** How likely it does, by its roles, 0 to 1. */
  readonly namesHolder: number;
};

export function markSubject(
  db: Db,
  mark: MarkRow,
  read: EvidenceReader,
  assumptions: Assumptions,
  reader: GroundsReader,
): MarkSubject {
  const object = objectDays(db, mark.object_id, read, assumptions);
  const days = markDaysOf(mark, object, read, assumptions);
  const stated = days.dated ? days.marking.window : undefined;
  const readings = readingsOfMark(db, mark, stated);
  const question = questionOfReadings(db, assumptions, read, readings);
  const roles = namingRoles(days, mark.surname, readings);
  const candidates = [...question.known.values()].flatMap((known) =>
    candidateInputs(known, question.sought, assumptions),
  );
  const shares = sharesOf({ mark: markDays(roles.density), candidates, unrecorded: question.unrecorded }, assumptions);
  return { db, mark, read, assumptions, reader, object, days, question, shares, namesHolder: roles.weight };
}
