import type { Assumptions } from '../assumptions.ts';
import { totalBits } from '../attribution/agreement.ts';
import { type CandidateInput, markDays } from '../attribution/candidate.ts';
import { isProvisional, sharesOf } from '../attribution/candidates.ts';
import type { IsKin } from '../attribution/chain-links.ts';
import type { ChainMark } from '../attribution/chain-marks.ts';
import { HeldbyError } from '../errors.ts';
import { type EvidenceReader, evidenceReader } from '../ledger/evidence.ts';
import { type KinPath, kinReader } from '../ledger/kin.ts';
import { kindNamed } from '../ledger/kinds.ts';
import { type MarkRow, marksOf, type ObjectRow, objectById } from '../ledger/marks.ts';
import type { Db } from '../ledger/open.ts';
import { resolveRef } from '../ledger/refs.ts';
import type { MarkParts } from '../names/mark-parts.ts';
import { foldName } from '../names/pattern.ts';
import { ALL_TIME } from '../time/span.ts';
import { candidateInputs } from './candidate-inputs.ts';
import { type MarkDays, markDaysOf, type ObjectDays, objectDays } from './mark-dating.ts';
import { type MarkQuestion, questionOfReadings, readingsOfMark } from './mark-question.ts';

/** Likeliest candidates of each mark, taken one by one; the others of the mark stand for one holder together. */
const MOST_CANDIDATES = 40;
/** So many more of each mark are, who are joined to a candidate of another mark. */
const MOST_JOINED = 20;

export type ObjectMark = {
  readonly row: MarkRow;
  readonly parts: MarkParts;
  readonly days: MarkDays;
  readonly chain: ChainMark;
  /** Undefined where the mark names no holder. */
  readonly question: MarkQuestion | undefined;
  /** How many recorded candidates can have put it on. */
  readonly fitting: number;
  /**
   * Candidates of this mark that stand for one holder together: how many, their share of this mark taken alone, and
   * whether one of them is joined to a candidate of another mark.
   */
  readonly leftOut: { readonly candidates: number; readonly share: number; readonly joined: boolean };
};

/** An object with its marks, each with whoever can have put it on: what both its dating and its holders rest on. */
export type ObjectMarks = {
  readonly object: ObjectRow;
  readonly read: EvidenceReader;
  readonly dated: ObjectDays;
  readonly marks: readonly ObjectMark[];
  readonly isKin: IsKin;
  readonly kinPath: (a: string, b: string) => KinPath | undefined;
  readonly surnamesOf: (person: string) => readonly string[];
  /** Persons who rest on a bound that another choice among contradicting records would change. */
  readonly provisional: ReadonlySet<string>;
};

export function objectNamed(db: Db, words: string): ObjectRow {
  const object = objectById(db, resolveRef(db, kindNamed('object'), words));
  if (!object) throw new HeldbyError('REFERENCE', `There is no object "${words}".`, 'See them: heldby list objects');
  return object;
}

export function objectMarks(db: Db, object: ObjectRow, assumptions: Assumptions): ObjectMarks {
  const read = evidenceReader(db, assumptions);
  const dated = objectDays(db, object.id, read, assumptions);
  const known: MarkQuestion['known'][] = [];
  const provisional = new Set<string>();
  const asked = marksOf(db, object.id).map((row) => {
    const days = markDaysOf(row, dated, read, assumptions);
    const readings = readingsOfMark(db, row, days.dated ? days.marking.window : undefined);
    const parts = (readings.find((one) => namesHolder(row, one.parts)) ?? readings[0]).parts;
    if (!namesHolder(row, parts)) return { row, parts, days, question: undefined, ranked: [] };
    const question = questionOfReadings(db, assumptions, read, readings);
    known.push(question.known);
    const inputs = [...question.known.values()].flatMap((one) => candidateInputs(one, question.sought, assumptions));
    const when = markDays(days.marking.density);
    const { ranked } = sharesOf({ mark: when, candidates: inputs, unrecorded: question.unrecorded }, assumptions);
    for (const { input } of ranked) if (isProvisional(input)) provisional.add(input.person);
    return { row, parts, days, question, ranked };
  });
  const surnames = new Map<string, readonly string[]>();
  for (const each of known) {
    for (const [person, { names }] of each) {
      if (!surnames.has(person)) surnames.set(person, [...new Set(names.map(({ surname }) => foldName(surname)))]);
    }
  }
  const surnamesOf = (person: string): readonly string[] => surnames.get(person) ?? [];
  const kinPath = kinReader(db);
  const { apart, joined } = takenApart(
    asked.map(({ ranked }) => ranked.map(({ person }) => person)),
    surnamesOf,
    (a, b) => kinPath(a, b) !== undefined,
  );
  const marks = asked.map(({ row, parts, days, question, ranked }): ObjectMark => {
    const one = ranked.filter(({ person }) => apart.has(person)).map(({ input }) => input);
    const others = ranked.filter(({ person }) => !apart.has(person));
    const candidates =
      others.length === 0
        ? one
        : [
            ...one,
            together(
              row.id,
              others.map(({ input }) => input),
            ),
          ];
    const bearsSurname = question?.unrecorded.surname?.damaged === false && parts.surname !== undefined;
    return {
      row,
      parts,
      days,
      question,
      fitting: ranked.length,
      leftOut: {
        candidates: others.length,
        share: others.reduce((sum, { share }) => sum + share, 0),
        joined: others.some(({ person }) => joined.has(person)),
      },
      chain: {
        id: `m${row.id}`,
        law: days.marking.law,
        own: days.marking.own,
        over: row.over_id === null ? undefined : `m${row.over_id}`,
        beforeMaking: days.marking.beforeMaking,
        holders: question && {
          candidates,
          unrecorded: question.unrecorded,
          surnames: bearsSurname ? [foldName(parts.surname)] : [],
        },
      },
    };
  });
  const isKin: IsKin = (a, b) => !isTogether(a) && !isTogether(b) && kinPath(a, b) !== undefined;
  return { object, read, dated, marks, isKin, kinPath, surnamesOf, provisional };
}

