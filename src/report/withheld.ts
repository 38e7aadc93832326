import type { LotPerson, LotReport } from '../inquiry/report-lot.ts';
import { fold } from '../services/fold.ts';
import { foldedWords } from '../services/folded-words.ts';
import type { LotToPrint } from './lot-to-print.ts';
import { namingOf, type Words } from './words.ts';

/** Parts of names that are shorter are found in too many words that name nobody. */
const LEAST_LETTERS = 3;

/**
 * The lot with every text of the house's own that names somebody who may be living withheld: title, description, where a
 * mark stands, a trait, a reason, the file of a photograph. What stands on the marks, and whom they name, is withheld where
 * it is worded (`namingOf`).
 */
export function withoutLiving(given: LotToPrint, words: Words): LotToPrint {
  const { lot, timeline } = given;
  const surnames = surnamesWithheld(lot, words);
  if (surnames.length === 0) return given;
  const told = (text: string): string => (namesOne(text, surnames) ? words.say('text.withheld') : text);
  const toldOr = (text: string | null): string | null => text && told(text);
  const shownAs = (photos: LotReport['photos']): LotReport['photos'] =>
    photos.map((photo) => ({ ...photo, file: told(photo.file) }));
  const { object, made, marks, attributions } = lot;
  return {
    ...given,
    lot: {
      ...lot,
      photos: shownAs(lot.photos),
      object: { ...object, title: told(object.title), note: toldOr(object.note) },
      made: {
        ...made,
        windows: made.windows.map((each) => ({ ...each, text: told(each.text), part: toldOr(each.part) })),
      },
      marks: marks.map((mark) => ({
        ...mark,
        photos: shownAs(mark.photos),
        technique: toldOr(mark.technique),
        where: toldOr(mark.where),
        readings: mark.readings.map((reading) => ({ ...reading, by: toldOr(reading.by) })),
        clues: mark.clues.map((clue) => ({ ...clue, why: toldOr(clue.why) })),
      })),
      attributions: attributions.map((each) => ({ ...each, why: toldOr(each.why) })),
    },
    timeline: timeline && {
      ...timeline,
      of: { ...timeline.of, name: told(timeline.of.name) },
      rows: timeline.rows.map((row) => (row.kind === 'window' ? { ...row, text: told(row.text) } : row)),
    },
  };
}

/** What an answer holds of a person beside the name. */
const OF_A_PERSON = {
  key: null,
  forenames: null,
  born: null,
  died: null,
  places: [],
  names: [],
  tenures: [],
  leftOut: [],
};

/**
 * The same of everything that a lot holds, for a form of fields: a script that prints them is to find no name, date, place
 * or post of theirs in any.
 */
export function everythingWithheld(lot: LotReport, words: Words): LotReport {
  const surnames = surnamesWithheld(lot, words);
  const naming = namingOf(lot, words);
  if (!Object.keys(lot.people).some(naming.isWithheld)) return lot;
  const told = (value: unknown): unknown => {
    if (typeof value === 'string') return namesOne(value, surnames) ? words.say('text.withheld') : value;
    if (Array.isArray(value)) return value.map(told);
    return typeof value === 'object' && value !== null ? fieldsTold(value as Fields) : value;
  };
  const fieldsTold = (was: Fields): Fields => {
    const now: Fields = Object.fromEntries(Object.entries(was).map(([name, field]) => [name, told(field)]));
    const isOne = 'name' in was && naming.isWithheld(String(was['id']));
    if (isOne) now['name'] = words.say('person.withheld');
    if (isOne || now['surname'] !== was['surname'])
      for (const [name, none] of Object.entries(OF_A_PERSON)) if (name in was) now[name] = none;
    if (now['key'] !== was['key']) now['key'] = null;
    return now;
  };
  return fieldsTold(lot) as LotReport;
}

type Fields = Record<string, unknown>;

const surnamesWithheld = (lot: LotReport, words: Words): string[] => {
  const naming = namingOf(lot, words);
  return Object.values(lot.people)
    .filter(({ id }) => naming.isWithheld(id))
    .flatMap(surnamesOf);
};

const wordsIn = (text: string): readonly string[] => foldedWords(fold(text));

/** The last word of each name that they bore. */
const surnamesOf = ({ name, names }: LotPerson): string[] =>
  [name, ...names.map((each) => each.name)].flatMap((each) => {
    const last = wordsIn(each).at(-1) ?? '';
    return last.length < LEAST_LETTERS ? [] : [last];
  });

function namesOne(text: string, surnames: readonly string[]): boolean {
  const there = new Set(wordsIn(text));
  return surnames.some((surname) => there.has(surname));
}
