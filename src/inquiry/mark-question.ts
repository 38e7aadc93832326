import type { Assumptions } from '../assumptions.ts';
import { bitsOfUnknown, likelihood } from '../attribution/agreement.ts';
import { expectedUnswept, type Sweep, type UnrecordedInput } from '../attribution/unrecorded.ts';
import type { Career } from '../careers/career.ts';
import type { CareerEvidence } from '../careers/evidence.ts';
import { solveCareer } from '../careers/solve.ts';
import type { EvidenceReader } from '../ledger/evidence.ts';
import { knownCorps, knownLadders } from '../ledger/ladders.ts';
import { type MarkRow, readingsOf, sweeps } from '../ledger/marks.ts';
import type { Db } from '../ledger/open.ts';
import {
  type BorneName,
  everybody,
  knownPlaces,
  nameReader,
  peopleOfSurnames,
  placesOf,
  samePeople,
} from '../ledger/people.ts';
import { surnamesWithin } from '../ledger/surname-search.ts';
import { forenameBits, readForenames } from '../names/forenames.ts';
import { type MarkParts, type PartOverrides, readMark } from '../names/mark-parts.ts';
import { foldName, isDamaged, limitBits, patternFrom, visibleLetters } from '../names/pattern.ts';
import { surnameCost } from '../names/surname-cost.ts';
import { fold } from '../services/fold.ts';
import { foldedWords } from '../services/folded-words.ts';
import { placeKey } from '../services/place.ts';
import type { Span } from '../time/span.ts';
import { agreeingForms, type Known, type Sought } from './candidate-inputs.ts';

export const overridesOf = (mark: MarkRow): PartOverrides =>
  Object.fromEntries(
    (['surname', 'forenames', 'rank', 'corps', 'place'] as const).flatMap((part) =>
      mark[part] === null ? [] : [[part, mark[part]]],
    ),
  );

/**
 * How the words of a mark are read in this ledger: with its services, corps and places.
 * @param when its days, where they are stated: they decide between the meanings of an abbreviation.
 */
export function partsOfWords(db: Db, text: string, overrides: PartOverrides, when?: Span): MarkParts {
  const parts = readMark(
    text,
    {
      ladders: knownLadders(db),
      knownCorps: knownCorps(db),
      knownPlaces: knownPlaces(db),
      ...(when === undefined ? {} : { when }),
    },
    overrides,
  );
  // A word that the researcher gave as part of the name is no corps and no place besides.
  const named = wordsIn(`${overrides.surname ?? ''} ${overrides.forenames ?? ''}`);
  const kept = (part: 'corps' | 'place'): string | undefined => {
    const found = parts[part];
    if (found === undefined || overrides[part] !== undefined) return found;
    return wordsIn(found).every((word) => named.includes(word)) ? undefined : found;
  };
  return { ...parts, corps: kept('corps'), place: kept('place') };
}

const wordsIn = (text: string): readonly string[] => foldedWords(fold(text));

/** One reading of a mark: its own text, `m3`, or another transcription, `r5`. */
export type MarkReading = {
  readonly id: string;
  readonly text: string;
  readonly by: string | null;
  readonly parts: MarkParts;
};

/** Readings of a mark, its own text first. */
export type MarkReadings = readonly [MarkReading, ...MarkReading[]];

/**
 * Every reading of a mark that stands, its own text first. What the researcher gave as its rank, corps or place counts for
 * each; a surname or forenames given are those of the mark's own text, which another reading may take otherwise.
 */
export function readingsOfMark(db: Db, mark: MarkRow, when?: Span): MarkReadings {
  const given = overridesOf(mark);
  const { surname: _surname, forenames: _forenames, ...shared } = given;
  return [
    { id: `m${mark.id}`, text: mark.text, by: null, parts: partsOfWords(db, mark.text, given, when) },
    ...readingsOf(db, mark.id).map(({ id, text, by_whom }) => ({
      id: `r${id}`,
      text,
      by: by_whom,
      parts: partsOfWords(db, text, shared, when),
    })),
  ];
}

/** Everything that an answer about one mark is worked out from; kept together, so that it can be varied. */
export type MarkQuestion = {
  readonly db: Db;
  readonly assumptions: Assumptions;
  readonly read: EvidenceReader;
  /** Of the first reading. */
  readonly parts: MarkParts;
  readonly readings: MarkReadings;
  readonly sought: Sought;
  readonly unrecorded: UnrecordedInput;
  readonly sweepIds: readonly string[];
  readonly known: ReadonlyMap<
    string,
    Known & { readonly evidence: CareerEvidence; readonly people: readonly number[] }
  >;
};

