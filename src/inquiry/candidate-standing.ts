import type { Assumptions } from '../assumptions.ts';
import { type CandidateInput, type MarkDays, weigh } from '../attribution/candidate.ts';
import { type Share, type Shares, sharesOf } from '../attribution/candidates.ts';
import { type Robustness, robustness } from '../attribution/robustness.ts';
import { unrecordedWeight } from '../attribution/unrecorded.ts';
import type { CareerEvidence } from '../careers/evidence.ts';
import { solveCareer } from '../careers/solve.ts';
import { candidateInputs, type Known } from './candidate-inputs.ts';
import type { MarkDays as DaysOfMark } from './mark-dating.ts';
import { type MarkQuestion, questionOfReadings } from './mark-question.ts';

/** An answer about a mark, and how it is worked out again without a record. */
export type Answered = {
  readonly question: MarkQuestion;
  readonly shares: Shares;
  readonly when: MarkDays;
  /** Features of the object and clues on the mark by which the mark is dated: they date without naming anybody. */
  readonly windows: readonly string[];
  /** When the mark was put on if one of them is left out. */
  readonly whenWithout: (id: string) => MarkDays;
};

/** Tries a candidate without each of the records that the answer rests on. */
export function standing(tried: Pick<Share, 'person' | 'rank' | 'share'>, given: Answered): Robustness {
  const { person, rank, share } = tried;
  const { question, shares, when, windows } = given;
  const { assumptions, sought } = question;
  const known = question.known.get(person);
  if (!known) throw new Error(`${person} is not among the people asked about`);
  const own = recordsOf(known);
  const others =
    shares.total - (shares.ranked.find((each) => each.person === person && each.rank === rank)?.weight ?? 0);
  const weightOf = (input: CandidateInput[], mark_: MarkDays): number =>
    input.filter((each) => each.rank === rank).reduce((sum, each) => sum + weigh(each, mark_).weight, 0);
  const matters = mattering(known);
  const withoutOwn = (id: string): number => {
    if (!matters(id)) return share;
    const weight = weightOf(candidateInputs(knownWithout(known, id, assumptions), sought, assumptions), when);
    return weight / (others + weight);
  };
  const withoutWindow = (id: string): number =>
    sharesWithoutWindow(given, id).ranked.find((each) => each.person === person && each.rank === rank)?.share ?? 0;
  const withoutSweep = (id: string): number => {
    const left = question.unrecorded.sweeps.filter((_, place) => question.sweepIds[place] !== id);
    const weight = share * shares.total;
    const unrecorded = unrecordedWeight({ ...question.unrecorded, sweeps: left }, when, assumptions);
    return weight / (shares.total - shares.unrecorded.expected + unrecorded);
  };
  const withoutReading = (id: string): number => {
    const left = sharesWithout(question, id, when);
    return left?.ranked.find((each) => each.person === person && each.rank === rank)?.share ?? 0;
  };
  const readingIds = question.readings.slice(1).map(({ id }) => id);
  const ids = [...own, ...windows, ...question.sweepIds, ...readingIds];
  return robustness(
    share,
    ids,
    (id) =>
      windows.includes(id)
        ? withoutWindow(id)
        : question.sweepIds.includes(id)
          ? withoutSweep(id)
          : readingIds.includes(id)
            ? withoutReading(id)
            : withoutOwn(id),
    assumptions,
  );
}

type KnownPerson = Known & { readonly evidence: CareerEvidence };

/** What is known of a person if one of their records is left out. */
export function knownWithout(known: KnownPerson, id: string, assumptions: Assumptions): KnownPerson {
  const evidence = { ...known.evidence, setAside: new Set([...known.evidence.setAside, id]) };
  const names = known.names.filter((name) => name.id !== id || name.recorded);
  return { ...known, evidence, names, career: solveCareer(evidence, assumptions) };
}

/** The shares if a feature or clue were left out: for every candidate who is tried the same. */
function sharesWithoutWindow(given: Answered, id: string): Shares {
  const known = withoutWindows.get(given) ?? new Map<string, Shares>();
  withoutWindows.set(given, known);
  const { shares, question, whenWithout } = given;
  const candidates = shares.ranked.map(({ input }) => input).concat(shares.outOfTime);
  const found =
    known.get(id) ??
    sharesOf({ mark: whenWithout(id), candidates, unrecorded: question.unrecorded }, question.assumptions);
  known.set(id, found);
  return found;
}

const withoutWindows = new WeakMap<Answered, Map<string, Shares>>();

/** The shares if one of several readings were left out, the others being as likely as each other. */
function sharesWithout(question: MarkQuestion, reading: string, when: MarkDays): Shares | undefined {
  const known = leftOut.get(question) ?? new Map<string, Shares>();
  leftOut.set(question, known);
  const shares = known.get(reading) ?? sharesOfOthers(question, reading, when);
  if (shares !== undefined) known.set(reading, shares);
  return shares;
}

/** Of each question, the same for every candidate who is tried. */
const leftOut = new WeakMap<MarkQuestion, Map<string, Shares>>();

function sharesOfOthers(question: MarkQuestion, reading: string, when: MarkDays): Shares | undefined {
  const { db, assumptions, read, readings } = question;
  const [first, ...others] = readings.filter(({ id }) => id !== reading);
  if (first === undefined) return undefined;
  const { sought, unrecorded } = questionOfReadings(db, assumptions, read, [first, ...others]);
  const candidates = [...question.known.values()].flatMap((known) => candidateInputs(known, sought, assumptions));
  return sharesOf({ mark: when, candidates, unrecorded }, assumptions);
}

/**
 * Which records can change anything by their absence. An entry that is the ground of no bound, and not the only record
 * of its post, leaves every bound as it is: the paths by which the bounds were found go by other records. Where records
 * contradict, were set aside or searched for in vain, or posts are ordered by their evidence alone, any may matter.
 */
export function mattering({ career, evidence }: KnownPerson): (id: string) => boolean {
  const tangled =
    career.conflicts.length > 0 ||
    evidence.nilSearches.length > 0 ||
    career.unused.length > 0 ||
    career.tenures.some(({ rank }) => rank.order === undefined);
  if (tangled) return () => true;
  const grounds = new Set<string>();
  for (const tenure of career.tenures) {
    for (const ids of Object.values(tenure.grounds)) for (const id of ids) grounds.add(id);
    const [only, another] = tenure.records;
    if (only !== undefined && another === undefined) grounds.add(only);
  }
  return (id) => !id.startsWith('e') || grounds.has(id);
}

/** The records under one person's career and names. */
export const recordsOf = ({ evidence, names }: KnownPerson): string[] => [
  ...evidence.entries.map(({ id }) => id),
  ...evidence.notices.map(({ id }) => id),
  ...evidence.nilSearches.map(({ id }) => id),
  ...[evidence.born, evidence.died].flatMap((life) => (life === undefined ? [] : [life.id])),
  ...names.filter(({ recorded }) => !recorded).map(({ id }) => id),
];

/** The features and clues by which a mark is dated: records that date without naming anybody. */
export const windowsUnder = ({ grounds }: Pick<DaysOfMark, 'grounds'>): string[] =>
  grounds.filter((id) => /^(?:f|cl)\d/.test(id));
