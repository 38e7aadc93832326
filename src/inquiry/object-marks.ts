import type { Assumptions } from '../assumptions.ts';
import { totalBits } from '../attribution/agreement.ts';
import type { CandidateInput } from '../attribution/candidate.ts';
import { isProvisional, type Share } from '../attribution/candidates.ts';
import type { IsKin } from '../attribution/chain-links.ts';
import type { ChainMark } from '../attribution/chain-marks.ts';
import { type JointMarks, jointMarks } from '../attribution/joint-making.ts';
import type { MarkRole } from '../dating/mark-roles.ts';
import { HeldbyError } from '../errors.ts';
import { type EvidenceReader, evidenceReader } from '../ledger/evidence.ts';
import { type KinPath, kinReader } from '../ledger/kin.ts';
import { kindNamed } from '../ledger/kinds.ts';
import { type MarkRow, marksOf, type ObjectRow, objectById } from '../ledger/marks.ts';
import type { Db } from '../ledger/open.ts';
import { resolveRef } from '../ledger/refs.ts';
import type { MarkParts } from '../names/mark-parts.ts';
import { foldName } from '../names/pattern.ts';
import { ALL_TIME } from '../time/span.ts';
import { type MarkDays, markDaysOf, type ObjectDays, objectDays } from './mark-dating.ts';
import { type MarkQuestion, questionOfReadings, readingsOfMark, type SolvedCareers } from './mark-question.ts';
import { lawsOf, namesHolder, namingRoles } from './naming-roles.ts';
import { type WeighedMark, weighedMark } from './weighed-mark.ts';

/** Likeliest candidates of each mark, taken one by one; the others of the mark stand for one holder together. */
const MOST_CANDIDATES = 40;
/** So many more of each mark are, who are joined to a candidate of another mark. */
const MOST_JOINED = 20;

export type ObjectMark = {
  readonly row: MarkRow;
  readonly parts: MarkParts;
  readonly days: MarkDays;
  readonly chain: ChainMark;
  /** The same if it had one of its roles for certain; none where it has one only. */
  readonly byRole: readonly { readonly role: MarkRole; readonly weight: number; readonly chain: ChainMark }[];
  /** Undefined where the mark names no holder. */
  readonly weighed: WeighedMark | undefined;
  /** How many recorded candidates can have put it on. */
  readonly fitting: number;
  /** How many of them are not taken one by one, but stand for one or two holders together. */
  readonly leftOut: number;
};

/** An object with its marks, each with whoever can have put it on: what both its dating and its holders rest on. */
export type ObjectMarks = {
  readonly object: ObjectRow;
  readonly read: EvidenceReader;
  readonly dated: ObjectDays;
  readonly marks: readonly ObjectMark[];
  /** All marks together. */
  readonly joint: JointMarks;
  readonly isKin: IsKin;
  readonly kinPath: (a: string, b: string) => KinPath | undefined;
  readonly surnamesOf: (person: string) => readonly string[];
  /** Persons who rest on a bound that another choice among contradicting records would change. */
  readonly provisional: ReadonlySet<string>;
};

export function objectNamed(db: Db, words: string): ObjectRow {
  const object = objectById(db, resolveRef(db, kindNamed('object'), words));
  if (!object) throw new HeldbyError('REFERENCE', `There is no object "${words}".`, 'See them: heldby list objects');
  return object;
}

export function objectMarks(
  db: Db,
  object: ObjectRow,
  assumptions: Assumptions,
  read: EvidenceReader = evidenceReader(db, assumptions),
): ObjectMarks {
  const dated = objectDays(db, object.id, read, assumptions);
  const known: MarkQuestion['known'][] = [];
  const provisional = new Set<string>();
  const solved: SolvedCareers = new Map();
  const asked = marksOf(db, object.id).map((row) => {
    const days = markDaysOf(row, dated, read, assumptions);
    const readings = readingsOfMark(db, row, days.dated ? days.marking.window : undefined);
    const parts = (readings.find((one) => namesHolder(row, one.parts)) ?? readings[0]).parts;
    const roles = namingRoles(days, row.surname, readings);
    if (!namesHolder(row, parts)) return { row, parts, days, weighed: undefined, roles };
    const weighed = weighedMark(questionOfReadings(db, assumptions, read, readings, solved), roles);
    known.push(weighed.question.known);
    for (const { input } of weighed.shares.ranked) if (isProvisional(input)) provisional.add(input.person);
    return { row, parts, days, weighed, roles };
  });
  const surnames = new Map<string, readonly string[]>();
  for (const each of known) {
    for (const [person, { names }] of each) {
      if (!surnames.has(person)) surnames.set(person, [...new Set(names.map(({ surname }) => foldName(surname)))]);
    }
  }
  const surnamesOf = (person: string): readonly string[] => surnames.get(person) ?? [];
  const kinPath = kinReader(db);
  const { apart, joined } = takenApart(
    asked.map(({ weighed }) => (weighed?.shares.ranked ?? []).map(({ person }) => person)),
    surnamesOf,
    (a, b) => kinPath(a, b) !== undefined,
  );
  const marks = asked.map(({ row, parts, days, weighed, roles }): ObjectMark => {
    const ranked: readonly Share[] = weighed?.shares.ranked ?? [];
    const total = weighed?.shares.total ?? 1;
    const unrecorded = weighed?.question.unrecorded;
    const one = ranked.filter(({ person }) => apart.has(person)).map(({ input }) => input);
    const others = ranked.filter(({ person }) => !apart.has(person));
    const candidates = [
      ...one,
      ...together(
        row.id,
        'strangers',
        others.filter(({ person }) => !joined.has(person)),
      ),
      ...together(
        row.id,
        'joined',
        others.filter(({ person }) => joined.has(person)),
      ),
    ];
    const bearsSurname = unrecorded?.surname?.damaged === false && parts.surname !== undefined;
    const chain: ChainMark = {
      id: `m${row.id}`,
      ...lawsOf(roles, total),
      own: days.marking.own,
      over: row.over_id === null ? undefined : `m${row.over_id}`,
      beforeMaking: days.marking.beforeMaking,
      holders: unrecorded && {
        candidates,
        unrecorded,
        surnames: bearsSurname ? [foldName(parts.surname)] : [],
      },
    };
    const { naming, unnamed } = roles;
    const byRole = [...naming, ...unnamed].map((one) => {
      const laws = lawsOf({ naming: [one], unnamed: [] }, total);
      const holders = naming.includes(one) ? chain.holders : undefined;
      return { role: one.role, weight: one.weight, chain: { ...chain, ...laws, holders } };
    });
    return {
      row,
      parts,
      days,
      weighed,
      fitting: ranked.length,
      leftOut: others.length,
      chain,
      byRole: byRole.length === 1 ? [] : byRole.sort((a, b) => b.weight - a.weight),
    };
  });
  const isKin: IsKin = (a, b) =>
    standsFor(a) === undefined && standsFor(b) === undefined && kinPath(a, b) !== undefined;
  const chains = marks.map(({ chain }) => chain);
  const joint = jointMarks(dated.making.density, chains, surnamesOf, assumptions);
  return { object, read, dated, marks, joint, isKin, kinPath, surnamesOf, provisional };
}

