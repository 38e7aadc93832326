import type { Career, Claim, Tenure } from '../careers/career.ts';
import { solveCareer } from '../careers/solve.ts';
import { assumptionsOf } from '../ledger/assumed.ts';
import { setAsideOf } from '../ledger/conflict-lookups.ts';
import { type EvidenceReader, evidenceReader } from '../ledger/evidence.ts';
import { kindNamed } from '../ledger/kinds.ts';
import type { Db } from '../ledger/open.ts';
import { type PersonName, personName, samePeople } from '../ledger/people.ts';
import { resolveRef } from '../ledger/refs.ts';
import { dayInAnswer, spanInAnswer } from './days.ts';

type Bounds = { readonly earliest: string | null; readonly latest: string | null };
type Days = { readonly from: string | null; readonly to: string | null };

export type TenureAnswer = {
  readonly id: string;
  readonly service: string;
  readonly rank: string;
  readonly corps: string | null;
  readonly kind: string;
  readonly start: Bounds;
  readonly end: Bounds;
  readonly possible: Days;
  readonly certain: Days | null;
  readonly provisional: boolean;
  readonly implied: boolean;
  /** Every claim that made it known is set aside: nothing is left that says it was ever held. */
  readonly unsupported: boolean;
  readonly records: readonly string[];
  readonly grounds: Tenure['grounds'];
};

export type ConflictAnswer = {
  readonly members: readonly { readonly id: string; readonly claim: string }[];
  readonly setAside: readonly { readonly id: string; readonly claim: string }[];
};

export type TenuresAnswer = {
  readonly person: PersonName;
  /** Other records that are found to be the same person. */
  readonly also: readonly PersonName[];
  readonly tenures: readonly TenureAnswer[];
  readonly conflicts: readonly ConflictAnswer[];
  readonly conflictsBeyond: number;
  readonly unused: readonly { readonly id: string; readonly reason: string }[];
  /** Records of the person, or editions that they stand in, that the researcher set aside. */
  readonly setAside: readonly {
    readonly id: string;
    readonly why: string | null;
    readonly who: string;
    readonly act: number;
  }[];
};

/**
 * Every appointment of a person with the bounds of its start and end, what they rest on, and what contradicts.
 * @param read where several people are asked about: what their entries share is then read once.
 */
export function tenuresOf(db: Db, words: string, read?: EvidenceReader): TenuresAnswer {
  const found = resolveRef(db, kindNamed('person'), words);
  const people = samePeople(db)(found);
  const [first = found, ...others] = people;
  const assumptions = assumptionsOf(db);
  const evidence = (read ?? evidenceReader(db, assumptions)).careerOf(people);
  const career = solveCareer(evidence, assumptions);
  return {
    person: personName(db, first),
    also: others.map((person) => personName(db, person)),
    tenures: career.tenures.map((tenure) => tenureAnswer(`p${first}`, tenure)),
    conflicts: conflictAnswers(career),
    conflictsBeyond: career.conflictsBeyond,
    unused: career.unused,
    setAside: setAsideOf(db, evidence).map(({ record, why, who, act }) => ({ id: record, why, who, act })),
  };
}

/** A tenure is known by its person and its place among that person's tenures. */
export const tenureId = (person: string, tenure: Pick<Tenure, 'index'>): string => `${person}.${tenure.index + 1}`;

function tenureAnswer(person: string, tenure: Tenure): TenureAnswer {
  const { rank, corps, kind, start, end, possible, certain, provisional, implied, unsupported, records, grounds } =
    tenure;
  return {
    id: tenureId(person, tenure),
    service: rank.service,
    rank: rank.title,
    corps: corps?.name ?? null,
    kind,
    start: { earliest: dayInAnswer(start.earliest), latest: dayInAnswer(start.latest) },
    end: { earliest: dayInAnswer(end.earliest), latest: dayInAnswer(end.latest) },
    possible: spanInAnswer(possible),
    certain: certain === undefined || unsupported ? null : spanInAnswer(certain),
    provisional,
    implied,
    unsupported,
    records,
    grounds,
  };
}

const claims = (list: readonly Claim[]) => list.map(({ id, claim }) => ({ id, claim }));

export const conflictAnswers = ({ conflicts }: Pick<Career, 'conflicts'>): ConflictAnswer[] =>
  conflicts.map(({ members, setAside }) => ({ members: claims(members), setAside: claims(setAside) }));
