import type { Assumptions } from '../assumptions.ts';
import type { Tenure } from '../careers/career.ts';
import { settleCareer, solveCareer } from '../careers/solve.ts';
import { type Affected, affectedBy, marksThere } from '../ledger/affected.ts';
import { standAsOf } from '../ledger/as-of.ts';
import { assumptionsOf } from '../ledger/assumed.ts';
import { evidenceReader } from '../ledger/evidence.ts';
import { type MarkRow, objectById } from '../ledger/marks.ts';
import type { Db } from '../ledger/open.ts';
import { everybody, nameReader, type PersonName, personName, samePeople } from '../ledger/people.ts';
import { lastActId } from '../ledger/undo.ts';
import { limitBits, patternFrom } from '../names/pattern.ts';
import { surnameCost } from '../names/surname-cost.ts';
import { candidatesForMark } from './candidates.ts';
import { livesConflicts } from './conflicts-lives.ts';
import { conflictsOfObject } from './conflicts-objects.ts';
import { dayInAnswer } from './days.ts';
import { postInWords } from './grounds-tenures.ts';
import { type Days, madeOf } from './made.ts';
import { readingsOfMark } from './mark-question.ts';

type Bounds = { readonly earliest: string | null; readonly latest: string | null };

export type TenureState = { readonly start: Bounds; readonly end: Bounds; readonly provisional: boolean };

export type Change<T> = { readonly before: T | null; readonly after: T | null };

export type TenureChange = Change<TenureState> & { readonly person: PersonName; readonly post: string };

type Leader = { readonly person: PersonName; readonly share: number } | null;

export type MarkChange = {
  readonly id: string;
  readonly key: string | null;
  readonly text: string;
  readonly leader: { readonly before: Leader; readonly after: Leader };
  readonly unrecorded: { readonly before: number | null; readonly after: number | null };
  /** Shares that change, the largest change first. */
  readonly shares: readonly (Change<number> & { readonly person: PersonName })[];
};

export type MakingState = { readonly phrase: string; readonly span: Days; readonly withMarks: string | null };

export type ObjectChange = Change<MakingState> & { readonly id: string; readonly ref: string };

/** What a correction would change. */
export type Effect = {
  readonly tenures: readonly TenureChange[];
  readonly marks: readonly MarkChange[];
  readonly objects: readonly ObjectChange[];
  /** How many conflicts there are between the records of the people and objects concerned. */
  readonly conflicts: { readonly before: number; readonly after: number };
  /** People and marks that may change too, but were too many to work out. */
  readonly notWorkedOut: { readonly people: number; readonly marks: number };
};

const MOST_PEOPLE = 200;
const MOST_MARKS = 50;
/** Less is within what is printed of a share. */
const LEAST_SHARE = 0.0005;

/**
 * What changes when something is done to records: all that they bear on, before or afterwards, is worked out after the act
 * and as it was before it. To be called within a transaction that is rolled back: the connection stands in the past then.
 * @param done does it and returns what was recorded.
 */
export function effectOf<T>(
  db: Db,
  ids: readonly string[],
  done: () => T,
): { readonly result: T; readonly effect: Effect } {
  const affected = (): Affected => withNames(db, ids.map((id) => affectedBy(db, id)).reduce(joined));
  const before = affected();
  const result = done();
  const concerned = joined(before, affected());
  const last = stateOf(db, concerned);
  standAsOf(db, lastActId(db) - 1);
  return { result, effect: differences(stateOf(db, concerned), last) };
}

/** With the surnames that the people bear, now or at some time: marks can mean them by any of these. */
function withNames(db: Db, affected: Affected): Affected {
  const read = evidenceReader(db, assumptionsOf(db));
  const names = nameReader(db, read.date).namesOf(affected.people.slice(0, MOST_PEOPLE));
  return { ...affected, surnames: [...affected.surnames, ...names.map(({ surname }) => surname)] };
}

const joined = (a: Affected, b: Affected): Affected => ({
  people: [...new Set([...a.people, ...b.people])],
  objects: [...new Set([...a.objects, ...b.objects])],
  surnames: [...new Set([...a.surnames, ...b.surnames])],
  everything: a.everything || b.everything,
});

