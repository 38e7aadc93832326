import { describe, expect, test } from 'vitest';
import { foldedText, tokensOf } from '../../src/time/tokens.ts';

const texts = (source: string): string[] => tokensOf(source).map((token) => token.text);

describe('tokens', () => {
  test.each<[rule: string, source: string, tokens: readonly string[]]>([
    ['words, numbers and signs', '16 May, 1834', ['16', 'may', ',', '1834']],
    ['a dot after a word belongs to it', '8 Feb. 1839', ['8', 'feb', '1839']],
    ['a dot after a number does not', '16. Mai', ['16', '.', 'mai']],
    ['initials are one word', '16 May 1700 O.S.', ['16', 'may', '1700', 'os']],
    ['initials with spaces', '1700 N. S.', ['1700', 'ns']],
    ['every dash is a hyphen', '1834–36 — −', ['1834', '-', '36', '-', '-']],
    ['two hyphens are one', '1834--36', ['1834', '-', '36']],
    ['accents are dropped', 'août Jänner', ['aout', 'janner']],
    ['superscripts come down', '16ᵗʰ Sept^r', ['16', 'th', 'septr']],
    ['long s', 'Auguſt', ['august']],
    ['fractions', '170⁸⁄₉', ['1708', '/', '9']],
  ])('%s: %s', (_rule, source, tokens) => expect(texts(source)).toEqual(tokens));

  test('places are those of the text as given', () => {
    const source = '16ᵗʰ  Jänner 1834';
    for (const { text, at, end } of tokensOf(source)) expect(foldedText(source.slice(at, end))).toBe(text);
  });
  test('glued tells an ending from a word', () => {
    expect(tokensOf('16th May').map((token) => token.glued)).toEqual([false, true, false]);
  });
});
