import { expect, test } from 'vitest';
import { compareTexts, countValues, Numbered, once } from '../../../src/careers/linkage/numbered.ts';

test('texts have the number of their first use', () => {
  const numbered = new Numbered();
  expect(['b', 'a', 'b'].map((text) => numbered.of(text))).toEqual([0, 1, 0]);
  expect(numbered.texts).toEqual(['b', 'a']);
});

test('each wording is reckoned once', () => {
  let times = 0;
  const length = once((text) => {
    times++;
    return text.length;
  });
  expect(['abc', 'de', 'abc'].map(length)).toEqual([3, 2, 3]);
  expect(times).toBe(2);
});

test('values are counted, nothing is not', () =>
  expect([...countValues(Int32Array.from([1, -1, 1, 0]), 3)]).toEqual([1, 2, 0]));

test('texts stand by their code units', () => expect(['b', 'B', 'a'].sort(compareTexts)).toEqual(['B', 'a', 'b']));
