import { parse } from 'csv-parse/sync';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { makePlace, type Place } from './heldby.ts';
import { fillLedger } from './refusals.ts';

let place: Place;
beforeAll(() => {
  place = makePlace();
  fillLedger(place);
});
afterAll(() => place.remove());

const rows = (...words: string[]): Record<string, string>[] => {
  const ran = place.run(...words, '--csv');
  expect([ran.status, ran.err]).toEqual([0, '']);
  return parse(ran.out, { columns: true });
};

test.each<[what: string, words: string[], list: string, first: string]>([
  ['records of a kind', ['list', 'people'], 'records', 'id'],
  ['what is found', ['find', 'Holt', '--limit', '100'], 'results', 'id'],
  ['acts', ['history'], 'acts', 'id'],
  ['assumptions', ['assume'], 'assumptions', 'name'],
])('a list as CSV has the rows that it has as JSON: %s', (_what, words, list, first) => {
  const inJson = place.json(...words)[list] as Record<string, unknown>[];
  expect(inJson.length).toBeGreaterThan(0);
  expect(rows(...words).map((row) => row[first])).toEqual(inJson.map((row) => String(row[first])));
});
