/**
 * An open roster with its identity column hidden, put together into people by `careers --accept`: as it stands, and with
 * every forename cut to its initial and the state left out of every second row. Source: fivethirtyeight/data,
 * congress-demographics (data_aging_congress.csv), CC BY 4.0; the rows of 1919–1939.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { parse } from 'csv-parse/sync';
import { expect, test } from 'vitest';
import { fold } from '../../src/services/fold.ts';
import { makePlace, type Place } from '../cli/heldby.ts';

const rows = parse(readFileSync(new URL('./data/roster-1919-1939.csv', import.meta.url), 'utf8'), {
  columns: true,
}) as Record<
  'person_id' | 'surname' | 'forenames' | 'rank_or_office' | 'corps_or_state' | 'start' | 'source',
  string
>[];

type Line = { readonly name: string; readonly corps: string };
type Recorded = { readonly id: string; readonly fields: Readonly<Record<string, string>> };

const asPrinted = (row: (typeof rows)[number]): Line => ({
  name: `${row.surname}, ${row.forenames}`,
  corps: row.corps_or_state,
});
const cutShort = (row: (typeof rows)[number], at: number): Line => ({
  name: `${row.surname}, ${row.forenames.trim().slice(0, 1)}.`,
  corps: at % 2 === 0 ? row.corps_or_state : '',
});

/** How many pairs can be made within the groups of equal labels. */
const pairs = (labels: readonly string[]): number => {
  const sizes = new Map<string, number>();
  for (const label of labels) sizes.set(label, (sizes.get(label) ?? 0) + 1);
  return [...sizes.values()].reduce((sum, size) => sum + (size * (size - 1)) / 2, 0);
};

type Score = { readonly precision: number; readonly recall: number; readonly f1: number };

const truth = rows.map((row) => row.person_id);

/** Pairwise, of people who are told apart by these labels. */
function scoreOf(told: readonly string[]): Score {
  const right = pairs(truth.map((person, at) => `${person} ${told[at]}`));
  const [said, real] = [pairs(told), pairs(truth)];
  return { precision: right / said, recall: right / real, f1: (2 * right) / (said + real) };
}

/** Beside it the plain rule: whoever has the same name, folded, is one. */
function scored(lineOf: (row: (typeof rows)[number], at: number) => Line, isAnswered = false): Score {
  const plain = scoreOf(rows.map((row, at) => fold(lineOf(row, at).name)));
  const own = peopleMade(lineOf, isAnswered);
  if (process.env['HELDBY_FIGURES'] !== undefined) process.stdout.write(`${JSON.stringify({ own, plain })}\n`);
  expect(own.f1).toBeGreaterThan(plain.f1);
  return own;
}

/** The people that `careers --accept` makes; and, where every question is answered truly, those when none is left. */
function peopleMade(lineOf: (row: (typeof rows)[number], at: number) => Line, isAnswered: boolean): Score {
  const place = makePlace();
  try {
    const lines = rows.map((row, at) => ({ ...lineOf(row, at), rank: row.rank_or_office, list: row.source, row }));
    const text = lines.map(({ name, rank, corps, list, row }) => [`"${name}"`, rank, corps, list, row.start].join(','));
    writeFileSync(place.path('roster.csv'), ['name,rank,corps,edition,as_at', ...text].join('\n'));
    place.json('init');
    place.json('series', 'add', 'Roster', '--service', 'legislature');
    place.json('import', 'roster.csv', '--series', 'Roster');
    place.json('careers', '--accept');
    const listed = (kind: string): Recorded[] => place.json('list', kind, '--limit', '9999').records;
    const labels = new Map(listed('editions').map(({ id, fields }) => [id, fields['label']]));
    const keyOf = (...parts: (string | undefined)[]): string => parts.map((part) => part ?? '').join('|');
    const recorded = new Map<string, Recorded[]>();
    for (const entry of listed('entries')) {
      const { edition = '', name, rank, corps } = entry.fields;
      const key = keyOf(labels.get(edition), name, rank, corps);
      recorded.set(key, [...(recorded.get(key) ?? []), entry]);
    }
    const ids = lines.map(({ name, rank, corps, list }) => {
      const entry = recorded.get(keyOf(list, name, rank, corps))?.shift();
      if (entry === undefined) throw new Error(`not recorded: ${name}`);
      return entry.id;
    });
    if (isAnswered) answerTruly(place, new Map(ids.map((id, at) => [id, truth[at] ?? ''])));
    const placed = new Map(listed('links').map(({ fields }) => [fields['entry'], fields['person']]));
    const one = new Map<string | undefined, string | undefined>();
    const wholly = (person: string | undefined): string | undefined =>
      one.has(person) ? wholly(one.get(person)) : person;
    for (const { fields } of listed('findings-that-two-are-one')) {
      const [person, other] = [wholly(fields['person']), wholly(fields['other'])];
      if (person !== other) one.set(other, person);
    }
    const told = ids.map((id) => wholly(placed.get(id)) ?? id);
    return scoreOf(told);
  } finally {
    place.remove();
  }
}

/** Whoever knows answers what is asked, and what is certain then is recorded, until nothing is asked any more. */
function answerTruly(place: Place, bearer: ReadonlyMap<string, string>): void {
  let questions = 0;
  for (;;) {
    const { doubts, nameChanges } = place.json('careers');
    const asked = [
      ...doubts.map(({ one, other }: Pair) => ({ one: one.id, other: other.id, joined: 'same' })),
      ...nameChanges.map(({ last, first }: Pair) => ({ one: last.id, other: first.id, joined: 'renamed' })),
    ];
    if (asked.length === 0) break;
    questions += asked.length;
    const answers = asked.map(
      ({ one, other, joined }) => `${one},${other},${bearer.get(one) === bearer.get(other) ? joined : 'differ'}`,
    );
    writeFileSync(place.path('answers.csv'), ['one,other,decision', ...answers].join('\n'));
    place.json('careers', '--decisions', 'answers.csv');
    place.json('careers', '--accept');
  }
  if (process.env['HELDBY_FIGURES'] !== undefined) process.stdout.write(`${questions} questions\n`);
}

type Pair = Readonly<Record<'one' | 'other' | 'last' | 'first', { readonly id: string }>>;

test('as printed', { timeout: 240_000 }, () => {
  const { precision, f1 } = scored(asPrinted);
  expect(precision).toBeGreaterThanOrEqual(0.995);
  expect(f1).toBeGreaterThanOrEqual(0.995);
});

test('forenames cut to initials, and every second state left out', { timeout: 240_000 }, () => {
  const { precision, f1 } = scored(cutShort);
  expect(precision).toBeGreaterThanOrEqual(0.99);
  expect(f1).toBeGreaterThanOrEqual(0.97);
});

test('the same, with every question answered truly: hardly anybody is left in two', { timeout: 480_000 }, () => {
  const { precision, recall } = scored(cutShort, true);
  expect(precision).toBeGreaterThanOrEqual(0.99);
  expect(recall).toBeGreaterThanOrEqual(0.995);
});