type State = {
  readonly tenures: ReadonlyMap<
    string,
    { readonly person: PersonName; readonly post: string; readonly state: TenureState }
  >;
  readonly conflicts: number;
  readonly marks: ReadonlyMap<number, MarkState>;
  readonly objects: ReadonlyMap<number, { readonly ref: string; readonly state: MakingState }>;
  readonly peopleBeyond: number;
  readonly marksBeyond: number;
};
type MarkState = {
  readonly row: MarkRow;
  readonly unrecorded: number;
  readonly shares: ReadonlyMap<string, { readonly person: PersonName; readonly share: number }>;
};

function stateOf(db: Db, affected: Affected): State {
  const assumptions = assumptionsOf(db);
  const read = evidenceReader(db, assumptions);
  const together = samePeople(db);
  const known = new Set(everybody(db));
  const all = affected.everything ? [...known] : affected.people.flatMap((person) => together(person));
  const people = [...new Set(all.map((person) => together(person)[0] ?? person))]
    .filter((person) => known.has(person))
    .sort((a, b) => a - b);
  const looked = people.slice(0, MOST_PEOPLE);
  const tenures = new Map<string, { person: PersonName; post: string; state: TenureState }>();
  let conflicts = 0;
  for (const person of looked) {
    const evidence = read.careerOf(together(person));
    const career = solveCareer(evidence, assumptions);
    const { settled } = settleCareer(evidence, assumptions);
    conflicts += settled.sets.length + settled.findings.omissions.length;
    for (const [key, tenure] of keyed(career.tenures))
      tenures.set(`p${person} ${key}`, {
        person: personName(db, person),
        post: postInWords(tenure),
        state: tenureState(tenure),
      });
  }
  conflicts += livesConflicts(db, read, looked, (person) => personName(db, person), assumptions).found.length;
  for (const object of affected.objects) conflicts += conflictsOfObject(db, read, object, assumptions).length;
  const marks = marksConcerned(db, affected, assumptions);
  return {
    tenures,
    conflicts,
    marks: new Map(marks.slice(0, MOST_MARKS).map((row) => [row.id, markState(db, row)])),
    objects: new Map(affected.objects.flatMap((object) => makingState(db, object))),
    peopleBeyond: people.length - looked.length,
    marksBeyond: Math.max(0, marks.length - MOST_MARKS),
  };
}

/** Posts by what they are; the second of the same post is told from the first. */
function keyed(tenures: readonly Tenure[]): [string, Tenure][] {
  const seen = new Map<string, number>();
  return tenures.map((tenure) => {
    const { rank, corps, kind } = tenure;
    const key = [rank.service, rank.id, corps?.key, kind].join(' ');
    const before = seen.get(key) ?? 0;
    seen.set(key, before + 1);
    return [`${key} ${before}`, tenure];
  });
}

const tenureState = ({ start, end, provisional }: Tenure): TenureState => ({
  start: { earliest: dayInAnswer(start.earliest), latest: dayInAnswer(start.latest) },
  end: { earliest: dayInAnswer(end.earliest), latest: dayInAnswer(end.latest) },
  provisional,
});

/** Marks of the objects concerned, and all by which one of the people, or a surname swept, can be meant. */
function marksConcerned(db: Db, affected: Affected, assumptions: Assumptions): MarkRow[] {
  if (affected.everything) return marksThere(db, undefined);
  const own = marksThere(db, affected.objects);
  if (affected.surnames.length === 0) return own;
  const ids = new Set(own.map(({ id }) => id));
  const surnames = new Set(affected.surnames);
  return [
    ...own,
    ...marksThere(db, undefined).filter((row) => !ids.has(row.id) && mayMean(db, row, surnames, assumptions)),
  ];
}

function mayMean(db: Db, row: MarkRow, surnames: ReadonlySet<string>, assumptions: Assumptions): boolean {
  if (row.roles.every(({ role }) => role === 'maker' || role === 'retailer')) return false;
  return readingsOfMark(db, row).some(({ parts: { surname, rank } }) => {
    if (surname === undefined) return rank !== undefined;
    const pattern = patternFrom(surname);
    const options = { elementBits: assumptions.values['agree.element'], limitBits: limitBits(pattern, assumptions) };
    return [...surnames].some((each) => Number.isFinite(surnameCost(pattern, each, options)));
  });
}

