import type { Assumptions } from '../assumptions.ts';
import { bitsOfUnknown, likelihood } from '../attribution/agreement.ts';
import { expectedUnswept, type Sweep, type UnrecordedInput } from '../attribution/unrecorded.ts';
import type { CareerEvidence } from '../careers/evidence.ts';
import { solveCareer } from '../careers/solve.ts';
import type { EvidenceReader } from '../ledger/evidence.ts';
import { knownCorps, knownLadders } from '../ledger/ladders.ts';
import { type MarkRow, sweeps } from '../ledger/marks.ts';
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
import { corpsKey } from '../services/corps-key.ts';
import { fold } from '../services/fold.ts';
import { placeKey } from '../services/place.ts';
import { agreeingForms, type Known, type Sought } from './candidate-inputs.ts';

export const overridesOf = (mark: MarkRow): PartOverrides =>
  Object.fromEntries(
    (['surname', 'forenames', 'rank', 'corps', 'place'] as const).flatMap((part) =>
      mark[part] === null ? [] : [[part, mark[part]]],
    ),
  );

/** How the words of a mark are read in this ledger: with its services, corps and places. */
export function partsOfWords(db: Db, text: string, overrides: PartOverrides): MarkParts {
  const parts = readMark(
    text,
    { ladders: knownLadders(db), knownCorps: knownCorps(db), knownPlaces: knownPlaces(db) },
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

const wordsIn = (text: string): string[] =>
  fold(text)
    .split(/[^\p{L}\p{N}]+/u)
    .filter((word) => word !== '');

/** Everything that an answer about one mark is worked out from; kept together, so that it can be varied. */
export type MarkQuestion = {
  readonly db: Db;
  readonly assumptions: Assumptions;
  readonly read: EvidenceReader;
  readonly parts: MarkParts;
  readonly sought: Sought;
  readonly unrecorded: UnrecordedInput;
  readonly sweepIds: readonly string[];
  readonly known: ReadonlyMap<
    string,
    Known & { readonly evidence: CareerEvidence; readonly people: readonly number[] }
  >;
};

/** What the words of a mark ask of this ledger, and everybody whose name can be meant. */
export function questionOf(db: Db, assumptions: Assumptions, read: EvidenceReader, parts: MarkParts): MarkQuestion {
  const { values } = assumptions;
  const surname = parts.surname === undefined ? undefined : patternFrom(parts.surname);
  const found =
    surname === undefined
      ? undefined
      : surnamesWithin(db, surname, limitBits(surname, assumptions), values['agree.element']);
  const sought: Sought = {
    ranks: parts.rank?.ranks ?? [],
    forenames: readForenames(parts.forenames ?? ''),
    surnameBits: found && new Map(found.map(({ id, bits }) => [id, bits])),
    corps: parts.corps === undefined ? undefined : corpsKey(parts.corps),
    place: parts.place === undefined ? undefined : placeKey(parts.place),
  };
  const services = new Set(sought.ranks.map(({ service }) => service));
  const fitting =
    surname === undefined
      ? []
      : sweeps(db, read.edition).filter(
          (sweep) =>
            (services.size === 0 || services.has(sweep.service)) &&
            surnameCost(surname, sweep.surname, { elementBits: values['agree.element'], limitBits: 0 }) === 0,
        );
  const unrecorded: UnrecordedInput = {
    rank: sought.ranks[0]?.id,
    surname: surname === undefined ? undefined : { damaged: isDamaged(surname), seenLetters: visibleLetters(surname) },
    unknownBits: bitsOfUnknown(
      { forenames: forenameBits(sought.forenames, [], assumptions), corps: sought.corps, place: sought.place },
      assumptions,
    ),
    sweeps: fitting.map(
      ({ surname: swept, asAt }): Sweep => ({ surname: foldName(swept), midDay: (asAt.from + asAt.until - 1) / 2 }),
    ),
  };
  return {
    db,
    assumptions,
    read,
    parts,
    sought,
    unrecorded,
    sweepIds: fitting.map(({ id }) => id),
    known: knownPeople(db, read, assumptions, sought, leastUnrecorded(unrecorded, assumptions)),
  };
}

/** Somebody unrecorded weighs at least this, however well the lists were swept. */
const leastUnrecorded = (unrecorded: UnrecordedInput, assumptions: Assumptions): number =>
  expectedUnswept(unrecorded, assumptions) * (unrecorded.sweeps.length > 0 ? assumptions.values['sweep.missed'] : 1);

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
 */
export function knownPeople(
  db: Db,
  read: EvidenceReader,
  assumptions: Assumptions,
  sought: Sought,
  leastWeight = 0,
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
  for (const [first, evidence] of read.careersOf(groups)) {
    const people = groups.get(first) ?? [first];
    const person = `p${first}`;
    known.set(person, {
      person,
      people,
      evidence,
      names: names.get(first) ?? [],
      places: sought.place === undefined ? [] : placesOf(db, people),
      career: solveCareer(evidence, assumptions),
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
