import type { Assumptions } from '../assumptions.ts';
import { plusMonths } from '../time/evidence-date.ts';
import type { Day, Span } from '../time/span.ts';
import { datedClaim, lifeClaim, listedClaim, noticeClaim, type RecordedClaim, sayClaim } from './claims.ts';
import { findContradictions } from './contradictions.ts';
import type { CareerEvidence, Notice, RecordId } from './evidence.ts';
import { type Explained, explainSets, inWords } from './explained-conflicts.ts';
import { constrain, contradiction, emptyNetwork, FIXED, type Network, notAfter, notBefore } from './network.ts';
import { compareIds } from './record-order.ts';
import { cheapestWayOut, type Prices } from './ways-out.ts';

/** Everything recorded of one record of a person, with the records that the researcher set aside left out already. */
export type LifeRecord = {
  readonly id: RecordId;
  readonly evidence: Pick<CareerEvidence, 'entries' | 'notices' | 'born' | 'died'>;
};

/** The relative is the parent, child, spouse … of the person; `said`: the same in a sentence. */
export type Kinship = {
  readonly id: RecordId;
  readonly key: string | undefined;
  readonly person: RecordId;
  readonly relation: string;
  readonly relative: RecordId;
  readonly said: string;
};

/** A finding that two records are of one person. */
export type Sameness = {
  readonly id: RecordId;
  readonly key: string | undefined;
  readonly person: RecordId;
  readonly other: RecordId;
  readonly said: string;
};

export type LivesInput = {
  readonly records: readonly LifeRecord[];
  readonly kinships: readonly Kinship[];
  readonly samenesses: readonly Sameness[];
};

type LifePart = RecordedClaim['part'] | 'alive' | 'kin' | 'same';

/** A statement that bears on somebody's life; `person`: the record of whom it is made. */
export type LifeClaim = {
  readonly id: RecordId;
  readonly part: LifePart;
  readonly claim: string;
  readonly weight: number;
  readonly person: RecordId | undefined;
};

/**
 * A child can be born so many days after the death of a parent: 300 days after the end of a marriage a child is no
 * longer presumed to be of it (Code civil, 1804, art. 315; from memory).
 */
const POSTHUMOUS_DAYS = 300;

type Recorded = LifeClaim & { readonly key: string | undefined; readonly sourceDay: number };

/**
 * The lives of people who are kin, or found to be one, as difference constraints on two days of each record: birth B
 * and death D.
 *
 * 1. Nobody dies before birth: B <= D.
 * 2. Born, died in [a, b]: a <= B <= b, a <= D <= b.
 * 3. In post on a day x: B and the minimum age <= x, and D >= x. (Of a listing, a date of rank, a start or an end.)
 * 4. Married or renamed on a day x: B <= x <= D.
 * 5. Parent and child: the parent is older by the least age of a parent, and does not die more than 300 days before
 *    the birth.
 * 6. Spouses: some day lies in both lives.
 * 7. Two records of one person: one birth, one death.
 *
 * @returns the minimal sets of claims that cannot all be true, without those that say no more than a set already
 * `known` (its claims as `id part`), smallest first; `complete` unless there were too many to look through.
 */
export function lifeConflicts(
  input: LivesInput,
  known: readonly ReadonlySet<string>[],
  alreadyAside: ReadonlySet<string>,
  assumptions: Assumptions,
): { readonly conflicts: readonly Explained<LifeClaim>[]; readonly complete: boolean } {
  const { claims, network } = lifeNetwork(input, assumptions);
  const cost = new Float64Array(claims.length).fill(1);
  if (contradiction(network, cost) === undefined) return { conflicts: [], complete: true };
  const prices = pricesOf(claims);
  const found = contradictingSets(network, prices, cost);
  const name = (k: number): string => `${claims[k]?.id} ${claims[k]?.part}`;
  const place = recordingPlaces(claims);
  const inOrder = (set: readonly number[]): number[] => [...set].sort((a, b) => (place[a] ?? 0) - (place[b] ?? 0));
  const sets = found.sets
    .filter((set) => {
      const members = new Set(set.map(name));
      return !known.some((other) => [...other].every((member) => members.has(member)));
    })
    .map(inOrder)
    .sort((a, b) => a.length - b.length || firstDifference(a, b, place));
  const already = new Set(claims.flatMap((_, k) => (alreadyAside.has(name(k)) ? [k] : [])));
  const isCleared = (set: readonly number[]): boolean => set.some((k) => already.has(k));
  const open = sets.filter((set) => !isCleared(set));
  const say = (k: number): LifeClaim => {
    const { id, part, claim, weight, person } = claims[k] as Recorded;
    return { id, part, claim, weight, person };
  };
  // What a career sets aside for reasons of its own is no part of the ways out of the others.
  const cleared = sets.filter(isCleared);
  const explained = [
    ...explainSets(open, () => true, new Set(cheapestWayOut(open, prices)), prices, open.length),
    ...explainSets(cleared, () => true, already, prices, cleared.length),
  ];
  const order = new Map<readonly number[], number>(sets.map((set, at) => [set, at]));
  const inPlace = explained.sort((a, b) => (order.get(a.members) ?? 0) - (order.get(b.members) ?? 0));
  return { conflicts: inPlace.map(inWords(say)), complete: found.complete };
}

