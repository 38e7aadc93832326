import { expect, test } from 'vitest';
import { DEFAULTS } from '../../src/assumptions.ts';
import { limitBits, patternFrom } from '../../src/names/pattern.ts';
import { buildSurnameIndex } from '../../src/names/surname-index.ts';
import { searchSurnames } from '../../src/names/surname-search.ts';
import data from './data/army-spellings.json' with { type: 'json' };

/**
 * Of the spellings of one surname that seventeenth-century clerks wrote, how many are found by each other within the limit
 * of a reading. The accounts give no identities: which spellings are one name was judged by eye (see the data), and those
 * that are not found are listed there one by one. Nothing was fitted to them: letter costs and limit are those of every
 * reading, and sounds of that age (Ayscough, Askew) are beyond them.
 * Source: the pay accounts of the Essex army, 1642–44: text Open Government Licence v3, database CC BY
 * (drgavinr/cc-by-data).
 */
const elementBits = DEFAULTS.values['agree.element'];
const spellings = [...new Set(data.groups.flatMap(([, ...surnames]) => surnames))];
const index = buildSurnameIndex(spellings.map((text, id) => ({ id, text })));

/** The spellings that a reading finds, as the ledger would. */
function foundBy(read: string): ReadonlySet<string> {
  const pattern = patternFrom(read);
  const found = searchSurnames(index, pattern, limitBits(pattern, DEFAULTS), { elementBits });
  return new Set(found.map(({ id }) => spellings[id] ?? ''));
}

const pairs = data.groups.flatMap(([, ...surnames]) =>
  surnames.flatMap((read) => surnames.filter((name) => name !== read).map((name) => ({ read, name }))),
);

test('there are groups enough', () => {
  expect(data.groups.length).toBeGreaterThan(100);
  expect(pairs.length).toBeGreaterThan(400);
});

test('four in five spellings of one name are found by each other; those that are not are listed', () => {
  const missed = pairs.filter(({ read, name }) => !foundBy(read).has(name));
  expect(1 - missed.length / pairs.length).toBeGreaterThan(0.8); // 370 of 462
  expect([...new Set(missed.map(({ read, name }) => `${read} ${name}`))].sort()).toEqual([...data.notFound].sort());
});

test('more than 85 in 100 spellings are found by some other spelling of the name', () => {
  const all = data.groups.flatMap(([, ...surnames]) => surnames.map((name) => ({ name, surnames })));
  const found = all.filter(({ name, surnames }) => surnames.some((read) => read !== name && foundBy(read).has(name)));
  expect(found.length / all.length).toBeGreaterThan(0.85); // 237 of 265
});
