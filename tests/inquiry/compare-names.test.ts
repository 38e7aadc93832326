import { describe, expect, test } from 'vitest';
import { DEFAULTS } from '../../src/assumptions.ts';
import { HeldbyError } from '../../src/errors.ts';
import { compareNames } from '../../src/inquiry/compare-names.ts';
import { patternFrom } from '../../src/names/pattern.ts';
import { surnameCost } from '../../src/names/surname-cost.ts';

const elementBits = DEFAULTS.values['agree.element'];

describe('compareNames', () => {
  test('a cataloguer sees why Ferr[..]d fits Farrand at seven bits', () => {
    const { bits, limit, within, steps } = compareNames('Ferr[..]d', 'Farrand', DEFAULTS);
    expect({ bits, limit, within }).toEqual({ bits: 7, limit: 15, within: true });
    expect(steps.map((step) => `${step.reading}/${step.name} ${step.bits}`)).toEqual([
      'f/f 0',
      'e/a 7',
      'r/r 0',
      'r/r 0',
      '[.]/a 0',
      '[.]/n 0',
      'd/d 0',
    ]);
  });

  test.each([
    ['Ferr[..]d', 'Ferrand-Holt'],
    ['M[---]n', 'MacArran'],
    ['de la Mornay', 'Delamornay'],
    ['Philips', 'Filips'],
    ['Fe_r_rand', 'Fenand'],
    ['Holt', 'Wrenn'],
    ['Müller', 'Mueller'],
  ])('the bits of the steps add up to those by which names are found: %s, %s', (read, name) => {
    const { bits, steps, within, limit } = compareNames(read, name, DEFAULTS);
    expect(steps.reduce((sum, step) => sum + step.bits, 0)).toBe(bits);
    expect(bits).toBe(surnameCost(patternFrom(read), name, { elementBits }));
    expect(within).toBe(bits <= limit);
  });

  test.each([
    ['H..t', 'Holt', /how much is lost/],
    ['Holt', 'Ho[..]t', /a reading too/],
    ['', 'Holt', /says nothing/],
    ['.', 'Holt', /no letters/],
  ])('refused: %s, %s', (read, name, message) => {
    expect(() => compareNames(read, name, DEFAULTS)).toThrow(HeldbyError);
    expect(() => compareNames(read, name, DEFAULTS)).toThrow(message);
  });
});
