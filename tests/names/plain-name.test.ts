import fc from 'fast-check';
import { expect, test } from 'vitest';
import { readName } from '../../src/names/name.ts';
import words from '../../src/names/name-words.json' with { type: 'json' };
import particles from '../../src/names/particles.json' with { type: 'json' };
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

/** Every word that is something else than a name in some place, written as a name is. */
const special = [
  ...words.titles,
  ...words.peerage,
  ...words.honours,
  ...words.suffixes,
  ...particles.particles,
  ...particles.prefixes,
]
  .map((each) => each.charAt(0).toUpperCase() + each.slice(1))
  .filter((each) => /^[A-Z][a-z]*$/.test(each));

const anyWord = fc.oneof(
  { arbitrary: fc.stringMatching(/^[A-Z][a-z]{1,6}$/), weight: 4 },
  { arbitrary: fc.stringMatching(/^[A-Z]\.$/), weight: 3 },
  { arbitrary: fc.constantFrom('Julian', 'Wm', 'Thos', 'Fitz', 'Mac', 'Saint', 'Ferrand', 'Holt'), weight: 3 },
  { arbitrary: fc.constantFrom(...special), weight: 1 },
);

test('plainName: in thousands of names nothing differs, nor is a title or a suffix passed over', () => {
  let apart = 0;
  fc.assert(
    fc.property(fc.array(anyWord, { minLength: 2, maxLength: 4 }), (given) => {
      const text = given.join(' ');
      const parts = plainName(text);
      if (parts === undefined) return;
      apart += 1;
      const { surname, forenames, titles, suffix } = readName(text);
      expect({ ...parts, titles: [], suffix: undefined }).toEqual({
        surname,
        forenames: forenames.join(' '),
        titles,
        suffix,
      });
    }),
    { numRuns: 12_000, seed: 43 },
  );
  expect(apart).toBeGreaterThan(3000);
});
