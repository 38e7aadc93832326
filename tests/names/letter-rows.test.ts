import fc from 'fast-check';
import { expect, test } from 'vitest';
import { compile } from '../../src/names/compiled-pattern.ts';
import { letterCost } from '../../src/names/letter-rows.ts';
import type { Pattern, Unit } from '../../src/names/pattern.ts';
import { exhaustiveLetterBits } from './exhaustive-cost.ts';

const letters = [...'rnmpfieyckgh'];
const letter = fc.constantFrom(...letters);
const unit: fc.Arbitrary<Unit> = fc.oneof(
  { weight: 12, arbitrary: letter.map((char): Unit => ({ kind: 'letter', letter: char, dotted: false })) },
  { weight: 3, arbitrary: letter.map((char): Unit => ({ kind: 'letter', letter: char, dotted: true })) },
  {
    weight: 1,
    arbitrary: fc
      .tuple(letter, letter)
      .map(([char, other]): Unit => ({ kind: 'letter', letter: char, dotted: true, also: [other] })),
  },
  { weight: 3, arbitrary: fc.constant<Unit>({ kind: 'lost' }) },
);
const plain: fc.Arbitrary<Pattern> = fc.array(unit, { maxLength: 6 });
const folded = fc.array(letter, { maxLength: 6 }).map((chars) => chars.join(''));

const bits = (pattern: Pattern, name: string): number => letterCost(compile(pattern), name, 8000) / 2;

test('letter cost: as the exhaustive search says, for 3,000 pairs of readings and names', () =>
  fc.assert(
    fc.property(plain, folded, (pattern, name) => {
      expect(bits(pattern, name)).toBe(exhaustiveLetterBits(pattern, name));
    }),
    { numRuns: 3000, seed: 1 },
  ));

const withRun = fc
  .tuple(fc.array(unit, { maxLength: 3 }), fc.array(unit, { maxLength: 3 }))
  .map(([before, after]): Pattern => [...before, { kind: 'run' }, ...after]);

test('letter cost: as the exhaustive search says, for 1,000 readings with a run', () =>
  fc.assert(
    fc.property(withRun, folded, (pattern, name) => {
      expect(bits(pattern, name)).toBe(exhaustiveLetterBits(pattern, name));
    }),
    { numRuns: 1000, seed: 2 },
  ));

const separator = fc.constantFrom(' ' as const, '-' as const, "'" as const);
const parted = fc
  .tuple(fc.array(unit, { minLength: 1, maxLength: 3 }), separator, fc.array(unit, { minLength: 1, maxLength: 3 }))
  .map(([before, sign, after]): Pattern => [...before, { kind: 'separator', sign }, ...after]);
const partedName = fc
  .tuple(folded, fc.option(separator), folded)
  .map(([a, sign, b]) => (a !== '' && b !== '' && sign !== null ? a + sign + b : a + b));

test('letter cost: as the exhaustive search says, for 1,000 names with separators', () =>
  fc.assert(
    fc.property(parted, partedName, (pattern, name) => {
      expect(bits(pattern, name)).toBe(exhaustiveLetterBits(pattern, name));
    }),
    { numRuns: 1000, seed: 3 },
  ));

test('letter cost: the same from the last letter back as from the first on', () =>
  fc.assert(
    fc.property(fc.oneof(plain, withRun, parted), partedName, (pattern, name) => {
      const backward = [...name].reverse().join('');
      expect(letterCost(compile(pattern, 'backward'), backward, 8000) / 2).toBe(bits(pattern, name));
    }),
    { numRuns: 3000, seed: 4 },
  ));

test('letter cost: a lost letter costs nothing for the letter that stood there', () =>
  fc.assert(
    fc.property(folded, fc.nat(5), (name, at) => {
      const pattern = [...name].map(
        (char, index): Unit => (index === at ? { kind: 'lost' } : { kind: 'letter', letter: char, dotted: false }),
      );
      expect(bits(pattern, name)).toBe(0);
    }),
    { numRuns: 500, seed: 5 },
  ));

test('letter cost: a limit changes nothing below it and hides what is beyond it', () =>
  fc.assert(
    fc.property(fc.oneof(plain, withRun), folded, fc.nat(60), (pattern, name, limit) => {
      const full = letterCost(compile(pattern), name, 8000);
      const cut = letterCost(compile(pattern), name, limit);
      if (full <= limit) expect(cut).toBe(full);
      else expect(cut).toBeGreaterThan(limit);
    }),
    { numRuns: 3000, seed: 6 },
  ));