/** The place of each claim in the order of the ids of its records. */
function recordingPlaces(claims: readonly Recorded[]): number[] {
  const order = [...claims.keys()].sort((a, b) => {
    const [one, other] = [claims[a] as Recorded, claims[b] as Recorded];
    return compareIds(one.id, other.id) || (one.part < other.part ? -1 : 1);
  });
  const places: number[] = [];
  for (const [place, claim] of order.entries()) places[claim] = place;
  return places;
}

function firstDifference(a: readonly number[], b: readonly number[], place: readonly number[]): number {
  const at = a.findIndex((claim, k) => claim !== b[k]);
  return at < 0 ? 0 : (place[a[at] as number] ?? 0) - (place[b[at] as number] ?? 0);
}

type Sets = ReturnType<typeof findContradictions>;

/** All contradicting sets; of a large kin with too many ways round it, enough of them to get out by. */
function contradictingSets(network: Network, prices: Prices, cost: Float64Array): Sets {
  const found = findContradictions(network);
  if (found.complete) return found;
  const off = new Set(cheapestWayOut(found.sets, prices));
  const sets = [...found.sets];
  for (let left = contradiction(without(network, off), cost); left !== undefined; ) {
    let set = left;
    for (const claim of left) {
      const fewer = set.filter((one) => one !== claim);
      if (contradiction(without(network, new Set(network.claim.filter((k) => !fewer.includes(k)))), cost)) set = fewer;
    }
    sets.push(set);
    for (const claim of cheapestWayOut([set], prices)) off.add(claim);
    left = contradiction(without(network, off), cost);
  }
  return { sets: sets.sort((a, b) => a.length - b.length), complete: false };
}

/** The network without the constraints of some claims; what always holds stays. */
function without({ nodes, x, y, w, claim }: Network, off: ReadonlySet<number>): Network {
  const left = emptyNetwork(nodes);
  for (const [edge, by] of claim.entries()) {
    if (by === FIXED || !off.has(by)) constrain(left, x[edge] as number, y[edge] as number, w[edge] as number, by);
  }
  return left;
}

