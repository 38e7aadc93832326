import { expect, test } from 'vitest';
import { HeldbyError } from '../../src/errors.ts';
import { type CorpsTitle, corpsResolver } from '../../src/services/corps.ts';
import { gregorianDay } from '../../src/time/calendar.ts';
import { NO_END, NO_START, type Span } from '../../src/time/span.ts';

const years = (from: number | undefined, until: number | undefined): Span => ({
  from: from === undefined ? NO_START : gregorianDay(from, 1, 1),
  until: until === undefined ? NO_END : gregorianDay(until, 1, 1),
});
const during = (year: number): Span => years(year, year + 1);

/** The 5th became the 4th in 1816, and a new 5th was raised. */
const renumbered: CorpsTitle[] = [
  { name: '4th Fencibles', sameAs: '5th Fencibles', used: years(1816, undefined) },
  { name: '5th Fencibles', used: years(undefined, 1816), key: 'old-fifth' },
  { name: '5th (New) Fencibles', key: 'new-fifth' },
  { name: '5th Fencibles', sameAs: 'new-fifth', used: years(1816, undefined) },
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
    { name: '5th Fencibles', key: 'a', used: years(1790, 1800) },
    { name: '5th Fencibles', key: 'b', used: years(1830, 1840) },
  ]);
  expect(resolve('5th Fencibles', during(1805)).key).toBe('a');
  expect(resolve('5th Fencibles', during(1825)).key).toBe('b');
});

test('corps of one spelling that are not the same get different keys', () => {
  const resolve = corpsResolver([
    { name: '5th Fencibles', used: years(1790, 1800) },
    { name: '5th Fencibles', used: years(1830, 1840) },
  ]);
  expect(resolve('5th Fencibles', during(1795)).key).toBe('5 fencibles');
  expect(resolve('5th Fencibles', during(1835)).key).toBe('5 fencibles #2');
});

test('the key of a corps is that of its earliest title, however the titles were recorded', () => {
  const titles: CorpsTitle[] = [
    { name: 'Oak Rifles', sameAs: 'Elm Rifles', used: years(1850, 1860) },
    { name: 'Elm Rifles', sameAs: 'Ash Rifles', used: years(1840, 1850) },
    { name: 'Ash Rifles', sameAs: 'Oak Rifles', used: years(1830, 1840) }, // a circle does no harm
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
