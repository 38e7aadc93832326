import { type MarkDays, markDays, weigh } from '../attribution/candidate.ts';
import { sharesOf } from '../attribution/candidates.ts';
import type { Weights } from '../attribution/sweep-answers.ts';
import { type Sweep, type UnrecordedInput, unrecordedWeight } from '../attribution/unrecorded.ts';
import type { CareerEvidence } from '../careers/evidence.ts';
import { solveCareer } from '../careers/solve.ts';
import { candidateInputs, type Known } from './candidate-inputs.ts';
import type { MarkQuestion } from './mark-question.ts';
import type { NamingRoles } from './naming-roles.ts';

/** What somebody weighs in one rank. Whoever a sweep would find has words in the place of an id. */
type Weighed = Weights['ranked'][number];
export type KnownPerson = Known & { readonly evidence: CareerEvidence };

/** Who can have made a mark, as it stands now or would stand after some answers. */
export type Situation = Weights & {
  readonly mark: string;
  readonly question: MarkQuestion;
  readonly when: MarkDays;
  /** People whose evidence is another than the question's. */
  readonly changed: ReadonlyMap<string, KnownPerson>;
  readonly asked: UnrecordedInput;
};

/** The situation of a mark with what is recorded. */
export function situationOf(mark: string, question: MarkQuestion, roles: NamingRoles): Situation {
  const { assumptions, unrecorded } = question;
  const when = markDays(roles.density);
  const candidates = [...question.known.values()].flatMap((known) =>
    candidateInputs(known, question.sought, assumptions),
  );
  const shares = sharesOf({ mark: when, candidates, unrecorded }, assumptions);
  return {
    mark,
    question,
    when,
    changed: new Map(),
    namesHolder: roles.weight,
    ranked: shares.ranked.map(({ person, weight }) => ({ person, weight })),
    asked: unrecorded,
    unrecorded: shares.unrecorded,
    total: shares.total,
  };
}

export const knownIn = ({ question, changed }: Situation, person: string): KnownPerson | undefined =>
  changed.get(person) ?? question.known.get(person);

const inOrder = (ranked: readonly Weighed[]): Weighed[] => [...ranked].sort((a, b) => b.weight - a.weight);
const sum = (ranked: readonly Weighed[]): number => ranked.reduce((total, { weight }) => total + weight, 0);

/** The situation if there were more evidence on a person. */
export function withEvidence(situation: Situation, known: KnownPerson, more: MoreEvidence): Situation {
  const { changed, unrecorded } = situation;
  const { then, weights } = personThen(situation, known, more);
  const ranked = inOrder([...situation.ranked.filter(({ person }) => person !== known.person), ...weights]);
  return {
    ...situation,
    changed: new Map([...changed, [known.person, then]]),
    ranked,
    total: unrecorded.expected + sum(ranked),
  };
}

/** A person as they would be known with more evidence, and what they would weigh in each rank. */
type PersonThen = { readonly then: KnownPerson; readonly weights: readonly Weighed[] };

/** Of each person as they are known, for the days of a mark: what more evidence would make of them. Plans ask again and again. */
const personsThen = new WeakMap<MarkDays, WeakMap<KnownPerson, Map<string, PersonThen>>>();

function personThen({ question, when }: Situation, known: KnownPerson, more: MoreEvidence): PersonThen {
  const ofMark = personsThen.get(when) ?? new WeakMap<KnownPerson, Map<string, PersonThen>>();
  personsThen.set(when, ofMark);
  const ofPerson = ofMark.get(known) ?? new Map<string, PersonThen>();
  ofMark.set(known, ofPerson);
  const key = [
    ...(more.entries ?? []).map(({ edition, rank, corps, kind }) => [edition.id, rank.id, corps?.key, kind].join('\n')),
    ...(more.nilSearches ?? []).map(({ edition }) => edition.id),
  ].join('\n\n');
  const found = ofPerson.get(key) ?? withMore(known, more, question, when);
  ofPerson.set(key, found);
  return found;
}

type MoreEvidence = Partial<Pick<CareerEvidence, 'entries' | 'nilSearches'>>;

function withMore(known: KnownPerson, more: MoreEvidence, question: MarkQuestion, when: MarkDays): PersonThen {
  const evidence = {
    ...known.evidence,
    entries: [...known.evidence.entries, ...(more.entries ?? [])],
    nilSearches: [...known.evidence.nilSearches, ...(more.nilSearches ?? [])],
  };
  const then = {
    ...known,
    evidence,
    career: solveCareer(evidence, question.assumptions),
  };
  const own = candidateInputs(then, question.sought, question.assumptions)
    .map((input) => ({
      person: known.person,
      weight: weigh(input, when).weight,
    }))
    .filter(({ weight }) => weight > 0);
  return { then, weights: own };
}

/** The situation after a sweep; `found`: somebody more whom it finds, by words in the place of an id. */
export function withSweep(situation: Situation, sweep: Sweep, found: Weighed | undefined): Situation {
  const asked = {
    ...situation.asked,
    sweeps: [...situation.asked.sweeps, sweep],
  };
  const expected = unrecordedIn(situation, asked);
  const ranked = inOrder([...situation.ranked, ...(found === undefined ? [] : [found])]);
  return {
    ...situation,
    ranked,
    asked,
    unrecorded: { expected },
    total: expected + sum(ranked),
  };
}

/** Of the days of each mark, by the sweeps made: a sum over all of them. */
const unrecordedSums = new WeakMap<MarkDays, Map<string, number>>();

/** What somebody unrecorded weighs when so much has been swept; all else that is asked is the same for all days of a mark. */
export function unrecordedIn({ when, question }: Situation, asked: UnrecordedInput): number {
  const ofMark = unrecordedSums.get(when) ?? new Map<string, number>();
  unrecordedSums.set(when, ofMark);
  const key = asked.sweeps
    .map(({ surname, midDay }) => `${surname} ${midDay}`)
    .sort()
    .join('\n');
  const found = ofMark.get(key) ?? unrecordedWeight(asked, when, question.assumptions);
  ofMark.set(key, found);
  return found;
}