function lifeNetwork(
  { records, kinships, samenesses }: LivesInput,
  assumptions: Assumptions,
): { readonly claims: readonly Recorded[]; readonly network: Network } {
  const claims: Recorded[] = [];
  const network = emptyNetwork(1 + 2 * records.length);
  const placeOf = new Map(records.map(({ id }, place) => [id, place]));
  const birth = (place: number): number => 1 + 2 * place;
  const death = (place: number): number => 2 + 2 * place;
  const add = (claim: Recorded): number => claims.push(claim) - 1;
  const oldest = (day: number): number => lastBirthBefore(day, assumptions);

  for (const [place, { id, evidence }] of records.entries()) {
    const [born, died] = [birth(place), death(place)];
    const recorded = (claim: RecordedClaim): number => add(asLifeClaim(claim, id));
    const within = (node: number, { from, until }: Span, claim: number): void => {
      notBefore(network, node, from, claim);
      notAfter(network, node, until - 1, claim);
    };
    const inPost = (first: number, last: number, claim: number): void => {
      notAfter(network, born, oldest(last), claim);
      notBefore(network, died, first, claim);
    };
    constrain(network, born, died, 0, FIXED);
    for (const entry of evidence.entries) {
      const { asAt, lagDays } = entry.edition;
      inPost(asAt.span.from - lagDays, asAt.span.until - 1, recorded(listedClaim(entry, assumptions)));
      if (entry.dated === undefined) continue;
      const { from, until } = entry.dated.span;
      inPost(from, until - 1, recorded(datedClaim(entry, entry.dated, assumptions)));
    }
    if (evidence.born) within(born, evidence.born.date.span, recorded(lifeClaim(evidence.born, 'born', assumptions)));
    if (evidence.died) within(died, evidence.died.date.span, recorded(lifeClaim(evidence.died, 'died', assumptions)));
    for (const notice of evidence.notices) {
      const { from, until } = notice.date.span;
      const says = sayingOf(notice);
      if (says === 'born' || says === 'died')
        within(says === 'born' ? born : died, notice.date.span, recorded(lifeClaim(notice, says, assumptions)));
      else if (says === 'start') inPost(from, until - 1, recorded(noticeClaim(notice, 'start', assumptions)));
      else if (says === 'end') inPost(from - 1, until - 2, recorded(noticeClaim(notice, 'end', assumptions)));
      else if (says === 'alive') {
        const claim = add({ ...asLifeClaim(noticeClaim(notice, 'start', assumptions), id), part: 'alive' });
        notAfter(network, born, until - 1, claim);
        notBefore(network, died, from, claim);
      }
    }
  }

  const between = (
    { id, key, said }: Pick<Kinship, 'id' | 'key' | 'said'>,
    part: 'kin' | 'same',
    edges: readonly (readonly [x: number, y: number, w: number])[],
  ): void => {
    if (edges.length === 0) return;
    const weight = assumptions.values['reliability.kin'];
    const claim = add({ id, key, part, claim: said, weight, person: undefined, sourceDay: -Infinity });
    for (const [x, y, w] of edges) constrain(network, x, y, w, claim);
  };
  for (const kinship of kinships) {
    const [one, other] = [placeOf.get(kinship.person), placeOf.get(kinship.relative)];
    if (one === undefined || other === undefined) continue;
    between(kinship, 'kin', kinEdges(kinship.relation, one, other, assumptions));
  }
  for (const sameness of samenesses) {
    const [one, other] = [placeOf.get(sameness.person), placeOf.get(sameness.other)];
    if (one === undefined || other === undefined) continue;
    between(sameness, 'same', [
      [birth(one), birth(other), 0],
      [birth(other), birth(one), 0],
      [death(one), death(other), 0],
      [death(other), death(one), 0],
    ]);
  }
  return { claims, network };

  /** `person` and `relative` by their places. */
  function kinEdges(
    relation: string,
    person: number,
    relative: number,
    { values }: Assumptions,
  ): readonly (readonly [x: number, y: number, w: number])[] {
    if (relation === 'spouse')
      return [
        [birth(person), death(relative), 0],
        [birth(relative), death(person), 0],
      ];
    const [child, parent] =
      relation === 'parent' ? [person, relative] : relation === 'child' ? [relative, person] : [-1, -1];
    if (child < 0 || parent < 0) return [];
    const leastDays = Math.max(1, Math.floor(values['parent.age'] * 365.25));
    return [
      [birth(parent), birth(child), -leastDays],
      [birth(child), death(parent), POSTHUMOUS_DAYS],
    ];
  }
}

/** What a notice says of a life; what somebody else's appointment in his place says of it is uncertain. */
function sayingOf({ event }: Notice): 'born' | 'died' | 'start' | 'end' | 'alive' | undefined {
  switch (event) {
    case 'born':
    case 'died':
      return event;
    case 'appointed':
    case 'promoted':
    case 'exchanged':
      return 'start';
    case 'half-pay':
    case 'retired':
    case 'resigned':
    case 'dismissed':
      return 'end';
    case 'married':
    case 'renamed':
      return 'alive';
    default:
      return undefined;
  }
}

const asLifeClaim = (claim: RecordedClaim, person: RecordId): Recorded => ({
  ...sayClaim(claim),
  weight: claim.reliability,
  person,
  key: claim.record.key,
  sourceDay: claim.sourceDay,
});

/** The last day on which one can be born who is of the minimum age on a day. */
function lastBirthBefore(day: number, { values }: Assumptions): number {
  if (!Number.isFinite(day)) return day;
  const months = Math.round(values['minimum.age'] * 12);
  let born = (plusMonths(day as Day, -months) + 3) as Day; // a month cut short at its end can hide some days
  while (plusMonths(born, months) > day) born = (born - 1) as Day;
  return born;
}

/** The later source gives way first, then the greater key, then what is said. */
function pricesOf(claims: readonly Recorded[]): Prices {
  const order = [...claims.keys()].sort((a, b) => {
    const [one, other] = [claims[a] as Recorded, claims[b] as Recorded];
    if (one.sourceDay !== other.sourceDay) return one.sourceDay > other.sourceDay ? -1 : 1;
    if (one.key !== undefined && other.key !== undefined && one.key !== other.key) return one.key > other.key ? -1 : 1;
    if (one.claim !== other.claim) return one.claim > other.claim ? -1 : 1;
    return compareIds(other.id, one.id) || (one.part < other.part ? -1 : 1);
  });
  const turn: number[] = [];
  order.forEach((claim, place) => {
    turn[claim] = place;
  });
  return { reliability: claims.map(({ weight }) => weight), turn };
}
