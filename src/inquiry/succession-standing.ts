import type { Assumptions } from '../assumptions.ts';
import type { Chains } from '../attribution/chains.ts';
import { type Robustness, robustness } from '../attribution/robustness.ts';
import type { RecordId } from '../careers/evidence.ts';
import { kinReader } from '../ledger/kin.ts';
import type { Db } from '../ledger/open.ts';
import { candidateInputs } from './candidate-inputs.ts';
import { knownWithout, mattering, recordsOf } from './candidate-standing.ts';
import type { ObjectMarks } from './object-marks.ts';

/** The first candidate of a mark, with the records without which another would be as likely. */
export type FirstCandidate = { readonly person: string; readonly hangsOn: readonly RecordId[] };

/**
 * Tries a holder without each record under them: those of their own career and names, and the kinships by which they are
 * joined to the holders before and after, are left out of all successions; what dates a mark, and other readings and
 * sweeps, are left out of each mark by itself that the likeliest succession gives them, and count where every one of
 * these marks hangs on them.
 * @param share the holder's share of all successions.
 */
export function holderStanding(
  db: Db,
  given: ObjectMarks,
  found: Chains,
  { person, share }: { readonly person: string; readonly share: number },
  firstOf: (mark: string) => FirstCandidate | undefined,
  assumptions: Assumptions,
): Pick<Robustness, 'robust' | 'hangsOn'> {
  const holdings = found.chains[0]?.holdings ?? [];
  const [only, another] = given.marks;
  const alone = another === undefined && only !== undefined ? firstOf(only.chain.id) : undefined;
  // A mark by itself is all that there is: it has been tried already.
  if (alone?.person === person) return { robust: alone.hangsOn.length === 0, hangsOn: alone.hangsOn };
  const questions = new Map(given.marks.map(({ chain, weighed }) => [chain.id, weighed?.question]));
  const known = [...questions.values()].flatMap((question) => question?.known.get(person) ?? []);
  const kinships = holdings.flatMap((holding, place) =>
    [holdings[place - 1], holdings[place + 1]].flatMap((other) =>
      holding.person === person && other?.person !== undefined ? (given.kinPath(person, other.person) ?? []) : [],
    ),
  );
  const own = new Set(known.flatMap(recordsOf));
  const matters = known.map(mattering);
  const now = found.shareOtherwise(person, {});
  const ofWhat = (otherwise: Parameters<Chains['shareOtherwise']>[1]): number =>
    now > 0 ? (found.shareOtherwise(person, otherwise) / now) * share : 0;
  const withoutOwn = (id: RecordId): number =>
    matters.every((needs) => !needs(id))
      ? share
      : ofWhat({
          candidaciesFor: (mark) => {
            const question = questions.get(mark);
            const each = question?.known.get(person);
            if (question === undefined || each === undefined) return [];
            return candidateInputs(knownWithout(each, id, assumptions), question.sought, assumptions);
          },
        });
  const withoutKinship = (id: RecordId): number => {
    const path = kinReader(db, id);
    return ofWhat({ isKin: (a, b) => given.isKin(a, b) && path(a, b) !== undefined });
  };
  const tried = robustness(
    share,
    [...own, ...kinships],
    (id) => (own.has(id) ? withoutOwn(id) : withoutKinship(id)),
    assumptions,
  );
  const marks = holdings.flatMap((holding) => (holding.person === person ? [firstOf(holding.mark)] : []));
  const first = marks[0];
  const ofMarks = (first?.person === person ? first.hangsOn : []).filter(
    (id) => !own.has(id) && marks.every((each) => each?.person === person && each.hangsOn.includes(id)),
  );
  const hangsOn = [...new Set([...tried.hangsOn, ...ofMarks])];
  return { robust: hangsOn.length === 0, hangsOn };
}