function markState(db: Db, row: MarkRow): MarkState {
  const { candidates, unrecorded } = candidatesForMark(db, `m${row.id}`, { tried: 0 });
  const shares = new Map<string, { person: PersonName; share: number }>();
  for (const { person, share } of candidates) {
    const known = shares.get(person.id);
    shares.set(person.id, { person, share: share + (known?.share ?? 0) });
  }
  return { row, unrecorded: unrecorded.share, shares };
}

function makingState(db: Db, object: number): [number, { ref: string; state: MakingState }][] {
  const row = objectById(db, object);
  if (row === undefined) return [];
  const { phrase, span, withMarks } = madeOf(db, `o${object}`);
  return [[object, { ref: row.ref, state: { phrase, span, withMarks: withMarks?.phrase ?? null } }]];
}

const isSame = (a: unknown, b: unknown): boolean => JSON.stringify(a) === JSON.stringify(b);

function differences(first: State, last: State): Effect {
  return {
    tenures: tenureChanges(first, last),
    marks: markChanges(first, last),
    objects: union(first.objects, last.objects).flatMap((object) => {
      const [before, after] = [first.objects.get(object), last.objects.get(object)];
      if (isSame(before?.state, after?.state)) return [];
      return [
        {
          id: `o${object}`,
          ref: (before ?? after)?.ref ?? '',
          before: before?.state ?? null,
          after: after?.state ?? null,
        },
      ];
    }),
    conflicts: { before: first.conflicts, after: last.conflicts },
    notWorkedOut: {
      people: Math.max(first.peopleBeyond, last.peopleBeyond),
      marks: Math.max(first.marksBeyond, last.marksBeyond),
    },
  };
}

const union = <K>(a: ReadonlyMap<K, unknown>, b: ReadonlyMap<K, unknown>): K[] => [
  ...new Set([...a.keys(), ...b.keys()]),
];

function tenureChanges(first: State, last: State): TenureChange[] {
  return union(first.tenures, last.tenures).flatMap((key) => {
    const [before, after] = [first.tenures.get(key), last.tenures.get(key)];
    const told = before ?? after;
    if (told === undefined || isSame(before?.state, after?.state)) return [];
    return [{ person: told.person, post: told.post, before: before?.state ?? null, after: after?.state ?? null }];
  });
}

const leaderOf = (state: MarkState | undefined): Leader =>
  [...(state?.shares.values() ?? [])].reduce<Leader>((a, b) => (a === null || b.share > a.share ? b : a), null);

function markChanges(first: State, last: State): MarkChange[] {
  return union(first.marks, last.marks).flatMap((id) => {
    const [before, after] = [first.marks.get(id), last.marks.get(id)];
    const row = (after ?? before)?.row;
    if (row === undefined) return [];
    const shares = union(before?.shares ?? new Map(), after?.shares ?? new Map())
      .map((person) => ({
        person: (after?.shares.get(person) ?? before?.shares.get(person))?.person as PersonName,
        before: before?.shares.get(person)?.share ?? null,
        after: after?.shares.get(person)?.share ?? null,
      }))
      .filter((each) => sizeOf(each) >= LEAST_SHARE)
      .sort((a, b) => sizeOf(b) - sizeOf(a));
    const unrecorded = { before: before?.unrecorded ?? null, after: after?.unrecorded ?? null };
    if (shares.length === 0 && Math.abs((unrecorded.before ?? 0) - (unrecorded.after ?? 0)) < LEAST_SHARE) return [];
    return [
      {
        id: `m${id}`,
        key: row.key,
        text: row.text,
        leader: { before: leaderOf(before), after: leaderOf(after) },
        unrecorded,
        shares,
      },
    ];
  });
}

const sizeOf = ({ before, after }: Change<number>): number => Math.abs((after ?? 0) - (before ?? 0));
