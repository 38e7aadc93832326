import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { decoded, type Encoding, encodingNamed, guessEncoding, likelyInWords } from '../../src/intake/encodings.ts';

const LIST = 'name,rank\nZoë Holt,Captain\nJérôme Quill,Lieut.\n';
const utf16 = (text: string, big = false): Buffer => {
  const bytes = Buffer.from(text, 'utf16le');
  return big ? bytes.swap16() : bytes;
};

describe('guess', () => {
  test.each<[what: string, bytes: Buffer, encoding: Encoding]>([
    ['UTF-8', Buffer.from(LIST), 'utf-8'],
    ['plain letters', Buffer.from('name\nHolt\n'), 'utf-8'],
    ['UTF-16 with its mark', utf16(`\ufeff${LIST}`), 'utf-16le'],
    ['UTF-16 without', utf16(LIST), 'utf-16le'],
    ['UTF-16 the other way round', utf16(`\ufeff${LIST}`, true), 'utf-16be'],
    ['the other way round without its mark', utf16(LIST, true), 'utf-16be'],
    ['one byte a letter', Buffer.from(LIST, 'latin1'), 'windows-1252'],
  ])('%s', (_what, bytes, encoding) => expect(guessEncoding(bytes)).toBe(encoding));
  test('what is guessed can be read again as it was', () =>
    fc.assert(
      fc.property(fc.array(fc.constantFrom(...'abc ëéöñ,;1834'), { minLength: 20, maxLength: 80 }), (letters) => {
        const text = letters.join('');
        for (const bytes of [Buffer.from(text), utf16(`\ufeff${text}`), Buffer.from(text, 'latin1')])
          expect(decoded(bytes, guessEncoding(bytes))).toBe(text);
      }),
      { numRuns: 200, seed: 8859 },
    ));
});

describe('read', () => {
  test('Windows-1252 has quotation marks and a dash where Latin-1 has nothing', () => {
    const bytes = Buffer.from([0x93, 0x4a, 0x94, 0x20, 0x97]);
    expect(decoded(bytes, 'windows-1252')).toBe('“J” —');
    expect(decoded(bytes, 'latin1')).toBe('\u0093J\u0094 \u0097');
  });
  test('what is not so written is refused, with the line', () => {
    expect(() => decoded(Buffer.from(LIST, 'latin1'), 'utf-8')).toThrow('Line 2 is not UTF-8 text.');
    expect(() => decoded(Buffer.from('abc'), 'utf-16le')).toThrow('The file is not UTF-16 text.');
  });
  test('the order of UTF-16 is that of its mark', () =>
    expect(decoded(utf16(`\ufeff${LIST}`, true), 'utf-16le')).toBe(LIST));
  test('what an old Macintosh wrote is read where that is said', () =>
    expect(decoded(Buffer.from([0x5a, 0x6f, 0x91]), 'macintosh')).toBe('Zoë'));
  test('what it looks like is told with a line by which to see whether it is so', () =>
    expect(() => decoded(Buffer.from(LIST, 'latin1'), 'utf-8')).toThrow(
      expect.objectContaining({
        hint: expect.stringMatching(/Windows-1252, and would read “Zoë Holt,Captain”.*--encoding windows-1252/),
      }),
    ));
  test('and that line is told from the beginning of a word', () => {
    const long = Buffer.from('Annual List of the Coast Survey,1834,1834-01-01,Zoë Holt,Captain', 'latin1');
    expect(likelyInWords(long)).toContain('would read “Survey,1834,1834-01-01,Zoë Holt,Captain”');
  });
  test.each<[name: string, encoding: Encoding]>([
    ['UTF-8', 'utf-8'],
    ['utf8', 'utf-8'],
    ['CP1252', 'windows-1252'],
    ['Windows 1252', 'windows-1252'],
    ['ISO-8859-1', 'latin1'],
    ['utf-16', 'utf-16le'],
  ])('the name %s', (name, encoding) => expect(encodingNamed(name)).toBe(encoding));
  test('an unknown name', () => expect(() => encodingNamed('ebcdic')).toThrow('There is no encoding "ebcdic" here.'));
});
