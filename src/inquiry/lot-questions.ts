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
};

export function lotQuestions(db: Db): LotQuestions {
  const assumptions = assumptionsOf(db);
  const read = remembering(evidenceReader(db, assumptions));
  const marks = once((object) => objectMarks(db, objectNamed(db, object), assumptions));
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
  };
}

function remembering(read: EvidenceReader): EvidenceReader {
  const careers = once((people) => read.careerOf(people.split(' ').map(Number)));
  return { ...read, careerOf: (people) => careers(people.join(' ')) };
}

function once<T>(ask: (id: string) => T): (id: string) => T {
  const known = new Map<string, T>();
  return (id) => {
    const answer = known.get(id) ?? ask(id);
    known.set(id, answer);
    return answer;
  };
}
