import { expect, test } from 'vitest';
import { buildSurnameIndex, longestKey, SURNAME_INDEX_VERSION } from '../../src/names/surname-index.ts';

const named = (...texts: string[]) => texts.map((text, id) => ({ id, text }));

test('buildSurnameIndex: the bytes of a small list, by hand', () => {
  const { forward } = buildSurnameIndex(named('Ab', 'Abc', 'B'));
  expect([...forward]).toEqual([
    ...[0x48, 0x42, 0x53, 0x4e, SURNAME_INDEX_VERSION, 0, 3, 0, 0, 0, 3, 0, 0, 0],
    ...[0, 2, 3, 6, 1, 2, 0], // "ab", of name 0; 6 bytes share its letters
    ...[2, 1, 2, 0, 3, 4], // "abc": one letter more, of name 1
    ...[0, 1, 2, 0, 2, 8], // "b", of name 2
  ]);
});

test('buildSurnameIndex: backward, the letters come in the other order', () => {
  const { backward } = buildSurnameIndex(named('Ab'));
  expect([...backward.subarray(14)]).toEqual([0, 2, 3, 0, 2, 1, 0]);
});

test('buildSurnameIndex: the order of the names given does not matter but for their numbers', () => {
  const names = named('Ferrand', 'Holt', 'Ferrand-Holt', 'McHolt', 'Fer');
  const again = buildSurnameIndex([...names].reverse());
  const index = buildSurnameIndex(names);
  expect(again.forward.length).toBe(index.forward.length);
  expect(longestKey(again.forward, 'forward')).toBe('ferrand-holt'.length);
});

test('longestKey: undefined for other bytes, another direction or another version', () => {
  const { forward } = buildSurnameIndex(named('Ferrand'));
  expect(longestKey(forward, 'forward')).toBe(7);
  expect(longestKey(forward, 'backward')).toBeUndefined();
  expect(longestKey(new Uint8Array(3), 'forward')).toBeUndefined();
  expect(longestKey(forward.with(0, 1), 'forward')).toBeUndefined();
  expect(longestKey(forward.with(4, SURNAME_INDEX_VERSION + 1), 'forward')).toBeUndefined();
});

test('longestKey: an index read from the midst of a buffer is the same', () => {
  const { forward } = buildSurnameIndex(named('Ferrand'));
  const buffer = new Uint8Array(forward.length + 5);
  buffer.set(forward, 5);
  expect(longestKey(buffer.subarray(5), 'forward')).toBe(7);
});
