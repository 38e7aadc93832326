import { expect, test } from 'vitest';
import { Cursor } from '../../src/time/cursor.ts';
import { tokensOf } from '../../src/time/tokens.ts';

const cursorAt = (source: string): Cursor => new Cursor(source, tokensOf(source));

test('a reader that finds nothing puts the cursor back, and what it wanted is remembered', () => {
  const cursor = cursorAt('before the flood');
  const found = cursor.attempt(() => (cursor.word('before') && cursor.word('the') ? cursor.number() : undefined));
  expect(found).toBeUndefined();
  expect(cursor.peek()?.text).toBe('before');
  expect(cursor.furthest?.text).toBe('flood');
});

test('words are taken all or not at all', () => {
  const cursor = cursorAt('not later than');
  expect(cursor.words(['not', 'earlier'])).toBe(false);
  expect(cursor.words(['not', 'later', 'than'])).toBe(true);
  expect(cursor.done).toBe(true);
});

test('the longest known run of words is taken, hyphens left out', () => {
  const cursor = cursorAt('St. John-Baptist day');
  const known = ['st john', 'st john baptist'];
  expect(cursor.longest((words) => known.includes(words), 5)).toBe('st john baptist');
  expect(cursor.peek()?.text).toBe('day');
});
