import { type AssumptionName, type Assumptions, DEFINITIONS, PER_RANK } from '../assumptions.ts';
import { markDays } from '../attribution/candidate.ts';
import { sharesOf } from '../attribution/candidates.ts';
import { solveCareer } from '../careers/solve.ts';
import type { Density } from '../dating/density.ts';
import { HeldbyError } from '../errors.ts';
import { assumptionsOf } from '../ledger/assumed.ts';
import { type EvidenceReader, evidenceReader } from '../ledger/evidence.ts';
import { kindNamed } from '../ledger/kinds.ts';
import { type MarkRow, markById } from '../ledger/marks.ts';
import type { Db } from '../ledger/open.ts';
import { type PersonName, personName } from '../ledger/people.ts';
import { resolveRef } from '../ledger/refs.ts';
import type { Span } from '../time/span.ts';
import { candidateInputs } from './candidate-inputs.ts';
import { daysOfQuestion, type WordsAsked } from './candidates.ts';
import { type MarkDays, objectDays } from './mark-dating.ts';
import {
  askedOf,
  type MarkQuestion,
  type MarkReadings,
  overridesOf,
  partsOfWords,
  questionOfReadings,
  readingsOfMark,
} from './mark-question.ts';
import { namingRoles } from './naming-roles.ts';

/** Who leads a ranking; null: somebody unrecorded. */
type Leader = PersonName | null;

export type VariedAnswer = {
  readonly name: string;
  readonly value: number;
  readonly unit: string;
  /** The leader stays the leader from this value on, and up to this one; null: as far as it was tried. */
  readonly from: number | null;
  readonly to: number | null;
  /** Who leads below, and above. */
  readonly below: Leader | undefined;
  readonly above: Leader | undefined;
};

export type VaryAnswer = {
  readonly leader: Leader;
  /** Assumptions that put somebody else first within what was tried, those that do so soonest first. */
  readonly varied: readonly VariedAnswer[];
  /** Assumptions that bear on the shares, and leave the leader first as far as they were tried. */
  readonly steady: readonly string[];
  /** Each was tried from its value divided by this to its value times this; a share at most up to 1. */
  readonly tried: number;
  /** How many of the first candidates were weighed. */
  readonly candidates: number;
};

/** How far from its value an assumption is tried, in steps each way. */
const STEPS = [4, 16] as const;
const TRIED = STEPS[STEPS.length - 1] as number;
/** A limit is told to this part of itself. */
const PRECISION = 1.02;
/** Candidates further down are not weighed again: they have little to lead with. */
const MOST_CANDIDATES = 20;
/** Shares that differ by less are the same: the assumption has nothing to do with the question. */
const UNMOVED = 1e-9;

/** These say what to make of shares, or bear on other questions. */
const BESIDE = /^(?:hang|chain|wording)\.|^agree\.limit/;
/** These change how dates are read, when marks were put on, and what follows from the records of a career. */
const OF_DATES = /^circa/;
const OF_DAYS = /^(?:circa|delay\.)/;
const OF_CAREERS = /^(?:circa|minimum\.age|reliability\.)/;

/**
 * How far each assumption can be changed, by itself, with the same name staying first; for a mark of the ledger.
 * @param only the one assumption that is wanted; of one that the ledger sets for the rank, the general name does.
 */
export function varyMark(db: Db, words: string, between: Span | undefined, only?: string): VaryAnswer {
  const mark = markById(db, resolveRef(db, kindNamed('mark'), words));
  if (!mark) throw new HeldbyError('REFERENCE', `There is no mark "${words}".`, 'See the marks: heldby list marks');
  return vary(db, { text: mark.text, role: mark.role, parts: overridesOf(mark) }, mark, between, only);
}

/** The same for words that were just read. */
export const varyText = (db: Db, asked: WordsAsked, between: Span | undefined, only?: string): VaryAnswer =>
  vary(db, asked, undefined, between, only);

/** What everybody weighs, in part: shares by person, the greatest first, and that of somebody unrecorded. */
type Standing = { readonly shares: readonly (readonly [string, number])[]; readonly unrecorded: number };

function vary(
  db: Db,
  asked: WordsAsked,
  mark: MarkRow | undefined,
  between: Span | undefined,
  only?: string,
): VaryAnswer {
  const base = assumptionsOf(db);
  const read = evidenceReader(db, base);
  const daysUnder = (reader: EvidenceReader, assumptions: Assumptions): MarkDays => {
    const object = mark === undefined ? undefined : objectDays(db, mark.object_id, reader, assumptions);
    return daysOfQuestion(asked, mark, object, { between, tried: 0 }, reader, assumptions);
  };
  const days = daysUnder(read, base);
  const stated = days.dated ? days.marking.window : undefined;
  const parts = partsOfWords(db, asked.text, asked.parts, stated);
  const readings: MarkReadings =
    mark === undefined ? [{ id: '', text: asked.text, by: null, parts }] : readingsOfMark(db, mark, stated);
  const question = questionOfReadings(db, base, read, readings);
  const given = mark === undefined ? asked.parts.surname : mark.surname;
  const whenHeld = (whenPut: MarkDays) => namingRoles(whenPut, given, readings).density;
  const all = standingUnder(question, [...question.known.values()], whenHeld(days));
  const first = all.shares.slice(0, MOST_CANDIDATES).map(([person]) => person);
  const people = first.flatMap((person) => question.known.get(person) ?? []);
  const standing = standingUnder(question, people, whenHeld(days));

  const under = (name: string, value: number): Standing => {
    const assumptions = changed(base, name, value);
    const reader = OF_DATES.test(name) ? evidenceReader(db, assumptions) : read;
    const again = people.map((known) => {
      if (!OF_CAREERS.test(name)) return known;
      const evidence = OF_DATES.test(name) ? reader.careerOf(known.people) : known.evidence;
      return { ...known, evidence, career: solveCareer(evidence, assumptions) };
    });
    const then = askedOf(db, assumptions, reader, readings);
    const whenMade = OF_DAYS.test(name) ? daysUnder(reader, assumptions) : days;
    return standingUnder({ ...then, known: question.known }, again, whenHeld(whenMade));
  };
  const names = namesFor(base, question).filter(
    ({ name }) => only === undefined || name === only || name.startsWith(`${only}.`),
  );
  return rangesOf(db, standing, people.length, names, under);
}

