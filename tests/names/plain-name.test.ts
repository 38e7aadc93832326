import fc from 'fast-check';
import { expect, test } from 'vitest';
import { readName } from '../../src/names/name.ts';
import { plainName } from '../../src/names/plain-name.ts';

test.each<[text: string, surname: string | undefined, forenames: string | undefined]>([
  ['Julian P. Ferrand', 'Ferrand', 'Julian P.'],
  ['J. Ferrand', 'Ferrand', 'J.'],
  ['Sir T. Holt', undefined, undefined],
  ['Ferrand', undefined, undefined],
  ['J. de Ferrand', undefined, undefined],
  ['Ferrand, J.', undefined, undefined],
  ['J. FERRAND', undefined, undefined],
])('plainName: %s', (text, surname, forenames) => {
  const parts = plainName(text);
  expect([parts?.surname, parts?.forenames]).toEqual([surname, forenames]);
});

const word = fc.constantFrom(
  'Julian',
  'Ferrand',
  'Holt',
  'J.',
  'P.',
  'Earl',
  'Major',
  'Noble',
  'Esq',
  'Bart',
  'Van',
  'St',
  'Jun',
  'Younger',
  'Lord',
  'Ma',
  'Wm',
);

test('plainName: whatever it takes apart, readName takes apart alike', () =>
  fc.assert(
    fc.property(fc.array(word, { minLength: 1, maxLength: 4 }), (words) => {
      const text = words.join(' ');
      const parts = plainName(text);
      if (parts === undefined) return;
      const read = readName(text);
      expect(parts).toEqual({ surname: read.surname, forenames: read.forenames.join(' ') });
    }),
    { numRuns: 1000, seed: 41 },
  ));