/**
 * Whom to take one by one: the likeliest of each mark, and those joined to one of them at another mark, by being a
 * candidate there too, by kinship or by surname; to be joined counts for much in a succession of holders. Whoever is
 * taken so for one mark is so for all. `joined`: everybody who is joined to somebody, taken or not.
 * @param ranked candidates of each mark, the likeliest first.
 */
function takenApart(
  ranked: readonly (readonly string[])[],
  surnamesOf: (person: string) => readonly string[],
  isKin: IsKin,
): { readonly apart: ReadonlySet<string>; readonly joined: ReadonlySet<string> } {
  const likeliest = ranked.map((persons) => persons.slice(0, MOST_CANDIDATES));
  const apart = new Set(likeliest.flat());
  const joined = new Set<string>();
  if (likeliest.every((persons, mark) => persons.length === ranked[mark]?.length)) return { apart, joined };
  for (const [mark, persons] of ranked.entries()) {
    const elsewhere = new Set(ranked.flatMap((others, other) => (other === mark ? [] : others)));
    const near = likeliest.flatMap((others, other) => (other === mark ? [] : others));
    const surnames = new Set(near.flatMap(surnamesOf));
    let more = MOST_JOINED;
    for (const person of persons.slice(MOST_CANDIDATES)) {
      const isJoined =
        elsewhere.has(person) ||
        surnamesOf(person).some((surname) => surnames.has(surname)) ||
        near.some((other) => isKin(person, other));
      if (!isJoined) continue;
      joined.add(person);
      if (more > 0) apart.add(person);
      more -= 1;
    }
  }
  return { apart, joined };
}

/**
 * Whether a mark names somebody who held the object.
 * 1. A maker's or retailer's mark does not: it tells who made or sold the thing.
 * 2. An owner's does, if a surname or a rank is read in it.
 * 3. Any other names first of all a depository, carrier or auction room. It names a holder where the researcher said
 *    which surname in it is meant, or where a rank stands beside the surname, as on a passenger's label.
 */
export function namesHolder(row: Pick<MarkRow, 'role' | 'surname'>, parts: MarkParts): boolean {
  if (row.role === 'maker' || row.role === 'retailer') return false;
  if (row.role === 'owner') return parts.surname !== undefined || parts.rank !== undefined;
  return parts.surname !== undefined && (row.surname !== null || parts.rank !== undefined);
}

const TOGETHER = 'others of m';
export const isTogether = (person: string): boolean => person.startsWith(TOGETHER);

/** The less likely candidates of a mark as one holder: their chances of each day add up, each with their own bits. */
function together(mark: number, inputs: readonly CandidateInput[]): CandidateInput {
  const posts = inputs.flatMap(({ posts: own, forms, placeBits }) => {
    return own.map(({ readAs, ...post }) => {
      const name = best(readAs?.forms ?? forms);
      const bits = {
        surname: name.surnameBits,
        forenames: name.forenameBits,
        rank: post.rankBits,
        corps: post.corpsBits,
        place: readAs?.placeBits ?? placeBits,
      };
      return { ...post, rankBits: totalBits(bits) - Math.log2(readAs?.share ?? 1), corpsBits: 0 };
    });
  });
  const forms = [{ surnameBits: 0, forenameBits: 0, inUse: ALL_TIME }];
  return { person: `${TOGETHER}${mark}`, rank: undefined, forms, placeBits: 0, posts };
}

const best = (forms: CandidateInput['forms']): CandidateInput['forms'][number] =>
  forms.reduce((a, b) => (a.surnameBits + a.forenameBits <= b.surnameBits + b.forenameBits ? a : b));
