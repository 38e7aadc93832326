import { gregorianDay, isDate } from './calendar.ts';
import type { Day } from './span.ts';

/** Months as lists print them; every other wording is left to `readDate`. */
const MONTHS = new Map(
  [
    ['January', 'Jan'],
    ['February', 'Feb'],
    ['March', 'Mar'],
    ['April', 'Apr'],
    ['May'],
    ['June', 'Jun'],
    ['July', 'Jul'],
    ['August', 'Aug'],
    ['September', 'Sept', 'Sep'],
    ['October', 'Oct'],
    ['November', 'Nov'],
    ['December', 'Dec'],
  ].flatMap((names, index) => names.map((name) => [name, index + 1] as const)),
);

const WRITTEN = /^(\d{1,2}) ([A-Z][a-z]+)(\.?) (\d{4})$/;
const ISO = /^(\d{4})-(\d\d)-(\d\d)$/;

/** The first year in which no English day had two styles. */
const FIRST_PLAIN_YEAR = 1753;

/**
 * The day of the two commonest wordings, `16 May 1834` and `1834-05-16`: what `readDate` says of them, in a hundredth of
 * its time, for lists of which every line has one. Undefined for anything else, which may still be a date.
 */
export function plainDay(text: string): Day | undefined {
  const written = WRITTEN.exec(text);
  const iso = written ? null : ISO.exec(text);
  const [year, month, day] = written
    ? [Number(written[4]), monthOf(written[2] ?? '', written[3] === '.'), Number(written[1])]
    : [Number(iso?.[1]), Number(iso?.[2]), Number(iso?.[3])];
  if (month === undefined || !(year >= FIRST_PLAIN_YEAR) || !isDate(year, month, day)) return undefined;
  return gregorianDay(year, month, day);
}

const monthOf = (word: string, abbreviated: boolean): number | undefined => {
  const month = MONTHS.get(word);
  return abbreviated && word.length > 4 ? undefined : month;
};
