import { fewDays } from '../attribution/lookup-estimate.ts';
import { rankLookups } from '../attribution/lookups.ts';
import { outcomeOf } from '../attribution/sweep-answers.ts';
import { HeldbyError } from '../errors.ts';
import { assumptionsOf } from '../ledger/assumed.ts';
import { evidenceReader } from '../ledger/evidence.ts';
import { kindNamed, parseId } from '../ledger/kinds.ts';
import { editionIds, sweptIn } from '../ledger/known-editions.ts';
import { type MarkRow, markById, marksOf } from '../ledger/marks.ts';
import type { Db } from '../ledger/open.ts';
import { personName } from '../ledger/people.ts';
import { resolveAny } from '../ledger/refs.ts';
import { foldName } from '../names/pattern.ts';
import { type Edition, estimatedGain, isDone, soughtPerson, weightOnFewDays } from './lookup-people.ts';
import { planOf } from './lookup-plan.ts';
import { type Situation, situationOf } from './lookup-situation.ts';
import { answersTo, costOf, type Subject, type VolumeCost } from './lookup-subject.ts';
import { bearsOn, estimatedSweepGain, surnamesToSweep, sweepSums } from './lookup-sweeps.ts';
import { markDaysOf, objectDays } from './mark-dating.ts';
import { questionOfReadings, readingsOfMark, type SolvedCareers } from './mark-question.ts';
import { namesHolder, namingRoles } from './naming-roles.ts';

/** Somebody named in an answer; without an id where a sweep would have to find them first. */
type Named = {
  readonly id: string | null;
  readonly key: string | null;
  readonly name: string;
};

export type LookupAnswer = {
  readonly edition: {
    readonly id: string;
    readonly label: string;
    readonly series: string;
  };
  /** Who is to be looked up, or the surname whose bearers are all to be taken down. */
  readonly person?: Named;
  readonly surname?: string;
  readonly gain: number;
  readonly cost: number;
  /** What it would do for the mark for which it is worth most. */
  readonly answers: readonly {
    readonly answer: string;
    readonly chance: number;
    readonly leader: Named | null;
    readonly leaderShare: number;
  }[];
  /** The marks for which it is worth something, with the gain for each. */
  readonly marks: readonly { readonly id: string; readonly gain: number }[];
};

export type LookupsAnswer = {
  readonly marks: readonly {
    readonly id: string;
    readonly key: string | null;
    readonly text: string;
    readonly leader: Named | null;
    readonly leaderShare: number;
  }[];
  readonly lookups: readonly LookupAnswer[];
  /** What to look up in one visit, decided beforehand; null where no plan was asked for. */
  readonly plan:
    | readonly {
        readonly edition: LookupAnswer['edition'];
        readonly person?: Named;
        readonly surname?: string;
        /** Expected share of the best named holder after this one and those before, less that now, over all marks. */
        readonly gain: number;
        readonly cost: number;
      }[]
    | null;
  readonly cautions: readonly string[];
};

export type LookupsWanted = {
  readonly limit: number;
  readonly cost: VolumeCost;
  /** How many look-ups a visit has room for; undefined where no plan is wanted. */
  readonly plan: number | undefined;
};

/** What is worked out unless more is asked for: from the best of these a plan is chosen. */
export const USUAL_LIMIT = 50;
/** Look-ups that a plan has room for; the answers to more are too many to reckon with. */
export const MOST_PLANNED = 5;

/** Leading candidates of a mark who are looked up. */
const MOST_PEOPLE = 50;
/** So many times as many look-ups as are wanted are worked out at the most. */
const MOST_LOOKED = 3;
/** An estimate this far below what the last one wanted is worth will not be worth more. */
const NEAR = 0.9;
/** A hundredth of a point: less is worth nobody's time. */
const LEAST_GAIN = 1e-4;
/** Look-ups from which a plan is chosen. */
const PLANNED_FROM = 16;
/** Others in a volume that is called up already. */
const PLANNED_IN_VOLUME = 4;

