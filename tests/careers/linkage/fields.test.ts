import { expect, test } from 'vitest';
import {
  CORPS,
  CORPS_AGAIN,
  CORPS_FIELD,
  DATED,
  DATED_AGAIN,
  DATED_FIELDS,
  FIELD_COUNT,
  FIELDS,
  FORENAMES,
  FORENAMES_FIELD,
  LEVELS,
  RANK,
  RANK_AGAIN,
  RANK_FIELD,
  SENIORITY,
  SENIORITY_FIELD,
  SUFFIX,
  SUFFIX_AGAIN,
  SUFFIX_ELDER,
  SUFFIX_FIELD,
  SUFFIX_YOUNGER,
  SURNAME,
  SURNAME_FIELD,
} from '../../../src/careers/linkage/fields.ts';
import { fieldRanges } from '../../../src/careers/linkage/weights.ts';

const ranges = fieldRanges();

test.each<[field: number, first: number]>([
  [SURNAME_FIELD, SURNAME],
  [FORENAMES_FIELD, FORENAMES],
  [SUFFIX_FIELD, SUFFIX],
  [RANK_FIELD, RANK],
  [DATED_FIELDS.sameRank, DATED.sameRank],
  [DATED_FIELDS.higherRank, DATED.higherRank],
  [DATED_FIELDS.otherRank, DATED.otherRank],
  [CORPS_FIELD, CORPS],
  [SENIORITY_FIELD, SENIORITY],
])('field %i begins at level %i', (field, first) => expect(ranges[field]?.first).toBe(first));

test('all levels are numbered', () => {
  expect(FIELDS).toHaveLength(FIELD_COUNT);
  expect(ranges.at(-1)?.until).toBe(LEVELS);
});

test.each<[field: number, level: number, name: string]>([
  [SUFFIX_FIELD, SUFFIX_ELDER, 'left off, or now the elder'],
  [SUFFIX_FIELD, SUFFIX_YOUNGER, 'now the younger'],
  [SUFFIX_FIELD, SUFFIX_AGAIN, 'as in a line further off'],
  [RANK_FIELD, RANK_AGAIN, 'as in a line further off'],
  [DATED_FIELDS.otherRank, DATED_AGAIN, 'as in a line further off'],
  [CORPS_FIELD, CORPS_AGAIN, 'as in a line further off'],
])('level %#: field %i, level %i is "%s"', (field, level, name) =>
  expect(FIELDS[field]?.levels[level]?.name).toBe(name),
);

test('the first guesses of a field add up to about 1', () => {
  for (const { levels } of FIELDS) expect(levels.reduce((sum, { start }) => sum + start, 0)).toBeCloseTo(1, 9);
});
