import { expect, test } from 'vitest';
import { compile, NEVER } from '../../src/names/compiled-pattern.ts';
import { CLASSES, codeOf } from '../../src/names/letter-costs.ts';
import { patternFrom } from '../../src/names/pattern.ts';

const at = (table: Uint8Array, unit: number, letter: string): number | undefined =>
  table[unit * CLASSES + codeOf(letter)];

test('compile: a unit against each letter, in half bits', () => {
  const { one } = compile(patternFrom("_n[.]'"));
  expect(['n', 'u', 'x'].map((letter) => at(one, 0, letter))).toEqual([0, 4, 10]);
  expect(['n', 'u', 'x'].map((letter) => at(one, 1, letter))).toEqual([0, 0, 0]);
  expect(at(one, 0, '-')).toBe(NEVER);
});

test('compile: two letters of the reading for one, or for none', () => {
  const { twoForOne, addedTwo, pairs } = compile(patternFrom('rn_ghh[.]h'));
  expect(at(twoForOne, 0, 'm')).toBe(12);
  expect(addedTwo[2]).toBe(4);
  expect(at(twoForOne, 3, 'h')).toBe(10);
  expect([...pairs]).toEqual([1, 1, 1, 1, 0, 0, 0]);
});

test('compile: a lost letter and a run are no half of two letters', () => {
  const { twoForOne, addedTwo } = compile(patternFrom('g[.]h[---]h'));
  expect(new Set([...twoForOne, ...addedTwo])).toEqual(new Set([NEVER]));
});

test('compile: backward, the units come in the other order', () => {
  const pattern = patternFrom('rn');
  expect(at(compile(pattern, 'forward').twoForOne, 0, 'm')).toBe(12);
  expect(at(compile(pattern, 'backward').twoForOne, 0, 'm')).toBe(12);
  expect(compile(pattern, 'backward').units).toEqual([...pattern].reverse());
  expect(compile(pattern)).toBe(compile(pattern));
});