/** What to look up next, for a mark or for all marks of an object that name a holder. */
export function lookupsFor(db: Db, words: string, wanted: LookupsWanted): LookupsAnswer {
  const assumptions = assumptionsOf(db);
  const read = evidenceReader(db, assumptions);
  const rows = marksAsked(db, words);
  const solved: SolvedCareers = new Map();
  const situations = rows.map((row) => {
    const days = markDaysOf(row, objectDays(db, row.object_id, read, assumptions), read, assumptions);
    const readings = readingsOfMark(db, row, days.dated ? days.marking.window : undefined);
    const question = questionOfReadings(db, assumptions, read, readings, solved);
    return situationOf(`m${row.id}`, question, namingRoles(days, row.surname, readings));
  });
  const editions = editionIds(db).map(read.edition);
  const swept = sweptIn(db);
  const sweptThere = (edition: Edition): ReadonlySet<string> => new Set((swept.get(edition.row) ?? []).map(foldName));
  const found = estimates(situations, editions, sweptThere);
  const valued = bestOf(found, situations, wanted);
  const named = namesIn(db);
  const lookups = valued.slice(0, wanted.limit).map(({ subject, gain, cost, marks, answers }) => ({
    ...subjectInAnswer(subject, named),
    gain,
    cost,
    answers: answers.map(({ answer, chance, leader, leaderShare }) => ({
      answer,
      chance,
      leader: leader === undefined ? null : named(leader),
      leaderShare,
    })),
    marks,
  }));
  const inVolume = (edition: string): Subject[] =>
    found
      .filter(({ subject }) => subject.edition.id === edition)
      .sort((a, b) => b.estimate - a.estimate)
      .slice(0, PLANNED_IN_VOLUME)
      .map(({ subject }) => subject);
  const subjects = valued.slice(0, PLANNED_FROM).map(({ subject }) => subject);
  const plan = wanted.plan === undefined ? null : planOf(situations, subjects, inVolume, wanted.plan, wanted.cost);
  return {
    marks: rows.map((row, place) => {
      const { leader, leaderShare } = outcomeOf(situations[place] as Situation);
      return {
        id: `m${row.id}`,
        key: row.key,
        text: row.text,
        leader: leader === undefined ? null : named(leader),
        leaderShare,
      };
    }),
    lookups,
    plan:
      plan?.map(({ subject, gain, cost }) => ({
        ...subjectInAnswer(subject, named),
        gain,
        cost,
      })) ?? null,
    cautions: CAUTIONS,
  };
}

const CAUTIONS = [
  'What a list will show is not known beforehand: the chances are reckoned from what is recorded, and only lists that the ledger knows are proposed.',
];

/** A mark, or the marks of an object that name a holder. */
function marksAsked(db: Db, words: string): MarkRow[] {
  const id = parseId(resolveAny(db, words, [kindNamed('object'), kindNamed('mark')]));
  if (id?.kind.kind === 'mark') {
    const mark = markById(db, id.row);
    return mark === undefined ? [] : [mark];
  }
  const rows = marksOf(db, id?.row ?? 0).filter((row) =>
    readingsOfMark(db, row).some(({ parts }) => namesHolder(row, parts)),
  );
  if (rows.length === 0)
    throw new HeldbyError(
      'REFERENCE',
      `No mark of "${words}" names anybody who can have held it.`,
      'Record one: heldby mark add OBJECT TEXT --role owner',
    );
  return rows;
}

type Estimated = { readonly subject: Subject; readonly estimate: number };

