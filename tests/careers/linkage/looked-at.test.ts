import { describe, expect, test } from 'vitest';
import { codeEntries } from '../../../src/careers/linkage/coded.ts';
import { lookedAt } from '../../../src/careers/linkage/looked-at.ts';
import { editionOf, listed } from './listed.ts';

const input = listed([
  { id: 'e1', year: 1800, name: 'Ferrand, Julian' },
  { id: 'e2', year: 1806, name: 'Holt, James' },
]);
const partly = input.editions.map((edition) => ({
  ...edition,
  whole: !['1802', '1803', '1804'].includes(edition.label),
}));
const other = editionOf(1803, 'n', 'navy');

const of = (sweeps: { edition: number; surname: string }[]) => {
  const given = { ...input, editions: [...partly, other], sweeps };
  const coded = codeEntries(given);
  return { looked: lookedAt(coded, sweeps), ferrand: coded.surname[0] ?? -1, holt: coded.surname[1] ?? -1 };
};

describe('steps 0 to 7 are 1800 to 1803, the navy of 1803, 1804 to 1806; 1802 to 1804 were taken in part', () => {
  const { looked, ferrand, holt } = of([{ edition: 3, surname: 'FERRAND' }]);
  test('whole editions count', () => expect(looked.gap(holt, 0, 1)).toBe(1));
  test('of an edition taken in part only what was found, and what was swept', () => {
    expect(looked.gap(holt, 0, 6)).toBe(2); // 1801, 1805
    expect(looked.gap(ferrand, 0, 6)).toBe(3); // and 1803
    expect(looked.gap(holt, 1, 2)).toBe(1); // he is in that of 1802
    expect(looked.gap(ferrand, 1, 3)).toBe(1); // swept, and he is in it
  });
  test('lists of other services do not', () => expect(looked.gap(holt, 0, 7)).toBe(3));
  test('those after it', () => {
    expect(looked.after(holt, 0)).toBe(3);
    expect(looked.after(ferrand, 0)).toBe(4);
    expect(looked.after(holt, 7)).toBe(0);
  });
  test('a gap is never less than one', () => expect(looked.gap(holt, 0, 4)).toBe(1));
});
