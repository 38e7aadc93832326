import { expect, test } from 'vitest';
import { housePattern } from '../../src/dating/house-pattern.ts';

test.each<[pattern: string, text: string, found: boolean]>([
  ['Harbour Trust*', 'harbour trustees', true],
  ['Harbour Trust', 'harbour trustees', false],
  ['H. T.', 'H. T. Oakhaven', true],
  ['H. T.', 'HxTx', false],
  ['Éire', 'EIRE éire', true],
  ['(Ltd)', 'Voss (Ltd) & Son', true],
  ['*', 'anything', false],
])('%s in %s', (pattern, text, found) => {
  if (pattern === '*') expect(() => housePattern(pattern)).toThrow(/no wording/);
  else expect(housePattern(pattern).test(text)).toBe(found);
});

test('a pattern cannot be made to go on for ever', () => {
  const pattern = housePattern('a* a* a* a* a* a*');
  const begun = process.hrtime.bigint();
  pattern.test(`${'a'.repeat(30)} `.repeat(60));
  expect(Number(process.hrtime.bigint() - begun) / 1e6).toBeLessThan(1000);
});
