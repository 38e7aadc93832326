import type { Assumptions } from '../assumptions.ts';
import { markDays } from '../attribution/candidate.ts';
import { type Shares, sharesOf } from '../attribution/candidates.ts';
import { keptRoles, type RoleWeights } from '../dating/mark-roles.ts';
import type { EvidenceReader } from '../ledger/evidence.ts';
import type { MarkRow } from '../ledger/marks.ts';
import type { Db } from '../ledger/open.ts';
import type { Span } from '../time/span.ts';
import { candidateInputs } from './candidate-inputs.ts';
import {
  type CandidateOptions,
  type CandidatesAnswer,
  candidatesForMark,
  candidatesForText,
  daysOfQuestion,
  type WordsAsked,
} from './candidates.ts';
import type { Ground, GroundsReader } from './grounds-tree.ts';
import { type MarkDays, type ObjectDays, objectDays } from './mark-dating.ts';
import {
  type MarkQuestion,
  overridesOf,
  partsOfWords,
  questionOf,
  questionOfReadings,
  readingsOfMark,
} from './mark-question.ts';
import { namingRoles } from './naming-roles.ts';
import { type VaryAnswer, varyMark, varyText } from './vary.ts';

/** A recorded mark, or words that were just read, as `heldby candidates` is asked about them. */
export type MarkAsked = {
  readonly mark: MarkRow | undefined;
  readonly words: WordsAsked;
  /** The days given with the question, whatever else is known. */
  readonly between: Span | undefined;
};

/** A mark, or words, with everything that its figures are reckoned from. */
export type MarkSubject = MarkAsked & {
  readonly db: Db;
  readonly read: EvidenceReader;
  readonly assumptions: Assumptions;
  readonly reader: GroundsReader;
  /** Of a recorded mark. */
  readonly id: string | null;
  /** What a sentence calls it: its id, or the words. */
  readonly called: string;
  readonly roles: RoleWeights;
  /** The object that bears it, where its days count. */
  readonly object: ObjectDays | undefined;
  readonly days: MarkDays;
  readonly question: MarkQuestion;
  /** As if the mark named a holder for certain. */
  readonly shares: Shares;
  /** How likely it does, by its roles, 0 to 1. */
  readonly namesHolder: number;
  /** What `heldby candidates` answers. */
  candidates(options: Omit<CandidateOptions, 'between'>): CandidatesAnswer;
  /** What `heldby candidates --vary` answers. */
  vary(only: string | undefined): VaryAnswer;
};

export const markAsked = (mark: MarkRow, between: Span | undefined): MarkAsked => ({
  mark,
  words: { text: mark.text, role: mark.role, parts: overridesOf(mark) },
  between,
});

export function markSubject(
  db: Db,
  asked: MarkAsked,
  read: EvidenceReader,
  assumptions: Assumptions,
  reader: GroundsReader,
): MarkSubject {
  const { mark, words, between } = asked;
  const object = mark === undefined ? undefined : objectDays(db, mark.object_id, read, assumptions);
  const days = daysOfQuestion(words, mark, object, { between, tried: 0 }, read, assumptions);
  const stated = days.dated ? days.marking.window : undefined;
  const question =
    mark === undefined
      ? questionOf(db, assumptions, read, partsOfWords(db, words.text, words.parts, stated))
      : questionOfReadings(db, assumptions, read, readingsOfMark(db, mark, stated));
  const roles = namingRoles(days, words.parts.surname, question.readings);
  const candidates = [...question.known.values()].flatMap((known) =>
    candidateInputs(known, question.sought, assumptions),
  );
  const shares = sharesOf({ mark: markDays(roles.density), candidates, unrecorded: question.unrecorded }, assumptions);
  const id = mark === undefined ? null : `m${mark.id}`;
  return {
    ...asked,
    db,
    read,
    assumptions,
    reader,
    id,
    called: id ?? `“${words.text}”`,
    roles: mark?.roles ?? keptRoles(words.role),
    object: between === undefined ? object : undefined,
    days,
    question,
    shares,
    namesHolder: roles.weight,
    candidates: (options) =>
      id === null
        ? candidatesForText(db, words, { ...options, between })
        : candidatesForMark(db, id, { ...options, between }),
    vary: (only) => (id === null ? varyText(db, words, between, only) : varyMark(db, id, between, only)),
  };
}

/** The mark itself as a ground; words that were just read are no record. */
export const markGrounds = ({ id, reader }: Pick<MarkSubject, 'id' | 'reader'>): Ground[] =>
  id === null ? [] : [reader.record(id)];
