import { expect, test } from 'vitest';
import { askWhetherOne } from '../../src/cli/ask-whether-one.ts';

test.each<[typed: string[], said: string, complaints: number]>([
  [['y'], 'one', 0],
  [['YES '], 'one', 0],
  [['no'], 'two', 0],
  [['s'], 'skip', 0],
  [[''], 'skip', 0],
  [['q'], 'end', 0],
  [['?', 'constructor', 'n'], 'two', 2],
  [[], 'end', 0],
])('%j', async (typed, said, complaints) => {
  const told: string[] = [];
  const lines = [...typed];
  const answer = await askWhetherOne(async () => lines.shift(), false, { out: (text) => told.push(text) });
  expect([answer, told.length]).toEqual([said, complaints]);
});
