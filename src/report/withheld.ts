import type { LotPerson, LotReport } from '../inquiry/report-lot.ts';
import { fold } from '../services/fold.ts';
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

/**
 * The same of everything that a lot holds, for a form of fields: a script that prints them is to find no name, date or place
 * of theirs in any.
 */
export function everythingWithheld(lot: LotReport, words: Words): LotReport {
  const surnames = surnamesWithheld(lot, words);
  if (surnames.length === 0) return lot;
  const naming = namingOf(lot, words);
  const people = Object.fromEntries(
    Object.entries(lot.people).map(([id, person]) => [
      id,
      naming.isWithheld(id) ? { ...person, key: null, born: null, died: null, places: [] } : person,
    ]),
  );
  const told = (value: unknown): unknown => {
    if (typeof value === 'string') return namesOne(value, surnames) ? words.say('text.withheld') : value;
    if (Array.isArray(value)) return value.map(told);
    if (typeof value !== 'object' || value === null) return value;
    const fields: Record<string, unknown> = Object.fromEntries(
      Object.entries(value).map(([name, field]) => [name, told(field)]),
    );
    const was = value as typeof fields;
    if (fields['key'] !== was['key']) fields['key'] = null;
    if ('forenames' in fields && fields['surname'] !== was['surname']) fields['forenames'] = null; // half a name is one too
    return fields;
  };
  return told({ ...lot, people }) as LotReport;
}

const surnamesWithheld = (lot: LotReport, words: Words): string[] => {
  const naming = namingOf(lot, words);
  return Object.values(lot.people)
    .filter(({ id }) => naming.isWithheld(id))
    .flatMap(surnamesOf);
};

const wordsIn = (text: string): string[] => fold(text).split(/[^\p{L}\p{N}]+/u);

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
