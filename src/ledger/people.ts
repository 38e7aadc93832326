import type { DateEvidence } from '../careers/evidence.ts';
import type { Span } from '../time/span.ts';
import { ALL_TIME } from '../time/span.ts';
import type { Db } from './open.ts';
import { prepared } from './prepared.ts';

/** A name that a person bore: the one they are recorded under is usable at any time. */
export type BorneName = {
  readonly id: string;
  readonly surnameId: number;
  readonly surname: string;
  readonly forenames: string;
  readonly inUse: Span;
  readonly recorded: boolean;
};

export type PersonName = { readonly id: string; readonly key: string | null; readonly name: string };

/** The people that are found to be one, by the first record of each: every person once. */
export function samePeople(db: Db): (person: number) => readonly number[] {
  const pairs = prepared(
    db,
    "SELECT person_id, other_id FROM current_same WHERE 'sm' || id NOT IN (SELECT record FROM current_set_aside)",
    'raw',
  ).all() as [number, number][];
  if (pairs.length === 0) return (person) => [person];
  const groups = new Map<number, Set<number>>();
  for (const [a, b] of pairs) {
    const joined = new Set([...(groups.get(a) ?? [a]), ...(groups.get(b) ?? [b])]);
    for (const member of joined) groups.set(member, joined);
  }
  return (person) => [...(groups.get(person) ?? [person])].sort((a, b) => a - b);
}

/** Ids of the records that two of these, who are recorded as one, are not one person. */
export const differingAmong = (db: Db, people: readonly number[]): string[] =>
  prepared(
    db,
    `SELECT 'df' || id FROM current_differ WHERE person_id IN (SELECT value FROM json_each(:people))
       AND other_id IN (SELECT value FROM json_each(:people)) AND 'df' || id NOT IN (SELECT record FROM current_set_aside)
      ORDER BY id`,
    'pluck',
  ).all({ people: JSON.stringify(people) }) as string[];

type NameRow = {
  person: number;
  key: string | null;
  text: string;
  surname: string;
  forenames: string | null;
  honours: string | null;
};

/** How a person is called in an answer: forenames and surname, as recorded. */
export function personName(db: Db, person: number): PersonName {
  const row = prepared(
    db,
    `SELECT p.id AS person, p.key, n.text, s.text AS surname, n.forenames, n.honours FROM current_person AS p
       JOIN printed_name AS n ON n.id = p.name_id JOIN surname AS s ON s.id = n.surname_id WHERE p.id = ?`,
  ).get(person) as NameRow | undefined;
  return { id: `p${person}`, key: row?.key ?? null, name: row ? calledAs(row) : `p${person}` };
}

const calledAs = ({ surname, forenames }: Pick<NameRow, 'surname' | 'forenames'>): string =>
  forenames === null ? surname : `${forenames} ${surname}`;

type FormRow = {
  row: number;
  person: number;
  surname_id: number;
  surname: string;
  forenames: string | null;
  from_id: number | null;
  to_id: number | null;
};

/** Reads the names of people, and who bears a surname. */
export function nameReader(db: Db, date: (id: number) => DateEvidence) {
  const recorded = prepared(
    db,
    `SELECT p.id AS person, n.surname_id, s.text AS surname, n.forenames FROM current_person AS p
       JOIN printed_name AS n ON n.id = p.name_id JOIN surname AS s ON s.id = n.surname_id WHERE p.id = ?`,
  );
  const others = prepared(
    db,
    `SELECT f.id AS row, f.person_id AS person, n.surname_id, s.text AS surname, n.forenames, f.from_id, f.to_id
       FROM current_name_form AS f JOIN printed_name AS n ON n.id = f.name_id JOIN surname AS s ON s.id = n.surname_id
      WHERE f.person_id = ? AND 'nm' || f.id NOT IN (SELECT record FROM current_set_aside)`,
  );
  const anyForms = prepared(db, 'SELECT 1 FROM name_form LIMIT 1').get() !== undefined;
  return {
    /** All names of one person, whose records may be several; what was recorded first comes first. */
    namesOf(people: readonly number[]): BorneName[] {
      return people.flatMap((person) => {
        const own = recorded.get(person) as FormRow | undefined;
        const forms = anyForms ? (others.all(person) as FormRow[]) : [];
        return [
          ...(own
            ? [
                {
                  id: `p${person}`,
                  surnameId: own.surname_id,
                  surname: own.surname,
                  forenames: own.forenames ?? '',
                  inUse: ALL_TIME,
                  recorded: true,
                },
              ]
            : []),
          ...forms.map((form) => ({
            id: `nm${form.row}`,
            surnameId: form.surname_id,
            surname: form.surname,
            forenames: form.forenames ?? '',
            inUse: {
              from: form.from_id === null ? ALL_TIME.from : date(form.from_id).span.from,
              until: form.to_id === null ? ALL_TIME.until : date(form.to_id).span.until,
            },
            recorded: false,
          })),
        ];
      });
    },
  };
}

/** Everybody who is recorded under one of these surnames, or bore it at some time. */
export function peopleOfSurnames(db: Db, surnameIds: readonly number[]): number[] {
  const ids = JSON.stringify(surnameIds);
  return prepared(
    db,
    `SELECT p.id FROM json_each(?) AS wanted CROSS JOIN printed_name AS n ON n.surname_id = wanted.value
         CROSS JOIN current_person AS p ON p.name_id = n.id
       UNION
       SELECT f.person_id FROM json_each(?) AS wanted CROSS JOIN printed_name AS n ON n.surname_id = wanted.value
         CROSS JOIN current_name_form AS f ON f.name_id = n.id`,
    'pluck',
  ).all(ids, ids) as number[];
}

/** Everybody there is. */
export const everybody = (db: Db): number[] =>
  prepared(db, 'SELECT id FROM current_person ORDER BY id', 'pluck').all() as number[];

export const placesOf = (db: Db, people: readonly number[]): string[] => {
  const places = prepared(db, 'SELECT places FROM current_person WHERE id = ?', 'pluck');
  return people.flatMap((person) => {
    const text = places.get(person) as string | null | undefined;
    return text === null || text === undefined ? [] : (JSON.parse(text) as string[]);
  });
};

/** Every place that somebody is recorded at. */
export const knownPlaces = (db: Db): string[] => [
  ...new Set(
    (
      prepared(db, 'SELECT DISTINCT places FROM current_person WHERE places IS NOT NULL', 'pluck').all() as string[]
    ).flatMap((text) => JSON.parse(text) as string[]),
  ),
];

/** The name that somebody is recorded under, as it was printed. */
export const printedNameOf = (db: Db, person: number): string =>
  prepared(
    db,
    'SELECT n.text FROM current_person AS p JOIN printed_name AS n ON n.id = p.name_id WHERE p.id = ?',
    'pluck',
  ).get(person) as string;
