import { expect, test } from 'vitest';
import { elementsOf, isParticle, nameForms, respeltPatterns, startsSurname } from '../../src/names/name-forms.ts';
import { patternFrom, printPattern } from '../../src/names/pattern.ts';

test.each<[folded: string, forms: string[]]>([
  ['ferrand', ['whole: ferrand']],
  ['stone', ['whole: stone']],
  ['macdonald', ['whole: macdonald']],
  ['mcdonald', ['whole: mcdonald', 'respelt: macdonald']],
  ["m'donald", ["whole: m'donald", 'respelt: macdonald']],
  ['mac donald', ['whole: mac donald', 'respelt: macdonald']],
  ['st john', ['whole: st john', 'respelt: stjohn']],
  ['saint john', ['whole: saint john', 'respelt: stjohn']],
  ['saintjohn', ['whole: saintjohn', 'respelt: stjohn']],
  ['de la tour', ['whole: de la tour', 'respelt: delatour', 'respelt: tour']],
  [
    'de st croix',
    ['whole: de st croix', 'respelt: dest croix', 'respelt: st croix', 'respelt: de stcroix', 'respelt: stcroix'],
  ],
  ['ferrand-holt', ['whole: ferrand-holt', 'element: ferrand', 'element: holt']],
  [
    'ferrand-mcholt',
    [
      'whole: ferrand-mcholt',
      'respelt: ferrand-macholt',
      'element: ferrand',
      'element: mcholt',
      'respelt element: macholt',
    ],
  ],
  ["o'brien", ["whole: o'brien"]],
  ['de', ['whole: de']],
  ['', ['whole: ']],
])('nameForms: %s', (folded, forms) =>
  expect(nameForms(folded).map(({ kind, text }) => `${kind}: ${text}`)).toEqual(forms),
);

test.each<[reading: string, respelt: string[]]>([
  ['Ferr[..]d', []],
  ['McDon[---]', ['macdon[---]']],
  ['_McD', ['_macd']],
  ['[.]c Donald', []],
  ['de la T[..]r', ['delat[..]r', 't[..]r']],
  ['Saint J[.]hn', ['stj[.]hn']],
])('respeltPatterns: %s', (reading, respelt) =>
  expect(respeltPatterns(patternFrom(reading)).map(printPattern)).toEqual(respelt),
);

test.each<[folded: string, elements: string[]]>([
  ['ferrand', ['ferrand']],
  ['ferrand-holt', ['ferrand', 'holt']],
  ['ferrand holt smith', ['ferrand', 'holt', 'smith']],
  ['st john', ['st john']],
  ['van der berg', ['van der berg']],
  ['ferrand-de la tour', ['ferrand', 'de la tour']],
  ["o'brien", ["o'brien"]],
  ['holt de', ['holt', 'de']],
])('elementsOf: %s', (folded, elements) => expect(elementsOf(folded)).toEqual(elements));

test('isParticle and startsSurname: a lone letter is an initial', () => {
  expect(['de', 'van', 'ferrand', 'mc'].map(isParticle)).toEqual([true, true, false, false]);
  expect(['de', 'mc', 'st', 'o', 'm', 'ferrand'].map(startsSurname)).toEqual([true, true, true, false, false, false]);
});
