import type { Assumptions } from '../assumptions.ts';
import type { Outcome, PossibleAnswer } from './lookups.ts';
import { expectedOfSurname, type Sweep, type UnrecordedInput } from './unrecorded.ts';

/** What everybody weighs for a mark, the heaviest first; `expected` is the weight of somebody unrecorded. */
export type Weights = {
  readonly ranked: readonly {
    readonly person: string;
    readonly weight: number;
  }[];
  readonly unrecorded: { readonly expected: number };
  readonly total: number;
  /** How likely the mark names a holder at all, 0 to 1; whatever lists say, that stays as it is. */
  readonly namesHolder: number;
};

/** The outcome by the weights for a mark. */
export const outcomeOf = ({ ranked: [first], total, namesHolder }: Weights): Outcome => ({
  leader: first?.person,
  leaderShare: first === undefined ? 0 : (first.weight / total) * namesHolder,
  total,
});

/**
 * What can come of a sweep: nobody more, or one bearer of the surname more than are known. That one more is found has
 * the chance 1 − exp(−λ), λ being how many are expected on the day of the edition. Either way fewer are left unrecorded
 * afterwards.
 * @param leftOf what somebody unrecorded weighs for the mark when so much has been swept.
 * @param found what whoever is found weighs for the mark.
 * @param labels words for the two answers and for somebody found, as print has them.
 */
export function sweepAnswers(
  shares: Weights,
  leftOf: (asked: UnrecordedInput) => number,
  unrecorded: UnrecordedInput,
  sweep: Sweep,
  found: number,
  labels: {
    readonly nobody: string;
    readonly oneMore: string;
    readonly found: string;
  },
  assumptions: Assumptions,
): PossibleAnswer[] {
  const expected = expectedOfSurname(sweep.midDay, sweep.surname, unrecorded, assumptions);
  const left = leftOf({ ...unrecorded, sweeps: [...unrecorded.sweeps, sweep] });
  const named = shares.total - shares.unrecorded.expected;
  const best = shares.ranked[0];
  const afterNobody: Outcome = {
    leader: best?.person,
    leaderShare: ((best?.weight ?? 0) / (named + left)) * shares.namesHolder,
    total: named + left,
  };
  const total = named + left + found;
  const foundLeads = found > (best?.weight ?? 0);
  const afterOne: Outcome = {
    leader: foundLeads ? labels.found : best?.person,
    leaderShare: (Math.max(found, best?.weight ?? 0) / total) * shares.namesHolder,
    total,
  };
  const nobody = Math.exp(-expected);
  return [
    { answer: labels.nobody, prior: nobody, after: afterNobody },
    { answer: labels.oneMore, prior: 1 - nobody, after: afterOne },
  ];
}
