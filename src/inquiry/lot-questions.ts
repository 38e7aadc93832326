import type { CareerEvidence } from '../careers/evidence.ts';
import type { Density } from '../dating/density.ts';
import { assumptionsOf } from '../ledger/assumed.ts';
import { type EvidenceReader, evidenceReader } from '../ledger/evidence.ts';
import { kindNamed } from '../ledger/kinds.ts';
import { markById } from '../ledger/marks.ts';
import type { Db } from '../ledger/open.ts';
import { resolveRef } from '../ledger/refs.ts';
import { type CandidatesAnswer, candidatesForMark } from './candidates.ts';
import { type MadeAnswer, madeOf } from './made.ts';
import { objectMarks, objectNamed } from './object-marks.ts';
import { type ProvenanceAnswer, provenanceOf } from './provenance.ts';
import { type TenuresAnswer, tenuresOf } from './tenures.ts';

/** Candidates of a mark of which print may speak one by one. */
const MOST_CANDIDATES = 8;
/** Print gives the likeliest succession only. */
const CHAINS = 1;

/**
 * The questions that the report and the picture of one lot both ask, each answered once. For one lot only, and for no
 * longer than the ledger stays as it is.
 */
export type LotQuestions = {
  /** Reads the evidence on each career once. */
  readonly read: EvidenceReader;
  made(object: string): MadeAnswer;
  provenance(object: string): ProvenanceAnswer;
  candidates(mark: string): CandidatesAnswer;
  tenures(person: string): TenuresAnswer;
  /** When a mark was put on. */
  days(mark: string): Density | undefined;
};

export function lotQuestions(db: Db): LotQuestions {
  const assumptions = assumptionsOf(db);
  const read = remembering(evidenceReader(db, assumptions));
  const marks = once((object) => objectMarks(db, objectNamed(db, object), assumptions, read));
  const objectOf = (mark: string): string => `o${markById(db, resolveRef(db, kindNamed('mark'), mark))?.object_id}`;
  const candidates = once((mark) =>
    candidatesForMark(db, mark, { tried: 1, wanted: MOST_CANDIDATES }, marks(objectOf(mark))),
  );
  return {
    read,
    made: once((object) => madeOf(db, object, marks(object))),
    provenance: once((object) => provenanceOf(db, object, CHAINS, { given: marks(object), candidates })),
    candidates,
    tenures: once((person) => tenuresOf(db, person, read)),
    days: (mark) => marks(objectOf(mark)).marks.find(({ chain }) => chain.id === mark)?.days.marking.density,
  };
}

/** Only of people of one record: the order of several is that of the question. */
function remembering(read: EvidenceReader): EvidenceReader {
  const known = new Map<number, CareerEvidence>();
  const remember = (people: readonly number[], evidence: CareerEvidence): CareerEvidence => {
    if (people.length === 1) known.set(people[0] as number, evidence);
    return evidence;
  };
  return {
    ...read,
    careerOf(people) {
      const before = people.length === 1 ? known.get(people[0] as number) : undefined;
      return before ?? remember(people, read.careerOf(people));
    },
    *careersOf(groups) {
      for (const [first, evidence] of read.careersOf(groups))
        yield [first, remember(groups.get(first) ?? [], evidence)];
    },
  };
}

function once<T>(ask: (id: string) => T): (id: string) => T {
  const known = new Map<string, T>();
  return (id) => {
    const answer = known.get(id) ?? ask(id);
    known.set(id, answer);
    return answer;
  };
}