/**
 * Whom to take one by one: the likeliest of each mark, and those joined to one of them at another mark, by being a
 * candidate there too, by kinship or by surname; to be joined counts for much in a succession of holders. Whoever is
 * taken so for one mark is so for all. `joined`: whoever may be joined to any candidate of another mark, among those who
 * are not the likeliest.
 * @param ranked candidates of each mark, the likeliest first.
 */
function takenApart(
  ranked: readonly (readonly string[])[],
  surnamesOf: (person: string) => readonly string[],
  isKin: IsKin,
): { readonly apart: ReadonlySet<string>; readonly joined: ReadonlySet<string> } {
  const likeliest = ranked.map((persons) => persons.slice(0, MOST_CANDIDATES));
  const apart = new Set(likeliest.flat());
  const joined = new Set<string>();
  if (likeliest.every((persons, mark) => persons.length === ranked[mark]?.length)) return { apart, joined };
  for (const [mark, persons] of ranked.entries()) {
    const elsewhere = new Set(ranked.flatMap((others, other) => (other === mark ? [] : others)));
    const near = new Set(likeliest.flatMap((others, other) => (other === mark ? [] : others)));
    const joinedTo = (people: ReadonlySet<string>): ((person: string) => boolean) => {
      const surnames = new Set([...people].flatMap(surnamesOf));
      return (person) =>
        elsewhere.has(person) ||
        surnamesOf(person).some((surname) => surnames.has(surname)) ||
        [...people].some((other) => isKin(person, other));
    };
    const [toLikeliest, toAnybody] = [joinedTo(near), joinedTo(elsewhere)];
    let more = MOST_JOINED;
    for (const person of persons.slice(MOST_CANDIDATES)) {
      if (more > 0 && toLikeliest(person)) {
        apart.add(person);
        more -= 1;
      } else if (toAnybody(person)) joined.add(person);
    }
  }
  return { apart, joined };
}

const TOGETHER = 'others of m';
const JOINED = ', joined';

/** Whether a holder stands for several candidates, and whether they may be joined to holders of other marks. */
export const standsFor = (person: string): 'strangers' | 'joined' | undefined =>
  person.startsWith(TOGETHER) ? (person.endsWith(JOINED) ? 'joined' : 'strangers') : undefined;

/** The less likely candidates of a mark as one holder: their chances of each day add up, each with their own bits. */
function together(mark: number, kind: 'strangers' | 'joined', shares: readonly Share[]): CandidateInput[] {
  if (shares.length === 0) return [];
  const posts = shares.flatMap(({ input: { posts: own, forms, placeBits } }) => {
    return own.map(({ readAs, ...post }) => {
      const name = best(readAs?.forms ?? forms);
      const bits = {
        surname: name.surnameBits,
        forenames: name.forenameBits,
        rank: post.rankBits,
        corps: post.corpsBits,
        place: readAs?.placeBits ?? placeBits,
      };
      return { ...post, rankBits: totalBits(bits) - Math.log2(readAs?.share ?? 1), corpsBits: 0 };
    });
  });
  const forms = [{ surnameBits: 0, forenameBits: 0, inUse: ALL_TIME }];
  const person = `${TOGETHER}${mark}${kind === 'joined' ? JOINED : ''}`;
  return [{ person, rank: undefined, forms, placeBits: 0, posts }];
}

const best = (forms: CandidateInput['forms']): CandidateInput['forms'][number] =>
  forms.reduce((a, b) => (a.surnameBits + a.forenameBits <= b.surnameBits + b.forenameBits ? a : b));
