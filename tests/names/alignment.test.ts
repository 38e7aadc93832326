import fc from 'fast-check';
import { expect, test } from 'vitest';
import { alignment } from '../../src/names/alignment.ts';
import { patternFrom } from '../../src/names/pattern.ts';
import { surnameCost } from '../../src/names/surname-cost.ts';

const options = { elementBits: 3 };
const shown = (reading: string, name: string): string[] =>
  (alignment(patternFrom(reading), name, options)?.steps ?? []).map(
    ({ reading: read, name: meant, bits }) => `${read}:${meant}${bits === 0 ? '' : ` ${bits}`}`,
  );

test.each<[reading: string, name: string, steps: string]>([
  ['Ferr[..]d', 'Ferrand', 'f:f e:e r:r r:r [.]:a [.]:n d:d'],
  ['Fer[---]', 'Ferrand', 'f:f e:e r:r [---]:rand'],
  ['[---]', 'Holt', '[---]:holt'],
  ['Ferand', 'Ferrand', 'f:f e:e r:rr 5 a:a n:n d:d'],
  ['Ferrrand', 'Ferrand', 'f:f e:e rr:r 5 r:r a:a n:n d:d'],
  ['Burne', 'Bume', 'b:b u:u rn:m 6 e:e'],
  ['Bume', 'Burne', 'b:b u:u m:rn 6 e:e'],
  ['Ferrond', 'Ferrand', 'f:f e:e r:r r:r o:a 7 n:n d:d'],
  ['Ferr_ond', 'Ferrand', 'f:f e:e r:r r:r _o:a 2 n:n d:d'],
  ['Frerand', 'Ferrand', 'f:f re:er 10 r:r a:a n:n d:d'],
  ['Hol', 'Holt', 'h:h o:o l:l :t 8'],
  ['Holts', 'Holt', 'h:h o:o l:l t:t s: 12'],
  ['Wriht', 'Wright', 'w:w r:r i:i :g 8 h:h t:t'],
  ['Writ', 'Wright', 'w:w r:r i:i :gh 7 t:t'],
  ['Wright', 'Writ', 'w:w r:r i:i gh: 7 t:t'],
  ['Ferrand', 'Ferrand-Holt', 'ferrand:Ferrand-Holt 3 f:f e:e r:r r:r a:a n:n d:d'],
  ['McHolt', 'MacHolt', 'mcholt:MacHolt 0.5 m:m a:a c:c h:h o:o l:l t:t'],
])('alignment: %s for %s', (reading, name, steps) => expect(shown(reading, name).join(' ')).toBe(steps));

test('alignment: each step says why', () => {
  const steps = alignment(patternFrom('F_(e/o)r[.]ond'), 'Ferrand-Holt', options)?.steps ?? [];
  expect(steps.map(({ reason }) => reason)).toEqual([
    'only one element of a compound name',
    'as read',
    'as read',
    'as read',
    'a lost letter',
    'an open a, a closed o',
    'as read',
    'as read',
  ]);
});

test('alignment: there is none beyond the limit', () =>
  expect(alignment(patternFrom('Ferrand'), 'Holt', { elementBits: 3, limitBits: 20 })).toBeUndefined());

const piece = fc.constantFrom('a', 'e', 'r', 'n', 'm', 'c', 'k', 'g', 'h', 'l', '_r', '_m', '[.]', '[---]', '-', ' ');
const letter = fc.constantFrom('a', 'e', 'r', 'n', 'm', 'c', 'k', 'g', 'h', 'l', 'd', '-', ' ');

test('alignment: the bits of the steps add up to the cost, and their letters to reading and name', () =>
  fc.assert(
    fc.property(fc.array(piece, { maxLength: 8 }), fc.array(letter, { maxLength: 8 }), (pieces, letters) => {
      const reading = patternFrom(`r${pieces.join('')}`);
      const name = `m${letters.join('')}`;
      const found = alignment(reading, name, options);
      const bits = found?.steps.reduce((sum, step) => sum + step.bits, 0);
      expect(bits).toBeCloseTo(surnameCost(reading, name, options), 9);
      expect(found?.bits).toBe(surnameCost(reading, name, options));
    }),
    { numRuns: 2000, seed: 21 },
  ));