function standingUnder(
  { sought, unrecorded, assumptions }: MarkQuestion,
  people: readonly Parameters<typeof candidateInputs>[0][],
  when: Density,
): Standing {
  const candidates = people.flatMap((known) => candidateInputs(known, sought, assumptions));
  const { ranked, unrecorded: nobody } = sharesOf({ mark: markDays(when), candidates, unrecorded }, assumptions);
  const shares = new Map<string, number>();
  for (const { person, share } of ranked) if (!shares.has(person)) shares.set(person, share);
  return { shares: [...shares], unrecorded: nobody.share };
}

/** Every assumption that can bear on a mark; one that the ledger sets for the rank of the mark stands in its stead. */
function namesFor(base: Assumptions, { sought }: MarkQuestion): { readonly name: string; readonly value: number }[] {
  const rank = sought.ranks[0]?.id;
  return Object.keys(DEFINITIONS)
    .filter((name) => !BESIDE.test(name))
    .map((name) => {
      const own = `${name}.${rank}`;
      const value = base.perRank.get(own);
      const isPerRank = (PER_RANK as readonly string[]).includes(name) && value !== undefined;
      return isPerRank ? { name: own, value } : { name, value: base.values[name as AssumptionName] };
    });
}

const changed = (base: Assumptions, name: string, value: number): Assumptions =>
  Object.hasOwn(DEFINITIONS, name)
    ? { ...base, values: { ...base.values, [name]: value } }
    : { ...base, perRank: new Map([...base.perRank, [name, value]]) };

const definitionOf = (name: string) =>
  DEFINITIONS[(Object.hasOwn(DEFINITIONS, name) ? name : name.slice(0, name.lastIndexOf('.'))) as AssumptionName];

/** The leader's id, or null where somebody unrecorded has more than anybody named, and had not before. */
function leaderOf({ shares, unrecorded }: Standing, unrecordedMayLead: boolean): string | null {
  const [first] = shares;
  if (first === undefined || (unrecordedMayLead && unrecorded > first[1])) return null;
  return first[0];
}

function rangesOf(
  db: Db,
  standing: Standing,
  candidates: number,
  names: readonly { readonly name: string; readonly value: number }[],
  under: (name: string, value: number) => Standing,
): VaryAnswer {
  const leads = standing.shares[0];
  const mayLead = leads !== undefined && standing.unrecorded <= leads[1];
  const leader = leads?.[0] ?? null;
  const called = (person: string | null | undefined): Leader | undefined =>
    person === undefined ? undefined : person === null ? null : personName(db, Number(person.slice(1)));
  const varied: (VariedAnswer & { readonly nearness: number })[] = [];
  const steady: string[] = [];
  for (const { name, value } of leader === null ? [] : names) {
    const { unit } = definitionOf(name);
    const most = unit === 'share' ? 1 : Number.POSITIVE_INFINITY;
    const told = (at: number) => under(name, Math.min(at, most));
    const bears = [told(value / TRIED), told(value * TRIED)].some((other) => !isSame(other, standing));
    if (!bears) continue;
    const below = flip(value, -1, (at) => leaderOf(told(at), mayLead), leader);
    const above = flip(value, 1, (at) => leaderOf(told(at), mayLead), leader);
    if (below === undefined && above === undefined) {
      steady.push(name);
      continue;
    }
    varied.push({
      name,
      value,
      unit,
      from: below?.at ?? null,
      to: above === undefined ? null : Math.min(above.at, most),
      below: called(below?.leader),
      above: called(above?.leader),
      nearness: Math.min(...[below?.ratio, above?.ratio].filter((ratio) => ratio !== undefined)),
    });
  }
  varied.sort((a, b) => a.nearness - b.nearness);
  return {
    leader: called(leader) ?? null,
    varied: varied.map(({ nearness: _nearness, ...each }) => each),
    steady,
    tried: TRIED,
    candidates,
  };
}

const isSame = (a: Standing, b: Standing): boolean =>
  Math.abs(a.unrecorded - b.unrecorded) <= UNMOVED &&
  b.shares.every(([person, share]) => {
    const other = a.shares.find(([who]) => who === person)?.[1] ?? 0;
    return Math.abs(other - share) <= UNMOVED;
  });

/**
 * How far a value can be changed in one direction before somebody else leads: the last value that leaves the leader
 * first, who leads beyond it, and how many times the value it is (or the value is it). Steps first, then halving.
 */
function flip(
  value: number,
  direction: 1 | -1,
  leaderAt: (value: number) => string | null,
  leader: string | null,
): { readonly at: number; readonly leader: string | null; readonly ratio: number } | undefined {
  let stays = 1;
  for (const step of STEPS) {
    let other = leaderAt(value * step ** direction);
    if (other === leader) {
      stays = step;
      continue;
    }
    let moves: number = step;
    while (moves / stays > PRECISION) {
      const middle = Math.sqrt(moves * stays);
      const then = leaderAt(value * middle ** direction);
      if (then === leader) stays = middle;
      else {
        moves = middle;
        other = then;
      }
    }
    return { at: value * stays ** direction, leader: other, ratio: stays };
  }
  return undefined;
}
