import type { Assumptions } from '../assumptions.ts';
import { HeldbyError } from '../errors.ts';
import { assumptionsOf } from '../ledger/assumed.ts';
import { type EvidenceReader, evidenceReader } from '../ledger/evidence.ts';
import { type MarkRow, markById, type ObjectRow, objectById } from '../ledger/marks.ts';
import type { Db } from '../ledger/open.ts';
import type { Span } from '../time/span.ts';
import type { WordsAsked } from './candidates.ts';
import { type CareersFound, careersFound, type Whole } from './careers-found.ts';
import { type ConflictsAnswer, conflictsOf } from './conflicts.ts';
import { type MarkSubject, markAsked, markSubject } from './grounds-mark-subject.ts';
import { type SolvedPerson, solvedPerson } from './grounds-tenures.ts';
import { type GroundsReader, groundsReader } from './grounds-tree.ts';

/** The ledger as this connection sees it now, with everything that is read once. */
export type Situation = {
  readonly db: Db;
  readonly assumptions: Assumptions;
  readonly read: EvidenceReader;
  readonly reader: GroundsReader;
  person(person: number): SolvedPerson;
  /** @param between days given with the question, whatever else is known. */
  mark(mark: number, between?: Span): MarkSubject;
  words(words: WordsAsked, between: Span | undefined): MarkSubject;
  /** All entries put together. */
  careers(): CareersFound;
  /** What cannot all be true, of one person or object by its id; of the whole ledger without one. */
  conflicts(of?: string): ConflictsAnswer;
};

export function situationOf(db: Db, whole: Whole): Situation {
  const assumptions = assumptionsOf(db);
  const read = evidenceReader(db, assumptions);
  const reader = groundsReader(db);
  const people = new Map<number, SolvedPerson>();
  const marks = new Map<string, MarkSubject>();
  const conflicts = new Map<string | undefined, ConflictsAnswer>();
  let careers: CareersFound | undefined;
  return {
    db,
    assumptions,
    read,
    reader,
    person(person) {
      const known = people.get(person) ?? solvedPerson(db, read, person, assumptions);
      people.set(person, known);
      return known;
    },
    mark(mark, between) {
      const key = `${mark} ${between?.from} ${between?.until}`;
      const known = marks.get(key) ?? markSubject(db, markAsked(markRow(db, mark), between), read, assumptions, reader);
      marks.set(key, known);
      return known;
    },
    words: (words, between) => markSubject(db, { mark: undefined, words, between }, read, assumptions, reader),
    careers() {
      careers ??= careersFound(db, whole);
      return careers;
    },
    conflicts(of) {
      const known = conflicts.get(of) ?? conflictsOf(db, of === undefined ? undefined : `id:${of}`);
      conflicts.set(of, known);
      return known;
    },
  };
}

export function markRow(db: Db, mark: number): MarkRow {
  const row = markById(db, mark);
  if (row === undefined)
    throw new HeldbyError('REFERENCE', `There is no m${mark}.`, 'See the marks: heldby list marks');
  return row;
}

export function objectRow(db: Db, object: number): ObjectRow {
  const row = objectById(db, object);
  if (row === undefined) throw new HeldbyError('REFERENCE', `There is no o${object}.`, 'See them: heldby list objects');
  return row;
}
