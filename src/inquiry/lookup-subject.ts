import { type Edition, type PersonAnswer, personAnswers, soughtPerson } from './lookup-people.ts';
import type { Situation } from './lookup-situation.ts';
import { bearsOn, surnameAnswers } from './lookup-sweeps.ts';

/** One thing that can be looked up: a person in an edition, or every bearer of a surname. */
export type Subject = {
  readonly edition: Edition;
  readonly person?: string;
  readonly surname?: string;
};

/** What can come of a look-up, as things stand for a mark; nothing where it cannot bear on the mark. */
export function answersTo({ edition, person, surname }: Subject, situation: Situation): readonly PersonAnswer[] {
  if (surname !== undefined)
    return bearsOn(situation, surname, edition) ? surnameAnswers(situation, surname, edition) : [];
  // To look somebody up bears on the marks that they are a candidate for.
  if (!situation.ranked.some((each) => each.person === person)) return [];
  const sought = person === undefined ? undefined : soughtPerson(situation, person);
  return sought === undefined ? [] : personAnswers(sought, edition, situation);
}

/** What it costs to call up a volume, by the name of its series where that was said; a look in it costs 1. */
export type VolumeCost = {
  readonly usual: number;
  readonly ofSeries: ReadonlyMap<string, number>;
};

const LOOK = 1;

/** A volume that is on the table already costs no more than a look. */
export const costOf = ({ edition }: Subject, { usual, ofSeries }: VolumeCost, onTable = false): number =>
  LOOK + (onTable ? 0 : (ofSeries.get(edition.series) ?? usual));
