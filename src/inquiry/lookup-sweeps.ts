import { type Assumptions, DAYS_PER_YEAR, forRank } from '../assumptions.ts';
import { type MarkDays, weigh } from '../attribution/candidate.ts';
import { nearness } from '../attribution/lookup-estimate.ts';
import { sweepAnswers } from '../attribution/sweep-answers.ts';
import { expectedOfSurname, nameFrequency, type UnrecordedInput, unrecordedOn } from '../attribution/unrecorded.ts';
import type { CareerEvidence, ListedEntry } from '../careers/evidence.ts';
import { solveCareer } from '../careers/solve.ts';
import type { Density } from '../dating/density.ts';
import type { BorneName } from '../ledger/people.ts';
import type { MarkParts } from '../names/mark-parts.ts';
import { foldName, isDamaged, patternFrom } from '../names/pattern.ts';
import { surnameCost } from '../names/surname-cost.ts';
import { openRank } from '../services/ladder.ts';
import { ALL_TIME } from '../time/span.ts';
import { candidateInputs } from './candidate-inputs.ts';
import type { Edition, PersonAnswer } from './lookup-people.ts';
import { HYPOTHETICAL, midDay } from './lookup-people.ts';
import { knownIn, type Situation, unrecordedIn, withSweep } from './lookup-situation.ts';
import type { MarkQuestion } from './mark-question.ts';

/** Surnames whose bearers could be taken down from a list. */
const MOST_SURNAMES = 10;

/**
 * Surnames of which a sweep bears on a mark: the one that is read, if it is undamaged, and those that the reading fits
 * exactly, of the leading candidates first, then of others who are recorded but held no such rank. As they are written,
 * each once.
 */
export function surnamesToSweep(situation: Situation): string[] {
  const { question, ranked } = situation;
  const { readings, sought } = question;
  if (sought.surnameBits === undefined) return [];
  const found = new Map<string, string>();
  const add = (surname: string): void => {
    if (!found.has(foldName(surname))) found.set(foldName(surname), surname);
  };
  const others = [...question.known.keys()].sort((a, b) => a.length - b.length || (a < b ? -1 : 1));
  for (const person of [...ranked.slice(0, MOST_SURNAMES).map((each) => each.person), ...others]) {
    for (const { surname, surnameId } of knownIn(situation, person)?.names ?? []) {
      if (sought.surnameBits.get(surnameId) === 0) add(surname);
    }
  }
  for (const { parts } of readings) {
    if (parts.surname !== undefined && !isDamaged(patternFrom(parts.surname))) add(parts.surname);
  }
  return [...found.values()].slice(0, MOST_SURNAMES);
}

/** Whether a list says anything of a mark: a rank on the mark must be one of its service. */
export const listBears = ({ question: { sought } }: Situation, edition: Edition): boolean =>
  sought.ranks.length === 0 || sought.ranks.some(({ service }) => service === edition.service);

/** Whether a sweep of a surname in an edition says anything of a mark: its reading fits the name besides. */
export function bearsOn(situation: Situation, surname: string, edition: Edition): boolean {
  return listBears(situation, edition) && isRead(situation.question, surname);
}

const fitted = new WeakMap<MarkQuestion, Map<string, boolean>>();

/** Whether any reading of a mark fits the name; asked for every edition. */
function isRead(question: MarkQuestion, surname: string): boolean {
  const ofMark = fitted.get(question) ?? new Map<string, boolean>();
  fitted.set(question, ofMark);
  const found =
    ofMark.get(surname) ?? question.readings.some(({ parts }) => isFitted(parts, surname, question.assumptions));
  ofMark.set(surname, found);
  return found;
}

const isFitted = ({ surname: read }: MarkParts, surname: string, { values }: Assumptions): boolean =>
  read !== undefined &&
  surnameCost(patternFrom(read), surname, { elementBits: values['agree.element'], limitBits: 0 }) === 0;

/** Sums over the days of a mark that serve every edition. */
export type SweepSums = {
  readonly from: number;
  readonly found: Float64Array;
  readonly unrecorded: Float64Array;
};

export function sweepSums({ when, question, asked }: Situation): SweepSums {
  const { assumptions } = question;
  const { density, days } = when;
  const offset = days.from - density.from;
  const weights = density.weights.slice(offset, offset + days.until - days.from);
  const expected = unrecordedOn(days, asked, assumptions);
  for (let i = 0; i < expected.length; i += 1) expected[i] = (expected[i] as number) * (weights[i] as number);
  const near = (given: Float64Array, { before, after }: MeanYears): Float64Array =>
    nearness({ from: days.from, weights: given } satisfies Density, before * DAYS_PER_YEAR, after * DAYS_PER_YEAR);
  return {
    from: days.from,
    found: near(weights, foundMeans(asked, assumptions)),
    unrecorded: near(expected, alike(assumptions.values['service.mean'])),
  };
}

type MeanYears = { readonly before: number; readonly after: number };
const alike = (years: number): MeanYears => ({ before: years, after: years });

