import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { ByteDictionary, grown } from '../../src/intake/byte-dictionary.ts';
import { FNV_PRIME, FNV_START } from '../../src/intake/csv-bytes.ts';

const fnv = (bytes: Buffer) => bytes.reduce((hash, byte) => Math.imul(hash ^ byte, FNV_PRIME), FNV_START);

/** Codes of texts that lie one behind the other in a buffer, as a reader hands them out. */
function codesOf(dictionary: ByteDictionary, texts: readonly string[], hashed: boolean): number[] {
  const parts = texts.map((text) => Buffer.from(text, 'utf8'));
  const buffer = Buffer.concat(parts);
  let at = 0;
  return parts.map((part, index) => {
    const start = at;
    at += part.length;
    return dictionary.code(buffer, start, at, hashed ? fnv(part) : 0, index + 2);
  });
}

/** What a plain map would say: the same texts have the same number, new ones the next, none where nothing is left. */
function numbered(texts: readonly string[]): number[] {
  const seen = new Map<string, number>();
  return texts.map((text) => {
    const bare = text.replaceAll(/^[ \t]+|[ \t]+$/g, '');
    if (bare === '') return -1;
    if (!seen.has(bare)) seen.set(bare, seen.size);
    return seen.get(bare) as number;
  });
}

const word = fc
  .array(fc.constantFrom('a', 'b', ' ', '\t', 'é', '😀', 'aaaa', '0'), { maxLength: 5 })
  .map((signs) => signs.join(''));

describe('codes are the numbers of a map', () => {
  test('for any texts, with and without their hashes', () =>
    fc.assert(
      fc.property(fc.array(word, { maxLength: 60 }), fc.boolean(), (texts, hashed) => {
        const dictionary = new ByteDictionary('name');
        const codes = codesOf(dictionary, texts, hashed);
        expect(codes).toEqual(numbered(texts));
        for (const [index, code] of codes.entries()) {
          if (code < 0) continue;
          expect(dictionary.values().text(code)).toBe(
            (texts[index] ?? '').replaceAll(/^[ \t]+|[ \t]+$/g, '').normalize('NFC'),
          );
          expect(dictionary.values().firstLine(code)).toBe(codes.indexOf(code) + 2);
        }
        expect(dictionary.size).toBe(new Set(codes.filter((code) => code >= 0)).size);
      }),
      { seed: 20_261_125, numRuns: 500 },
    ));

  test('a text has one number whether its hash is known or not', () => {
    const dictionary = new ByteDictionary('name');
    expect(codesOf(dictionary, ['Holt', 'Ferrand'], true)).toEqual([0, 1]);
    expect(codesOf(dictionary, ['Holt', 'Ferrand', 'Holt'], false)).toEqual([0, 1, 0]);
  });

  test('across many buffers, and as the tables grow', () => {
    const dictionary = new ByteDictionary('name');
    const texts = Array.from({ length: 60_000 }, (_, i) => `${i % 3 === 0 ? 'Ferrand' : 'Holt'} ${i % 29_989}`);
    const codes: number[] = [];
    for (let from = 0; from < texts.length; from += 700)
      codes.push(...codesOf(dictionary, texts.slice(from, from + 700), from % 1400 === 0));
    expect(codes).toEqual(numbered(texts));
    expect(codes.every((code, index) => dictionary.values().text(code) === texts[index])).toBe(true);
  });

  test('texts whose hashes are alike stay apart', () => {
    const dictionary = new ByteDictionary('name');
    const buffer = Buffer.from('abcd');
    const same = 77;
    expect([0, 1, 2, 3, 0, 3].map((at) => dictionary.code(buffer, at, at + 1, same, 1))).toEqual([0, 1, 2, 3, 0, 3]);
  });

  test('one text that begins another', () => {
    const dictionary = new ByteDictionary('name');
    expect(codesOf(dictionary, ['Ferr', 'Ferrand', 'Ferr', 'Ferrandy', 'Ferrand'], true)).toEqual([0, 1, 0, 2, 1]);
  });
});

test('texts are composed: a letter and its accent are one sign', () => {
  const dictionary = new ByteDictionary('name');
  codesOf(dictionary, ['Ne\u0301e'], true);
  expect(dictionary.values().text(0)).toBe('N\u00e9e');
});

describe('what is not UTF-8 is refused where it first stands', () => {
  test.each<[what: string, bytes: number[]]>([
    ['Latin-1', [0x52, 0x61, 0xef, 0x70, 0x68]],
    ['half a sign', [0x52, 0xc3]],
    ['an overlong sign', [0xc0, 0xaf]],
    ['a surrogate', [0xed, 0xa0, 0x80]],
  ])('%s', (_what, bytes) => {
    const dictionary = new ByteDictionary('name');
    const buffer = Buffer.from(bytes);
    dictionary.code(buffer, 0, buffer.length, 0, 41);
    expect(() => dictionary.values().text(0)).toThrow(
      expect.objectContaining({ code: 'INPUT_FILE', where: 'line 41, column name' }),
    );
  });

  test('a replacement sign that stands in the file is text like any other', () => {
    const dictionary = new ByteDictionary('name');
    codesOf(dictionary, ['Ra\ufffdph'], true);
    expect(dictionary.values().text(0)).toBe('Ra\ufffdph');
  });
});

test('a grown array keeps what it held', () => expect([...grown(Int32Array.of(1, 2, 3))]).toEqual([1, 2, 3, 0, 0, 0]));
