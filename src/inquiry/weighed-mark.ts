import { type CandidateInput, type MarkDays, markDays } from '../attribution/candidate.ts';
import { type Shares, sharesOf } from '../attribution/candidates.ts';
import { candidateInputs } from './candidate-inputs.ts';
import type { MarkQuestion } from './mark-question.ts';
import type { NamingRoles } from './naming-roles.ts';

/** A mark with everybody who can have put it on, each with their share. */
export type WeighedMark = {
  readonly question: MarkQuestion;
  readonly roles: NamingRoles;
  /** Its days under the roles that name a holder. */
  readonly when: MarkDays;
  readonly candidates: readonly CandidateInput[];
  readonly shares: Shares;
};

export function weighedMark(question: MarkQuestion, roles: NamingRoles): WeighedMark {
  const { assumptions, known, sought, unrecorded } = question;
  const when = markDays(roles.density);
  const candidates = [...known.values()].flatMap((person) => candidateInputs(person, sought, assumptions));
  return { question, roles, when, candidates, shares: sharesOf({ mark: when, candidates, unrecorded }, assumptions) };
}
