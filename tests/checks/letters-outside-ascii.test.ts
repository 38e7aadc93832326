import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { DEFAULTS } from '../../src/assumptions.ts';
import { forenameBits, readForenames } from '../../src/names/forenames.ts';
import { readName } from '../../src/names/name.ts';
import { limitBits, patternFrom } from '../../src/names/pattern.ts';
import { buildSurnameIndex } from '../../src/names/surname-index.ts';
import { searchSurnames } from '../../src/names/surname-search.ts';

/**
 * Names with letters outside ASCII are found by their plain spelling, and the other way round. Those of a roster as it
 * stands (fivethirtyeight/data, congress-demographics, CC BY 4.0), and surnames of other languages with the spelling that
 * a clerk without these letters would set: common practice, from memory.
 */
const elementBits = DEFAULTS.values['agree.element'];
const roster = [
  ...new Set(
    readFileSync(new URL('data/roster-1919-1939.csv', import.meta.url), 'utf8')
      .split('\n')
      .flatMap((line) => /^[A-Z]\d+,"([^"]+)"/.exec(line)?.[1] ?? []),
  ),
];
/** By hand: the roster has no other letters. */
const PLAIN: Readonly<Record<string, string>> = { Á: 'A', á: 'a', É: 'E', é: 'e' };
const plain = (name: string): string => [...name].map((letter) => PLAIN[letter] ?? letter).join('');
const foreign = roster.filter((name) => plain(name) !== name);

test('the roster has such names, and no letters but these', () => {
  expect(roster.length).toBeGreaterThan(1500);
  expect(foreign).toHaveLength(6);
  for (const name of roster) expect(plain(name)).toMatch(/^[\x20-\x7e]+$/);
});

const surnames = [...new Set(roster.map((name) => readName(name).surname))];
const index = buildSurnameIndex(surnames.map((text, id) => ({ id, text })));

test.each(foreign)('in the whole roster, by the plain spelling: %s', (name) => {
  const { surname, forenames } = readName(name);
  const pattern = patternFrom(readName(plain(name)).surname);
  const found = searchSurnames(index, pattern, limitBits(pattern, DEFAULTS), { elementBits });
  expect(surnames[found[0]?.id ?? -1]).toBe(surname);
  expect(found[0]?.bits).toBe(0);
  const read = readForenames(readName(plain(name)).forenames.join(' '));
  expect(forenameBits(read, readForenames(forenames.join(' ')), DEFAULTS)).toBe(0);
});

test.each([
  ['Lindström', 'Lindstrom'],
  ['Håkansson', 'Hakansson'],
  ['Nuñez', 'Nunez'],
  ['Gonçalves', 'Goncalves'],
  ['Søndergård', 'Sondergard'],
  ['Weiß', 'Weiss'],
  ['Łukasz', 'Lukasz'],
  ['Dvořák', 'Dvorak'],
  ['Ægidius', 'Aegidius'],
  ['Þorvald', 'Thorvald'],
  ['Ferrand', 'Ferrand'],
])('each is found by the other: %s, %s', (name, typed) => {
  for (const [a, b] of [
    [name, typed],
    [typed, name],
  ] as const) {
    const pattern = patternFrom(a);
    const found = searchSurnames(buildSurnameIndex([{ id: 1, text: b }]), pattern, limitBits(pattern, DEFAULTS), {
      elementBits,
    });
    expect(found).toEqual([{ id: 1, bits: 0 }]);
  }
});
