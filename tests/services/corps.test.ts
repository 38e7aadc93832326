import { expect, test } from 'vitest';
import { HeldbyError } from '../../src/errors.ts';
import { type CorpsTitle, corpsNamer, corpsResolver } from '../../src/services/corps.ts';
import { gregorianDay } from '../../src/time/calendar.ts';
import type { Span } from '../../src/time/span.ts';

const years = (from: number, until: number): Span => ({
  from: gregorianDay(from, 1, 1),
  until: gregorianDay(until, 1, 1),
});
const during = (year: number): Span => years(year, year + 1);

/** The 5th became the 4th in 1816, and a new 5th was raised. */
const renumbered: CorpsTitle[] = [
  { name: '4th Fencibles', sameAs: '5th Fencibles', from: years(1816, 1817) },
  { name: '5th Fencibles', to: years(1815, 1816), key: 'old-fifth' },
  { name: '5th (New) Fencibles', key: 'new-fifth' },
  { name: '5th Fencibles', sameAs: 'new-fifth', from: years(1816, 1817) },
];

test.each([
  ['the first title', '5th Fencibles', during(1800), { key: 'old-fifth', name: '5th Fencibles' }],
  ['its later title is the same corps', 'IV. Fenc.', during(1820), { key: 'old-fifth', name: '4th Fencibles' }],
  [
    'the same words later are another corps',
    '5th Fencibles',
    during(1820),
    { key: 'new-fifth', name: '5th Fencibles' },
  ],
  [
    'days across the change: the title borne longer',
    '5th Fencibles',
    years(1810, 1818),
    { key: 'old-fifth', name: '5th Fencibles' },
  ],
  ['without days the earliest', '5th Fencibles', undefined, { key: 'old-fifth', name: '5th Fencibles' }],
  [
    'a title before its time is still that title',
    '4th Fencibles',
    during(1800),
    { key: 'old-fifth', name: '4th Fencibles' },
  ],
  ['what is not recorded goes by its spelling', ' 6th Fenc. ', during(1800), { key: '6 fencibles', name: '6th Fenc.' }],
])('corpsResolver: %s', (_rule, text, when, expected) =>
  expect(corpsResolver(renumbered)(text, when)).toEqual(expected),
);

test('between two spells of a title the nearer counts', () => {
  const resolve = corpsResolver([
    { name: '5th Fencibles', key: 'a', from: years(1790, 1791), to: years(1799, 1800) },
    { name: '5th Fencibles', key: 'b', from: years(1830, 1831), to: years(1839, 1840) },
  ]);
  expect(resolve('5th Fencibles', during(1805)).key).toBe('a');
  expect(resolve('5th Fencibles', during(1825)).key).toBe('b');
});

test('corps of one spelling that are not the same get different keys', () => {
  const resolve = corpsResolver([
    { name: '5th Fencibles', from: years(1790, 1791), to: years(1799, 1800) },
    { name: '5th Fencibles', from: years(1830, 1831), to: years(1839, 1840) },
  ]);
  expect(resolve('5th Fencibles', during(1795)).key).toBe('5 fencibles');
  expect(resolve('5th Fencibles', during(1835)).key).toBe('5 fencibles #2');
});

test('the key of a corps is that of its earliest title, however the titles were recorded', () => {
  const titles: CorpsTitle[] = [
    { name: 'Oak Rifles', sameAs: 'Elm Rifles', from: years(1850, 1851), to: years(1859, 1860) },
    { name: 'Elm Rifles', sameAs: 'Ash Rifles', from: years(1840, 1841), to: years(1849, 1850) },
    { name: 'Ash Rifles', sameAs: 'Oak Rifles', from: years(1830, 1831), to: years(1839, 1840) }, // a circle does no harm
  ];
  for (const order of [titles, titles.toReversed()]) {
    const resolve = corpsResolver(order);
    for (const { name } of titles) expect(resolve(name).key).toBe('ash rifles');
  }
});

test('no titles: spelling alone', () =>
  expect(corpsResolver([])('2nd Fenc.')).toEqual({ key: '2 fencibles', name: '2nd Fenc.' }));

test('a title that is not recorded is refused', () =>
  expect(() => corpsResolver([{ name: '4th Fencibles', sameAs: '9th Fencibles' }])).toThrow(HeldbyError));

test.each([
  ['a title that two corps have borne', '5th Fencibles', ['old-fifth', 'new-fifth', '5 fencibles']],
  ['the later title of one', '4th Fenc.', ['old-fifth', '4 fencibles']],
  ['a number alone', '4th Regt.', ['old-fifth', '4']],
  ['what is not recorded', '6th Fencibles', ['6 fencibles']],
])('corpsNamer: %s', (_rule, text, expected) => expect(corpsNamer(renumbered)(text)).toEqual(expected));