/** What words that were just read ask of this ledger. */
export const questionOf = (db: Db, assumptions: Assumptions, read: EvidenceReader, parts: MarkParts): MarkQuestion =>
  questionOfReadings(db, assumptions, read, [{ id: '', text: parts.reading.text, by: null, parts }]);

/**
 * The same of several readings of one mark. Each is as likely as the next to be the right one: what a candidate weighs, and
 * what somebody unrecorded weighs, is the mean of the weights under each (the law of total probability).
 */
export function questionOfReadings(
  db: Db,
  assumptions: Assumptions,
  read: EvidenceReader,
  readings: MarkReadings,
  solved: SolvedCareers = new Map(),
): MarkQuestion {
  const asked = askedOf(db, assumptions, read, readings);
  const { sought, unrecorded } = asked;
  return {
    ...asked,
    known: knownPeople(db, read, assumptions, sought, leastUnrecorded(unrecorded, assumptions), solved),
  };
}

/** What the readings of a mark ask, without the people. */
export function askedOf(
  db: Db,
  assumptions: Assumptions,
  read: EvidenceReader,
  readings: MarkReadings,
): Omit<MarkQuestion, 'known'> {
  const [first, ...others] = readings;
  const asked = soughtIn(db, assumptions, read, first.parts);
  const all = [asked, ...others.map(({ parts }) => soughtIn(db, assumptions, read, parts))];
  const sought = others.length === 0 ? asked.sought : anyOf(readings, all);
  const services = new Set(sought.ranks.map(({ service }) => service));
  const isNamed = all.some((one) => one.unrecorded.surname !== undefined);
  const fitting = (isNamed ? sweeps(db, read.edition) : []).filter(
    (sweep) =>
      (services.size === 0 || services.has(sweep.service)) && all.some(({ fits }) => fits(foldName(sweep.surname))),
  );
  const unrecorded: UnrecordedInput = {
    ...asked.unrecorded,
    sweeps: fitting.map(
      ({ surname: swept, asAt }): Sweep => ({ surname: foldName(swept), midDay: (asAt.from + asAt.until - 1) / 2 }),
    ),
    ...(others.length === 0
      ? {}
      : {
          surname: commonSurname(all),
          readings: all.map(({ unrecorded: one, fits }) => ({ ...one, fits, share: 1 / all.length })),
        }),
  };
  return {
    db,
    assumptions,
    read,
    parts: first.parts,
    readings,
    sought,
    unrecorded,
    sweepIds: fitting.map(({ id }) => id),
  };
}

type Asked = {
  readonly sought: Sought;
  readonly unrecorded: Pick<UnrecordedInput, 'rank' | 'surname' | 'unknownBits'>;
  /** Whether the reading fits a folded surname at no cost. */
  readonly fits: (surname: string) => boolean;
};

/** What one reading asks. */
function soughtIn(db: Db, assumptions: Assumptions, read: EvidenceReader, parts: MarkParts): Asked {
  const { values } = assumptions;
  const surname = parts.surname === undefined ? undefined : patternFrom(parts.surname);
  const elementBits = values['agree.element'];
  const found =
    surname === undefined ? undefined : surnamesWithin(db, surname, limitBits(surname, assumptions), elementBits);
  const sought: Sought = {
    ranks: parts.rank?.ranks ?? [],
    forenames: readForenames(parts.forenames ?? ''),
    surnameBits: found && new Map(found.map(({ id, bits }) => [id, bits])),
    corps: parts.corps === undefined ? undefined : read.corpsNamed(parts.corps),
    place: parts.place === undefined ? undefined : placeKey(parts.place),
  };
  return {
    sought,
    unrecorded: {
      rank: sought.ranks[0]?.id,
      surname:
        surname === undefined ? undefined : { damaged: isDamaged(surname), seenLetters: visibleLetters(surname) },
      unknownBits: bitsOfUnknown(
        { forenames: forenameBits(sought.forenames, [], assumptions), corps: sought.corps, place: sought.place },
        assumptions,
      ),
    },
    fits: (name) => surname !== undefined && surnameCost(surname, name, { elementBits, limitBits: 0 }) === 0,
  };
}

/** What any of the readings asks: every rank, every surname with the least of its bits; corps and place are each its own. */
function anyOf(readings: MarkReadings, all: readonly Asked[]): Sought {
  const each = all.map(({ sought }) => sought);
  const [first] = each;
  const ranks = new Map(each.flatMap((one) => one.ranks.map((rank) => [`${rank.service} ${rank.id}`, rank])));
  const surnameBits = new Map<number, number>();
  for (const { surnameBits: found } of each)
    for (const [id, bits] of found ?? []) surnameBits.set(id, Math.min(bits, surnameBits.get(id) ?? bits));
  return {
    ranks: [...ranks.values()],
    forenames: first?.forenames ?? [],
    surnameBits: each.some((one) => one.surnameBits === undefined) ? undefined : surnameBits,
    corps: each.find(({ corps }) => corps !== undefined)?.corps,
    place: each.find(({ place }) => place !== undefined)?.place,
    readings: each.map((sought, at) => ({ reading: readings[at]?.id ?? '', share: 1 / each.length, sought })),
  };
}

