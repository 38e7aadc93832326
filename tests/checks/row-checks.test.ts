import { expect, test } from 'vitest';
import { NO_CELLS, withBytes, withInteger } from '../../src/ledger/row-check.ts';

const hex = (check: number): string => (check >>> 0).toString(16).padStart(8, '0');

// Test vectors of FNV-1a with 32 bits: Fowler, Noll, Vo and Eastlake, draft-eastlake-fnv, and the longer series of its authors
// (test_fnv.c).
test.each([
  ['', '811c9dc5'],
  ['a', 'e40c292c'],
  ['f', 'e30c2799'],
  ['fo', '6222e842'],
  ['foo', 'a9f37ed7'],
  ['foob', '3f5076ef'],
  ['fooba', '39aaa18a'],
  ['foobar', 'bf9cf968'],
])('the check of "%s"', (text, expected) => expect(hex(withBytes(NO_CELLS, Buffer.from(text)))).toBe(expected));

test('an integer is its four octets, the least first', () =>
  expect(withInteger(NO_CELLS, -559_038_737)).toBe(withBytes(NO_CELLS, Buffer.of(0xef, 0xbe, 0xad, 0xde))));