/** Every look-up that has not been made, with about what it is worth for all marks together. */
function estimates(
  situations: readonly Situation[],
  editions: readonly Edition[],
  sweptThere: (edition: Edition) => ReadonlySet<string>,
): Estimated[] {
  const found = new Map<string, { subject: Subject; estimate: number }>();
  // Estimated at nothing, for no answer would change who leads, it may yet be worth a point: it is worked out if there is room.
  const add = (key: string, subject: Subject, estimated: number): void => {
    const estimate = Math.max(0, estimated);
    const known = found.get(key);
    if (known === undefined) found.set(key, { subject, estimate });
    else known.estimate += estimate;
  };
  const swept = new Map(editions.map((edition) => [edition.id, sweptThere(edition)]));
  const done = (edition: Edition): ReadonlySet<string> => swept.get(edition.id) ?? new Set();
  // Names come from all marks: what is read in full on one may be what is left of another.
  const surnames = new Map(situations.flatMap(surnamesToSweep).map((surname) => [foldName(surname), surname]));
  for (const situation of situations) {
    const few = fewDays(situation.when);
    const leading = [...new Set(situation.ranked.map(({ person }) => person))].slice(0, MOST_PEOPLE);
    for (const person of leading) {
      const sought = soughtPerson(situation, person);
      if (sought === undefined) continue;
      const now = weightOnFewDays(sought, few);
      for (const edition of editions) {
        if (isDone(sought, edition, done(edition))) continue;
        add(
          `${edition.id} ${person}`,
          { edition, person },
          situation.namesHolder * estimatedGain(sought, edition, situation, { few, now }),
        );
      }
    }
    const sums = sweepSums(situation);
    for (const [folded, surname] of surnames) {
      for (const edition of editions) {
        if (done(edition).has(folded) || !bearsOn(situation, surname, edition)) continue;
        add(
          `${edition.id} ~${folded}`,
          { edition, surname },
          situation.namesHolder * estimatedSweepGain(situation, surname, edition, sums),
        );
      }
    }
  }
  return [...found.values()];
}

type WorkedOut = Pick<LookupAnswer, 'gain' | 'cost' | 'marks'> & {
  readonly subject: Subject;
  readonly answers: ReturnType<typeof rankLookups<Subject>>[number]['answers'];
};

const worthOf = ({ gain, cost }: { readonly gain: number; readonly cost: number }): number => gain / cost;

/**
 * The look-ups worth most for what they cost, worked out in the order of their estimates: until there are as many as are
 * wanted and none of those left is estimated near the last of them, or far more have been looked at.
 */
function bestOf(found: readonly Estimated[], situations: readonly Situation[], wanted: LookupsWanted): WorkedOut[] {
  const room = wanted.plan === undefined ? wanted.limit : Math.max(wanted.limit, PLANNED_FROM);
  const ordered = found
    .map((each) => ({ ...each, value: each.estimate / costOf(each.subject, wanted.cost) }))
    .sort((a, b) => b.value - a.value);
  const best: WorkedOut[] = [];
  for (const [looked, { subject, value }] of ordered.entries()) {
    const last = best[room - 1];
    if (looked >= room * MOST_LOOKED || (last !== undefined && value < worthOf(last) * NEAR)) break;
    best.push(...workedOut(subject, situations, wanted.cost));
    best.sort((a, b) => worthOf(b) - worthOf(a));
  }
  return best.slice(0, room);
}

/** A look-up with every answer put in as evidence, for each mark on which it bears. */
function workedOut(subject: Subject, situations: readonly Situation[], cost: VolumeCost): WorkedOut[] {
  const told = situations.flatMap((situation) => {
    const answers = () =>
      answersTo(subject, situation).map(({ answer, prior, after }) => ({
        answer,
        prior,
        after: outcomeOf(after()),
      }));
    const [lookup] = rankLookups(outcomeOf(situation), [{ subject, answers }]);
    return lookup === undefined || lookup.gain <= LEAST_GAIN ? [] : [{ mark: situation.mark, ...lookup }];
  });
  const best = told.reduce<(typeof told)[number] | undefined>(
    (most, each) => (most === undefined || each.gain > most.gain ? each : most),
    undefined,
  );
  if (best === undefined) return [];
  const gain = told.reduce((sum, each) => sum + each.gain, 0);
  const marks = told.map((each) => ({ id: each.mark, gain: each.gain }));
  return [
    {
      subject,
      gain,
      cost: costOf(subject, cost),
      marks,
      answers: best.answers,
    },
  ];
}

function namesIn(db: Db): (person: string) => Named {
  return (person) =>
    parseId(person)?.kind.kind === 'person'
      ? personName(db, Number(person.slice(1)))
      : { id: null, key: null, name: person };
}

const subjectInAnswer = ({ edition, person, surname }: Subject, named: (person: string) => Named) => ({
  edition: { id: edition.id, label: edition.label, series: edition.series },
  ...(person === undefined ? {} : { person: named(person) }),
  ...(surname === undefined ? {} : { surname }),
});