/** The surname as the readings together give it: in doubt, as if damaged, unless all of them say the same letters. */
function commonSurname(all: readonly Asked[]): UnrecordedInput['surname'] {
  const surnames = all.flatMap(({ unrecorded: { surname } }) => (surname === undefined ? [] : [surname]));
  const [first] = surnames;
  if (first === undefined || surnames.length < all.length) return undefined;
  const isOne = all.every(({ sought }) => sameKeys(sought.surnameBits, all[0]?.sought.surnameBits));
  return {
    damaged: !isOne || surnames.some(({ damaged }) => damaged),
    seenLetters: Math.min(...surnames.map(({ seenLetters }) => seenLetters)),
  };
}

const sameKeys = (a: ReadonlyMap<number, number> | undefined, b: ReadonlyMap<number, number> | undefined): boolean =>
  a?.size === b?.size && [...(a ?? [])].every(([id, bits]) => b?.get(id) === bits);

/** Somebody unrecorded weighs at least this, however well the lists were swept. */
const leastUnrecorded = (unrecorded: UnrecordedInput, assumptions: Assumptions): number =>
  expectedUnswept(unrecorded, assumptions) * (unrecorded.sweeps.length > 0 ? assumptions.values['sweep.missed'] : 1);

/** By the first record of each person. Marks of one object share candidates. */
export type SolvedCareers = Map<number, SolvedCareer>;
type SolvedCareer = { readonly evidence: CareerEvidence; readonly career: Career };

/**
 * People whose names agree so badly that all of them together cannot change any share by more than this are left out
 * before their careers are solved: at most their 2^(−bits) can be added to the weight of somebody unrecorded.
 */
const SHARE_LEFT_OUT = 5e-4;
/** So many of the best agreeing are weighed in any case. */
const ALWAYS_WEIGHED = 16;

/**
 * Everybody whose name can be meant, each once, with a solved career.
 * @param leastWeight what the weights of all others add up to at the least; without it nobody is left out.
 * @param solved careers that other marks asked for already; those of this one are added.
 */
export function knownPeople(
  db: Db,
  read: EvidenceReader,
  assumptions: Assumptions,
  sought: Sought,
  leastWeight = 0,
  solved: SolvedCareers = new Map(),
): MarkQuestion['known'] {
  const together = samePeople(db);
  const reader = nameReader(db, read.date);
  const ids = sought.surnameBits === undefined ? everybody(db) : peopleOfSurnames(db, [...sought.surnameBits.keys()]);
  const groups = new Map<number, readonly number[]>();
  for (const id of ids) {
    const people = together(id);
    groups.set(people[0] ?? id, people);
  }
  const names = new Map([...groups].map(([first, people]) => [first, reader.namesOf(people)]));
  for (const first of trifling(names, sought, assumptions, leastWeight * SHARE_LEFT_OUT)) groups.delete(first);
  const known = new Map<string, Known & { evidence: CareerEvidence; people: readonly number[] }>();
  const unsolved = new Map([...groups].filter(([first]) => !solved.has(first)));
  for (const [first, evidence] of read.careersOf(unsolved))
    solved.set(first, { evidence, career: solveCareer(evidence, assumptions) });
  for (const [first, people] of groups) {
    const { evidence, career } = solved.get(first) as SolvedCareer;
    const person = `p${first}`;
    known.set(person, {
      person,
      people,
      evidence,
      names: names.get(first) ?? [],
      places: sought.place === undefined ? [] : placesOf(db, people),
      career,
      mainSteps: evidence.mainSteps,
    });
  }
  return known;
}

/** The people of the worst agreeing names, as many as together weigh no more than `most`. */
function trifling(
  names: ReadonlyMap<number, readonly BorneName[]>,
  sought: Sought,
  assumptions: Assumptions,
  most: number,
): number[] {
  if (most <= 0 || names.size <= ALWAYS_WEIGHED) return [];
  const weighed = [...names].map(([first, borne]) => {
    const bits = agreeingForms(borne, sought, assumptions).map(
      ({ surnameBits, forenameBits }) => surnameBits + forenameBits,
    );
    return { first, weight: likelihood(Math.min(...bits)) };
  });
  weighed.sort((a, b) => a.weight - b.weight || a.first - b.first);
  const left: number[] = [];
  let sum = 0;
  for (const { first, weight } of weighed.slice(0, -ALWAYS_WEIGHED)) {
    sum += weight;
    if (sum > most) break;
    left.push(first);
  }
  return left;
}
