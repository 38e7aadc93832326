import type { Assumptions } from '../assumptions.ts';
import type { Explained } from '../careers/explained-conflicts.ts';
import { explainConflicts } from '../careers/explained-conflicts.ts';
import { identityConflicts } from '../careers/identities.ts';
import { type LifeClaim, lifeConflicts } from '../careers/lives.ts';
import { compareIds } from '../careers/record-order.ts';
import { settleCareer, withoutSetAside } from '../careers/solve.ts';
import {
  differences,
  type KinRow,
  kinships,
  type PairRow,
  peopleWithLifeNotices,
  samenesses,
} from '../ledger/conflict-lookups.ts';
import type { EvidenceReader } from '../ledger/evidence.ts';
import type { Db } from '../ledger/open.ts';
import { type RecordAbout, recordsAbout, sayerFor } from './conflicts-careers.ts';
import { type Concern, type ConflictFound, type SaidClaim, whyCheapest } from './conflicts-found.ts';

/** Kinships that bound a birth or a death. */
const BINDING = ['parent', 'child', 'spouse'];

const MOST_OF_CAREER = 1000;

export type LivesFound = { readonly found: readonly ConflictFound[]; readonly complete: boolean };

/**
 * Contradictions between the lives of people who are kin or found to be one, and between what is recorded of one life.
 * @param wanted the people asked about; undefined: everybody.
 */
export function livesConflicts(
  db: Db,
  read: EvidenceReader,
  wanted: readonly number[] | undefined,
  nameOf: (person: number) => Concern,
  assumptions: Assumptions,
): LivesFound {
  const kin = kinships(db).filter(({ relation }) => BINDING.includes(relation));
  const same = samenesses(db);
  const differ = differences(db);
  const groups = groupsOf(
    [...kin.map(({ person, relative }) => [person, relative] as const), ...same.map(pairOf)],
    [...(wanted ?? []), ...(wanted === undefined ? peopleWithLifeNotices(db) : [])],
  );
  const found: ConflictFound[] = [];
  let complete = true;
  for (const people of groups) {
    if (wanted !== undefined && !wanted.some((person) => people.includes(person))) continue;
    const members = new Set(people);
    const ties = {
      kin: kin.filter(({ person }) => members.has(person)),
      same: same.filter(({ person }) => members.has(person)),
    };
    const group = groupConflicts(read, people, ties, nameOf, assumptions);
    complete &&= group.complete;
    found.push(...group.found);
  }
  const asked = wanted && new Set(wanted.map((person) => `p${person}`));
  const all = [...found, ...identities(same, differ, nameOf)];
  return {
    found: asked === undefined ? all : all.filter(({ concerns }) => concerns.some(({ id }) => asked.has(id))),
    complete,
  };
}

const pairOf = ({ person, other }: PairRow): readonly [number, number] => [person, other];

/** People who hang together, each group in the order of its ids. */
function groupsOf(pairs: readonly (readonly [number, number])[], alone: readonly number[]): number[][] {
  const groupOf = new Map<number, Set<number>>();
  const join = (a: number, b: number): void => {
    const one = groupOf.get(a) ?? new Set([a]);
    const other = groupOf.get(b) ?? new Set([b]);
    const [large, small] = one.size >= other.size ? [one, other] : [other, one];
    for (const member of small) large.add(member);
    for (const member of large) groupOf.set(member, large);
  };
  for (const [a, b] of pairs) join(a, b);
  for (const person of alone) join(person, person);
  return [...new Set(groupOf.values())]
    .map((group) => [...group].sort((a, b) => a - b))
    .sort((a, b) => (a[0] as number) - (b[0] as number));
}

function groupConflicts(
  read: EvidenceReader,
  people: readonly number[],
  { kin, same }: { readonly kin: readonly KinRow[]; readonly same: readonly PairRow[] },
  nameOf: (person: number) => Concern,
  assumptions: Assumptions,
): LivesFound {
  const about = new Map<string, RecordAbout>();
  const records = people.map((person) => {
    const evidence = withoutSetAside(read.careerOf([person]));
    for (const [id, known] of recordsAbout(evidence)) about.set(id, known);
    return { id: `p${person}`, evidence };
  });
  const name = (person: number): string => nameOf(person).name;
  const careers = ofOnePerson(people, same).map((one) =>
    explainConflicts(settleCareer(read.careerOf(one), assumptions), MOST_OF_CAREER),
  );
  const named = ({ id, part }: { readonly id: string; readonly part: string }): string => `${id} ${part}`;
  const known = careers.flatMap(({ conflicts }) => conflicts.map(({ members }) => new Set(members.map(named))));
  const aside = new Set(careers.flatMap(({ conflicts }) => conflicts.flatMap((each) => each.setAside.map(named))));
  const { conflicts, complete } = lifeConflicts(
    {
      records,
      kinships: kin.map(({ id, key, person, relation, relative }) => ({
        id: `k${id}`,
        key: key ?? undefined,
        person: `p${person}`,
        relation,
        relative: `p${relative}`,
        said: `${name(relative)} is ${relation} of ${name(person)}`,
      })),
      samenesses: same.map(({ id, key, person, other }) => ({
        id: `sm${id}`,
        key: key ?? undefined,
        person: `p${person}`,
        other: `p${other}`,
        said: `${name(person)} (p${person}) and ${name(other)} (p${other}) are one`,
      })),
    },
    known,
    aside,
    assumptions,
  );
  const concernsOf = concerned(kin, same, nameOf);
  for (const { id, key } of kin) about.set(`k${id}`, { key, source: null });
  for (const { id, key } of same) about.set(`sm${id}`, { key, source: null });
  return {
    found: conflicts.map((conflict) => lifeInAnswer(conflict, concernsOf(conflict.members), about, aside, assumptions)),
    complete,
  };
}

