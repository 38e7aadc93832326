import { expect, test } from 'vitest';
import { patternFrom } from '../../src/names/pattern.ts';
import { surnameCost } from '../../src/names/surname-cost.ts';

const bits = (reading: string, name: string, limitBits = Number.POSITIVE_INFINITY): number =>
  surnameCost(patternFrom(reading), name, { elementBits: 3, limitBits });

const SIX = ['u/n', 'c/e', 'l/t', 'i/j', 'i/y', 'c/k', 's/z', 'rn/m', 'ph/f'];
const SEVEN = [
  ...['a/o', 'e/o', 'h/b', 'h/k', 'f/s', 'u/v', 'n/r', 'm/n', 'a/e', 'e/y', 'g/q', 'e/i', 'f/t', 'v/w', 'd/t'],
  ...['ie/y', 'ck/k', 'ks/x', 'cl/d', 'vv/w', 'ey/y', 'gh/'],
];
const pairs = (list: readonly string[], cost: number): [string, string, number][] =>
  list.flatMap((pair): [string, string, number][] => {
    const [a = '', b = ''] = pair.split('/');
    return [
      [a, b, cost],
      [b, a, cost],
    ];
  });

// The letters around are like none of the table, so that only the pair itself can be used.
test.each([...pairs(SIX, 6), ...pairs(SEVEN, 7)])('surnameCost: "%s" for "%s" is %d bits', (read, meant, cost) =>
  expect(bits(`P${read}p`, `P${meant}p`)).toBe(cost),
);

test.each([...pairs(SIX, 2), ...pairs(SEVEN, 2)].filter(([read]) => read !== ''))(
  'surnameCost: "%s", unsure, for "%s" is 2 bits',
  (read, meant, cost) => {
    const [first = '', ...rest] = read;
    expect(bits(`P_${first}${rest.join('')}p`, `P${meant}p`)).toBe(cost);
    expect(bits(`P${[first, ...rest].map((letter) => `_${letter}`).join('')}p`, `P${meant}p`)).toBe(cost);
  },
);

test.each<[rule: string, reading: string, name: string, cost: number]>([
  ['as read', 'Ferrand', 'Ferrand', 0],
  ['capitals and accents do not count', 'FERRAND', 'Férrand', 0],
  ['a lost letter', 'Ferr[.]nd', 'Ferrand', 0],
  ['a restored letter that the name has not', 'Ferr[o]nd', 'Ferrand', 0],
  ['a run', 'Fer[---]', 'Ferrand', 0],
  ['a run of no letters', 'Ferrand[---]', 'Ferrand', 0],
  ['a run at both ends', '[---]rr[---]', 'Ferrand', 0],
  ['one letter lost too many', 'Hol[..]', 'Holt', 12],
  ['a lost letter is no doubled one', 'Fer[r]and', 'Ferand', 12],
  ['a lost letter is no half of two', 'Bu[.]ne', 'Bume', 12],
  ['one letter lost too few', 'Ferr[.]d', 'Ferrand', 8],
  ['one of two readings', 'F_(a/e)rrand', 'Ferrand', 0],
  ['neither of two readings, one alike', 'F_(c/x)rrand', 'Ferrand', 2],
  ['an unsure letter like none', 'Fe_prand', 'Ferrand', 5],
  ['doubled', 'Ferrrand', 'Ferrand', 5],
  ['undoubled', 'Ferand', 'Ferrand', 5],
  ['missing', 'Frrand', 'Ferrand', 8],
  ['added', 'Fexrrand', 'Ferrand', 12],
  ['transposed', 'Frerand', 'Ferrand', 10],
  ['other', 'Fexrand', 'Ferrand', 11],
  ['a space', 'Ferrand Holt', 'Ferrandholt', 0.5],
  ['a hyphen for a space', 'Ferrand Holt', 'Ferrand-Holt', 0.5],
  ['an apostrophe', "O'Brien", 'OBrien', 0.5],
  ['Mc and Mac', 'McDonald', 'MacDonald', 0.5],
  ['M’ and Mac', 'M’Donald', 'MacDonald', 0.5],
  ['M‘ and Mc', 'M‘Donald', 'McDonald', 0.5],
  ['Mac apart', 'Mac Donald', 'McDonald', 0.5],
  ['Mc as read', 'McDonald', 'McDonald', 0],
  ['St and Saint', 'St. John', 'Saint John', 0.5],
  ['St joined', 'StJohn', 'St. John', 0.5],
  ['Saint joined', 'Saintjohn', 'St. John', 0.5],
  ['a particle joined', 'Delatour', 'de la Tour', 0.5],
  ['a particle apart', 'De La Tour', 'Delatour', 0.5],
  ['a particle otherwise', 'De Latour', 'de la Tour', 0.5],
  ['a particle left out', 'Tour', 'de la Tour', 0.5],
  ['a particle too many', 'von Holt', 'Holt', 0.5],
  ['another particle', 'von Holt', 'van Holt', 0.5],
  ['a damaged name behind another particle', 'van H[.]lt', 'von Holt', 0.5],
  ['Fitz apart', 'Fitz Gerald', 'Fitzgerald', 0.5],
  ['the first element', 'Ferrand', 'Ferrand-Holt', 3],
  ['the second element', 'Holt', 'Ferrand-Holt', 3],
  ['an element of a name that is not hyphened', 'Holt', 'Ferrand Holt', 3],
  ['an element misread', 'Holl', 'Ferrand-Holt', 9],
  ['an element with another particle', 'Delatour', 'Ferrand-de la Tour', 3.5],
  ['a run for the other element', 'Ferr[---]', 'Ferrand-Holt', 0],
  ['St. John is one element', 'John', 'St. John', 2 * 8 + 0.5],
  ['another alphabet', 'Жуков', 'Жуков', 0],
  ['another alphabet, doubled', 'Жукков', 'Жуков', 5],
  ['another alphabet, another letter', 'Жуфов', 'Жуков', 11],
])('surnameCost: %s', (_rule, reading, name, cost) => expect(bits(reading, name)).toBe(cost));

test('surnameCost: a compound reading of a plain name is no element', () =>
  expect(bits('Ferrand-Holt', 'Holt')).toBeGreaterThan(20));

test('surnameCost: beyond the limit it is Infinity, at the limit it is not', () => {
  expect(bits('Ferand', 'Ferrand', 5)).toBe(5);
  expect(bits('Ferand', 'Ferrand', 4.5)).toBe(Number.POSITIVE_INFINITY);
  expect(bits('Ferrand', 'Ferrand-Holt', 2.5)).toBe(Number.POSITIVE_INFINITY);
});

test('surnameCost: what an element costs is given', () => {
  const pattern = patternFrom('Holt');
  expect(surnameCost(pattern, 'Ferrand-Holt', { elementBits: 2.3 })).toBe(2.3);
});
