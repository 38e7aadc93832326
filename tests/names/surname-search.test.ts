import { expect, test } from 'vitest';
import { DEFAULTS } from '../../src/assumptions.ts';
import { HeldbyError } from '../../src/errors.ts';
import { limitBits, type Pattern, patternFrom } from '../../src/names/pattern.ts';
import { surnameCost } from '../../src/names/surname-cost.ts';
import { buildSurnameIndex } from '../../src/names/surname-index.ts';
import { type FoundSurname, searchSurnames } from '../../src/names/surname-search.ts';
import { chance, DAMAGES, damagedReading, generatedSurnames } from './generated-surnames.ts';

const elementBits = 3;
const pick = (next: () => number, names: readonly string[]): string => names[Math.floor(next() * names.length)] ?? '';

function exhaustive(names: readonly string[], pattern: Pattern, limit: number): FoundSurname[] {
  const found: FoundSurname[] = [];
  for (const [id, text] of names.entries()) {
    const bits = surnameCost(pattern, text, { elementBits, limitBits: limit });
    if (bits <= limit) found.push({ id, bits });
  }
  return found.sort((a, b) => a.bits - b.bits || a.id - b.id);
}

const indexOf = (names: readonly string[]) => buildSurnameIndex(names.map((text, id) => ({ id, text })));

test('searchSurnames: 1,000 damaged readings find exactly what comparing each of 600 names finds', () => {
  const names = generatedSurnames(600);
  const index = indexOf(names);
  const next = chance(5);
  for (let count = 0; count < 1000; count++) {
    const damage = DAMAGES[count % DAMAGES.length] ?? 'plain';
    const text = damagedReading(pick(next, names), damage, next);
    const pattern = patternFrom(text);
    const limit = limitBits(pattern, DEFAULTS);
    expect({ text, found: searchSurnames(index, pattern, limit, { elementBits }) }).toEqual({
      text,
      found: exhaustive(names, pattern, limit),
    });
  }
});

test('searchSurnames: damaged readings of 35,000 names find exactly what comparing each finds', () => {
  const names = generatedSurnames(35_000);
  const index = indexOf(names);
  const next = chance(6);
  for (const damage of DAMAGES) {
    const text = damagedReading(pick(next, names), damage, next);
    const pattern = patternFrom(text);
    const limit = limitBits(pattern, DEFAULTS);
    expect({ text, found: searchSurnames(index, pattern, limit, { elementBits }) }).toEqual({
      text,
      found: exhaustive(names, pattern, limit),
    });
  }
});

test.each<[rule: string, reading: string, limit: number]>([
  ['no limit to speak of', 'Ferr[.]', 60],
  ['an exact fit only', 'Ferrand', 0],
  ['half a bit', 'Mc Ferrand', 0.5],
  ['the limit of an element', 'Ferrand', 3],
  ['a run alone', '[---]', 0],
  ['letters of another alphabet', 'Ж[.]ков', 11],
])('searchSurnames: %s', (_rule, reading, limit) => {
  const names = [
    'Ferrand',
    'FERRAND',
    'Ferrand-Holt',
    'McFerrand',
    'M‘Ferrand',
    'de Ferrand',
    'Holt',
    'Жуков',
    'Жоков',
    '',
    'St. John',
    'x'.repeat(300),
  ];
  const pattern = patternFrom(reading);
  const found = searchSurnames(indexOf(names), pattern, limit, { elementBits });
  expect(found).toEqual(exhaustive(names, pattern, limit));
  expect(found).not.toEqual([]);
});

test('searchSurnames: one name under two numbers is found under both, nearest first', () => {
  const index = buildSurnameIndex([
    { id: 4_000_000, text: 'Ferrand' },
    { id: 7, text: 'FERRAND' },
    { id: 9, text: 'Holt-Ferrand' },
    { id: 1, text: 'Ferand' },
  ]);
  expect(searchSurnames(index, patternFrom('Ferrand'), 20, { elementBits })).toEqual([
    { id: 7, bits: 0 },
    { id: 4_000_000, bits: 0 },
    { id: 9, bits: 3 },
    { id: 1, bits: 5 },
  ]);
});

test('searchSurnames: an empty index, and bytes that are none', () => {
  const index = buildSurnameIndex([]);
  expect(searchSurnames(index, patternFrom('Ferrand'), 20, { elementBits })).toEqual([]);
  const broken = { forward: index.backward, backward: index.backward };
  const act = () => searchSurnames(broken, patternFrom('Ferrand'), 20, { elementBits });
  expect(act).toThrow(HeldbyError);
  expect(act).toThrow(expect.objectContaining({ code: 'LEDGER_DAMAGED' }));
});
