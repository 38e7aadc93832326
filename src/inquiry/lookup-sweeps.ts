import { type Assumptions, DAYS_PER_YEAR, forRank } from '../assumptions.ts';
import { nearness } from '../attribution/lookup-estimate.ts';
import { sweepAnswers } from '../attribution/sweep-answers.ts';
import { expectedOfSurname, nameFrequency, unrecordedOn } from '../attribution/unrecorded.ts';
import type { Density } from '../dating/density.ts';
import { foldName, isDamaged, patternFrom } from '../names/pattern.ts';
import { surnameCost } from '../names/surname-cost.ts';
import type { Edition, PersonAnswer } from './lookup-people.ts';
import { midDay } from './lookup-people.ts';
import { knownIn, type Situation, withSweep } from './lookup-situation.ts';

/** Surnames whose bearers could be taken down from a list. */
const MOST_SURNAMES = 10;

/**
 * Surnames of which a sweep bears on a mark: the one that is read, if it is undamaged, and those of the leading
 * candidates that the reading fits exactly. As they are written, each once.
 */
export function surnamesToSweep(situation: Situation): string[] {
  const { question, ranked } = situation;
  const { readings, sought } = question;
  if (sought.surnameBits === undefined) return [];
  const found = new Map<string, string>();
  const add = (surname: string): void => {
    if (!found.has(foldName(surname))) found.set(foldName(surname), surname);
  };
  for (const { person } of ranked.slice(0, MOST_SURNAMES)) {
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
  const { readings, assumptions } = situation.question;
  if (!listBears(situation, edition)) return false;
  const elementBits = assumptions.values['agree.element'];
  return readings.some(
    ({ parts }) =>
      parts.surname !== undefined &&
      surnameCost(patternFrom(parts.surname), surname, { elementBits, limitBits: 0 }) === 0,
  );
}

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
  const near = (given: Float64Array, years: number): Float64Array =>
    nearness({ from: days.from, weights: given } satisfies Density, years * DAYS_PER_YEAR);
  return {
    from: days.from,
    found: near(weights, forRank(assumptions, 'tenure.mean', asked.rank)),
    unrecorded: near(expected, assumptions.values['service.mean']),
  };
}

/** About how much a sweep is worth, without summing anything anew; what other sweeps cover counts only roughly. */
export function estimatedSweepGain(situation: Situation, surname: string, edition: Edition, sums: SweepSums): number {
  const { question, asked, ranked, unrecorded, total } = situation;
  const { assumptions } = question;
  const on = midDay(edition.asAt.span);
  const at = Math.min(sums.found.length - 1, Math.max(0, on - sums.from));
  // Outside the days of the mark both sums fall as they do beyond its last day.
  const beyond = Math.abs(on - sums.from - at) / DAYS_PER_YEAR;
  const fall = (years: number): number => Math.exp(-beyond / years);
  const found = (sums.found[at] as number) * fall(forRank(assumptions, 'tenure.mean', asked.rank));
  const near = (sums.unrecorded[at] as number) * fall(assumptions.values['service.mean']);
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
  const found = `one more ${surname}`;
  const labels = { nobody: `no other ${surname}`, oneMore: found, found };
  const { when, asked, question } = situation;
  const answers = sweepAnswers(situation, when, asked, sweep, labels, question.assumptions);
  return answers.map(({ answer, prior }) => ({
    answer,
    prior,
    after: () => withSweep(situation, sweep, answer === found ? found : undefined),
  }));
}
