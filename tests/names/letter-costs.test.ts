import { expect, test } from 'vitest';
import data from '../../src/names/letter-costs.json' with { type: 'json' };
import { CLASSES, charOf, codeOf, isSeparator, letterCosts } from '../../src/names/letter-costs.ts';

test('letter costs: every cost is a whole number of half bits that fits the tables', () => {
  const costs = [...Object.values(data.steps), ...data.pairs].map(({ bits }) => bits * 2);
  for (const halfBits of costs) expect(Number.isInteger(halfBits) && halfBits > 0 && halfBits < 255).toBe(true);
});

test('letter costs: 31 pairs, none twice', () => {
  const keys = data.pairs.map(({ letters }) => [...letters].sort().join('/'));
  expect(keys).toHaveLength(31);
  expect(new Set(keys).size).toBe(31);
});

test('letter costs: backward, two letters come in the other order', () => {
  const [forward, backward] = [letterCosts('forward'), letterCosts('backward')];
  const shown = (costs: typeof forward) => costs.digraphs.map(({ first, second }) => charOf(first) + charOf(second));
  expect(shown(forward)).toEqual(['rn', 'ph', 'ie', 'ck', 'ks', 'cl', 'vv', 'ey', 'gh']);
  expect(shown(backward)).toEqual(['nr', 'hp', 'ei', 'kc', 'sk', 'lc', 'vv', 'ye', 'hg']);
  expect(backward.pair).toEqual(forward.pair);
  expect(backward.digraphAt[codeOf('h') * CLASSES + codeOf('g')]).toBe(backward.digraphs.indexOf(backward.silent) + 1);
});

test('codes: every letter has one of its own, and only separators are separators', () => {
  const chars = [..."abcxyz -'0189éжω"];
  expect(new Set(chars.map(codeOf)).size).toBe(chars.length);
  expect(chars.map((char) => charOf(codeOf(char)))).toEqual(chars);
  expect(chars.filter((char) => isSeparator(codeOf(char)))).toEqual([' ', '-', "'"]);
});