/** The same people, those found to be one together. */
const ofOnePerson = (people: readonly number[], same: readonly PairRow[]): number[][] =>
  groupsOf(same.map(pairOf), people);

/** Everybody of whom a conflict speaks. */
const concerned =
  (kin: readonly KinRow[], same: readonly PairRow[], nameOf: (person: number) => Concern) =>
  (members: readonly LifeClaim[]): Concern[] => {
    const people = members.flatMap(({ id, person }) => {
      if (person !== undefined) return [Number(person.slice(1))];
      const tie = kin.find((each) => `k${each.id}` === id);
      if (tie) return [tie.person, tie.relative];
      const pair = same.find((each) => `sm${each.id}` === id);
      return pair ? [pair.person, pair.other] : [];
    });
    return [...new Set(people)].sort((a, b) => a - b).map(nameOf);
  };

function lifeInAnswer(
  conflict: Explained<LifeClaim>,
  concerns: readonly Concern[],
  about: ReadonlyMap<string, RecordAbout>,
  aside: ReadonlySet<string>,
  assumptions: Assumptions,
): ConflictFound {
  const sayer = sayerFor(about);
  // Where several people are concerned a claim says of whom it is.
  const whose = (claim: LifeClaim): string => {
    const person = concerns.length > 1 ? concerns.find(({ id }) => id === claim.person) : undefined;
    return person === undefined ? claim.claim : `${person.name}: ${claim.claim}`;
  };
  const say = (claim: LifeClaim) => sayer({ ...claim, claim: whose(claim) });
  const why = `${whyCheapest(conflict)}${agesTaken(conflict.members, assumptions)}`;
  return {
    kind: 'life',
    concerns,
    members: conflict.members.map(say),
    setAside: conflict.setAside.map((claim) => ({
      ...say(claim),
      by: aside.has(`${claim.id} ${claim.part}`) ? 'computed' : 'proposed',
      why,
    })),
    frees: conflict.frees,
    otherWayOut: (conflict.otherWayOut ?? []).map(say),
    omission: null,
  };
}

/** Of births the ages that are taken for granted. */
function agesTaken(members: readonly LifeClaim[], { values }: Assumptions): string {
  const has = (...parts: string[]): boolean => members.some(({ part }) => parts.includes(part));
  if (!has('kin') || !has('born', 'listed', 'dated', 'start')) return '';
  const inPost = has('listed', 'dated', 'start') ? `, and nobody in post before ${values['minimum.age']}` : '';
  return ` Nobody is taken to be a parent before the age of ${values['parent.age']}${inPost}.`;
}

/** Findings that two are one, and that they are not. */
function identities(
  same: readonly PairRow[],
  differ: readonly PairRow[],
  nameOf: (person: number) => Concern,
): ConflictFound[] {
  const finding = (prefix: string) => (row: PairRow) => ({
    id: `${prefix}${row.id}`,
    one: row.person,
    other: row.other,
  });
  const sets = identityConflicts(same.map(finding('sm')), differ.map(finding('df')));
  const said = new Map<string, SaidClaim>();
  const people = new Map<string, readonly number[]>();
  const rows = [
    ...same.map((row) => ({ row, part: 'same', prefix: 'sm', are: 'are one' })),
    ...differ.map((row) => ({ row, part: 'differ', prefix: 'df', are: 'are not one' })),
  ];
  for (const { row, part, prefix, are } of rows) {
    const id = `${prefix}${row.id}`;
    const [one, other] = [nameOf(row.person), nameOf(row.other)];
    const claim = `${one.name} (${one.id}) and ${other.name} (${other.id}) ${are}`;
    said.set(id, { id, key: row.key, claim, part, source: null });
    people.set(id, pairOf(row));
  }
  return sets.map((set): ConflictFound => {
    const members = [...set].sort(compareIds).flatMap((id) => said.get(id) ?? []);
    const differing = members.filter(({ part }) => part === 'differ');
    const concerned = [...new Set(set.flatMap((id) => people.get(id) ?? []))].sort((a, b) => a - b);
    return {
      kind: 'identity',
      concerns: concerned.map(nameOf),
      members,
      setAside: differing.map((claim) => ({
        ...claim,
        by: 'proposed',
        why: 'Only you can tell which finding is wrong.',
      })),
      frees: sets.filter((other) => differing.some(({ id }) => other.includes(id))).length,
      otherWayOut: members.filter(({ part }) => part === 'same').slice(0, 1),
      omission: null,
    };
  });
}
