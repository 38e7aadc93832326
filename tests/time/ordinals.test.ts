import { expect, test } from 'vitest';
import { Cursor } from '../../src/time/cursor.ts';
import { ordinal, readOrdinal } from '../../src/time/ordinals.ts';
import { tokensOf } from '../../src/time/tokens.ts';

test.each<[text: string, count: number | undefined]>([
  ['9', 9],
  ['9th', 9],
  ['2d', 2],
  ['1er', 1],
  ['IX', 9],
  ['XIXth', 19],
  ['ninth', 9],
  ['twentieth', 20],
  ['twenty-first', 21],
  ['thirtieth', 30],
  ['thirty first', 31],
  ['May', undefined],
  ['1834', undefined],
])('%s', (text, count) => expect(readOrdinal(new Cursor(text, tokensOf(text)))).toBe(count));

test.each<[count: number, text: string]>([
  [1, '1st'],
  [2, '2nd'],
  [3, '3rd'],
  [4, '4th'],
  [11, '11th'],
  [12, '12th'],
  [13, '13th'],
  [21, '21st'],
  [112, '112th'],
])('%i is written %s', (count, text) => expect(ordinal(count)).toBe(text));
