import { expect, test } from 'vitest';
import { SENIOR, suffixNumbers } from '../../../src/careers/linkage/suffix.ts';

const { of, count } = suffixNumbers();

test.each([['sen.'], ['Senr'], ['Sr.'], ['the elder'], ['(1)']])('%s is the elder', (text) =>
  expect(of(text)).toBe(SENIOR),
);
test.each([['jun.'], ['Jr.'], ['the younger'], ['(2)'], ['II']])('%s is the younger', (text) =>
  expect(of(text)).toBe(2),
);
test('an empty one is none', () => expect(of(' . ')).toBe(0));
test('each other one is one of its own, whatever its signs', () => {
  expect(of('3rd')).toBeGreaterThan(2);
  expect(of('(3rd)')).toBe(of('3rd'));
  expect(of('4th')).not.toBe(of('3rd'));
  expect(count()).toBe(5);
});
