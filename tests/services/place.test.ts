import { expect, test } from 'vitest';
import { placeKey, samePlace } from '../../src/services/place.ts';

test.each([
  ['case and accents', 'OAKHÁVEN', 'oakhaven'],
  ['hyphens and points', 'Stow-on-Fen.', 'stow on fen'],
  ['the possessive', "King's Oak", 'kings oak'],
  ['Saint', 'Saint Osmund', 'st osmund'],
  ['St.', 'St. Osmund', 'st osmund'],
  ['nothing', ' ', ''],
])('placeKey: %s', (_rule, text, expected) => expect(placeKey(text)).toBe(expected));

test.each([
  ['spellings', 'St. Osmund', 'SAINT OSMUND', true],
  ['where it lies, after a comma', 'Oakhaven', 'Oakhaven, Fenshire', true],
  ['where it lies, in brackets', 'Oakhaven (Fenshire)', 'oakhaven', true],
  ['the same name elsewhere', 'Oakhaven, Fenshire', 'Oakhaven, Elmshire', false],
  ['others', 'Oakhaven', 'Elmhaven', false],
  ['nothing is no place', '', '', false],
])('samePlace: %s', (_rule, a, b, expected) =>
  expect([samePlace(a, b), samePlace(b, a)]).toEqual([expected, expected]),
);
