import type { Db } from '../ledger/open.ts';
import { type CandidatesAnswer, candidatesForMark } from './candidates.ts';
import { type MadeAnswer, madeOf } from './made.ts';
import { type ProvenanceAnswer, provenanceOf } from './provenance.ts';
import { type TenuresAnswer, tenuresOf } from './tenures.ts';

/** Candidates of a mark of which print may speak one by one. */
const MOST_CANDIDATES = 8;
/** Successions looked at: print gives the likeliest. */
const CHAINS = 3;

/**
 * The questions that the report and the picture of one lot both ask, each answered once. For one lot only, and for no
 * longer than the ledger stays as it is.
 */
export type LotQuestions = {
  made(object: string): MadeAnswer;
  provenance(object: string): ProvenanceAnswer;
  candidates(mark: string): CandidatesAnswer;
  tenures(person: string): TenuresAnswer;
};

export const lotQuestions = (db: Db): LotQuestions => ({
  made: once((object) => madeOf(db, object)),
  provenance: once((object) => provenanceOf(db, object, CHAINS)),
  candidates: once((mark) => candidatesForMark(db, mark, { tried: 1, wanted: MOST_CANDIDATES })),
  tenures: once((person) => tenuresOf(db, person)),
});

function once<T>(ask: (id: string) => T): (id: string) => T {
  const known = new Map<string, T>();
  return (id) => {
    const answer = known.get(id) ?? ask(id);
    known.set(id, answer);
    return answer;
  };
}