/** How far from the day of a list somebody found there still counts: in the rank, or without one for an adult life. */
const foundMeans = ({ rank }: Situation['asked'], assumptions: Assumptions): MeanYears =>
  rank === undefined
    ? { before: assumptions.values['person.before'], after: assumptions.values['person.after'] }
    : alike(forRank(assumptions, 'tenure.mean', rank));

/** About how much a sweep is worth, without summing anything anew; what other sweeps cover counts only roughly. */
export function estimatedSweepGain(situation: Situation, surname: string, edition: Edition, sums: SweepSums): number {
  const { question, asked, ranked, unrecorded, total } = situation;
  const { assumptions } = question;
  const on = midDay(edition.asAt.span);
  const at = Math.min(sums.found.length - 1, Math.max(0, on - sums.from));
  // Outside the days of the mark both sums fall as they do beyond its last day.
  const beyond = (on - sums.from - at) / DAYS_PER_YEAR;
  const fall = ({ before, after }: MeanYears): number => Math.exp(-Math.max(beyond / before, -beyond / after));
  const found = (sums.found[at] as number) * fall(foundMeans(asked, assumptions));
  const near = (sums.unrecorded[at] as number) * fall(alike(assumptions.values['service.mean']));
  const left = unrecorded.expected - near * (1 - assumptions.values['sweep.missed']) * partOf(asked, assumptions);
  const more = 1 - Math.exp(-expectedOfSurname(on, foldName(surname), asked, assumptions));
  const best = ranked[0]?.weight ?? 0;
  const named = total - unrecorded.expected;
  const after = (1 - more) * best + more * Math.max(found, best);
  return after / (named + left + more * found) - best / total;
}

/** About what part of all people who fit the reading bear one surname that it fits. */
const partOf = ({ surname }: Situation['asked'], assumptions: Assumptions): number =>
  surname?.damaged === false
    ? 1
    : Math.min(1, assumptions.values['name.frequency'] / nameFrequency(surname, assumptions));

/** What can come of taking down every bearer of a surname from an edition. */
export function surnameAnswers(situation: Situation, surname: string, edition: Edition): PersonAnswer[] {
  const sweep = {
    surname: foldName(surname),
    midDay: midDay(edition.asAt.span),
  };
  const found = { person: `one more ${surname}`, weight: weightOfFound(situation, surname, edition) };
  const labels = { nobody: `no other ${surname}`, oneMore: found.person, found: found.person };
  const { asked, question } = situation;
  const leftOf = (then: UnrecordedInput): number => unrecordedIn(situation, then);
  const answers = sweepAnswers(situation, leftOf, asked, sweep, found.weight, labels, question.assumptions);
  return answers.map(({ answer, prior }) => ({
    answer,
    prior,
    after: () => withSweep(situation, sweep, answer === found.person ? found : undefined),
  }));
}

/**
 * What somebody more whom a sweep finds weighs: a person of whom nothing is known but a line in that list, in the rank
 * and corps of the mark, whose name and place agree with it. Of several readings only those that fit the surname count.
 */
function weightOfFound(situation: Situation, surname: string, edition: Edition): number {
  const ofMark = foundWeights.get(situation.when) ?? new Map<string, number>();
  foundWeights.set(situation.when, ofMark);
  const key = `${edition.id} ${surname}`;
  const known = ofMark.get(key) ?? weightOfLine(situation, surname, edition);
  ofMark.set(key, known);
  return known;
}

const foundWeights = new WeakMap<MarkDays, Map<string, number>>();

function weightOfLine({ question, when }: Situation, surname: string, edition: Edition): number {
  const { readings, sought, assumptions } = question;
  const each = sought.readings ?? [{ share: 1, sought }];
  return each.reduce((sum, { share, sought: one }, place) => {
    const parts = readings[place]?.parts;
    if (parts === undefined || !isFitted(parts, surname, assumptions)) return sum;
    const { ranks, corps } = one;
    const [named] = corps ?? [];
    const rank = ranks.find(({ service }) => service === edition.service) ?? openRank(edition.service, UNKNOWN);
    const line: ListedEntry = {
      id: HYPOTHETICAL,
      edition,
      rank,
      corps: named === undefined ? undefined : { key: named, name: named },
      kind: 'substantive',
      dated: undefined,
      page: undefined,
    };
    const career = solveCareer({ ...NOTHING_KNOWN, entries: [line] }, assumptions);
    const bearer = { person: HYPOTHETICAL, names: [AGREEING], places: [], career, mainSteps: NOTHING_KNOWN.mainSteps };
    const inputs = candidateInputs(bearer, { ranks, corps, ...NOTHING_ELSE_ASKED }, assumptions);
    return sum + share * inputs.reduce((weight, input) => weight + weigh(input, when).weight, 0);
  }, 0);
}

const UNKNOWN = 'unknown';
const NOTHING_KNOWN: CareerEvidence = {
  entries: [],
  notices: [],
  nilSearches: [],
  conditions: [],
  born: undefined,
  died: undefined,
  setAside: new Set(),
  mainSteps: new Map(),
};
const NOTHING_ELSE_ASKED = { forenames: [], surnameBits: undefined, place: undefined };
const AGREEING: BorneName = { id: UNKNOWN, surnameId: 0, surname: '', forenames: '', inUse: ALL_TIME, recorded: true };
