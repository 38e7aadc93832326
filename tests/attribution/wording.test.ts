import { describe, expect, test } from 'vitest';
import { DEFAULTS } from '../../src/assumptions.ts';
import { type Grade, gradeOf, gradeWords, wordingOf } from '../../src/attribution/wording.ts';

describe('what may be said', () => {
  test.each<[share: number, provisional: boolean, expected: Grade]>([
    [1, false, 'certain'],
    [0.95, false, 'certain'],
    [0.949, false, 'very'],
    [0.8, false, 'very'],
    [0.799, false, 'probably'],
    [0.6, false, 'probably'],
    [0.599, false, 'possibly'],
    [0.3, false, 'possibly'],
    [0.299, false, 'open'],
    [0, false, 'open'],
    [0.97, true, 'very'],
    [0.85, true, 'probably'],
    [0.65, true, 'possibly'],
    [0.35, true, 'open'],
    [0.1, true, 'open'],
  ])('a share of %d, provisional %s: %s', (share, provisional, expected) =>
    expect(gradeOf(share, provisional, DEFAULTS)).toBe(expected),
  );

  test('a limit changed in the ledger holds', () => {
    const strict = { values: { ...DEFAULTS.values, 'wording.certain': 0.99 } };
    expect(gradeOf(0.97, false, strict)).toBe('very');
  });

  test('a conclusion that hangs on a record keeps its grade and says so', () => {
    expect(wordingOf('very', [])).toBe(gradeWords('very'));
    expect(wordingOf('very', ['the Annual List of 1838'])).toBe(
      'very probably, on the strength of the Annual List of 1838 alone',
    );
    expect(wordingOf('possibly', ['e4', 'e9'])).toBe('possibly, on the strength of e4 alone, and of e9 alone');
    // Nothing is concluded, so that nothing hangs on it.
    expect(wordingOf('open', ['e4'])).toBe('cannot be ruled out');
  });
});
