import { CsvError, parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { FNV_PRIME, FNV_START, readCsv } from '../../src/intake/csv-bytes.ts';
import { inPieces, recordsOf } from './byte-source.ts';

const SEED = { seed: 20_261_125, numRuns: 400 };

/** The same text by another reader of the same rules, which was written by somebody else. */
const elsewhere = (text: string): string[][] =>
  parse(text, {
    bom: true,
    skip_empty_lines: true,
    relax_column_count: true,
    record_delimiter: ['\r\n', '\n', '\r'],
  }) as string[][];

const here = (text: string, sizes?: readonly number[]): string[][] =>
  recordsOf(Buffer.from(text, 'utf8'), sizes).map(({ fields }) => fields);

const sign = fc.constantFrom('a', 'B', ' ', ',', '"', '\n', '\r\n', '\r', 'é', '雪', '😀', ';', '\t', '0');
const field = fc.array(sign, { maxLength: 6 }).map((signs) => signs.join(''));
const sizes = fc.array(fc.integer({ min: 1, max: 9 }), { minLength: 1, maxLength: 5 });
const lineEnd = fc.constantFrom('\n', '\r\n');
const header = 'a,b,c\n'; // so that both take the comma for what parts the fields

/** As RFC 4180 has it: a field with a comma, a quotation mark or a line break is quoted, any other may be. */
const written = (value: string, quoted: boolean): string =>
  quoted || /[",\r\n]/.test(value) ? `"${value.replaceAll('"', '""')}"` : value;

describe('read by two readers', () => {
  test('whatever is written by the rules is read back, in pieces of any size', () =>
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.array(fc.tuple(field, fc.boolean()), { minLength: 1, maxLength: 5 }), lineEnd), {
          maxLength: 8,
        }),
        sizes,
        fc.boolean(),
        (rows, pieces, lastEnds) => {
          const lines = rows.map(([cells, end]) => cells.map((cell) => written(...cell)).join(',') + end).join('');
          const text = header + (lastEnds ? lines : lines.replace(/\r?\n$/, ''));
          const wanted = rows
            .map(([cells]) => cells.map(([value]) => value))
            .filter((cells) => cells.length > 1 || cells[0] !== '');
          const read = here(text, pieces).filter((cells) => cells.length > 1 || cells[0] !== '');
          expect(read).toEqual([['a', 'b', 'c'], ...wanted]);
          expect(here(text, pieces)).toEqual(elsewhere(text));
        },
      ),
      SEED,
    ));

  test('any text is read alike by both, or refused by both', () =>
    fc.assert(
      fc.property(fc.array(sign, { maxLength: 24 }), sizes, (signs, pieces) => {
        const text = header + signs.join('');
        let wanted: string[][] | 'refused';
        try {
          wanted = elsewhere(text);
        } catch (error) {
          if (!(error instanceof CsvError)) throw error;
          wanted = 'refused';
        }
        let read: string[][] | 'refused';
        try {
          read = here(text, pieces);
        } catch {
          read = 'refused';
        }
        expect(read).toEqual(wanted);
      }),
      { ...SEED, numRuns: 1500 },
    ));

  test('a list of some length', () => {
    const rows = Array.from({ length: 30_000 }, (_, i) => [`al-${i % 90}`, `Ferrand, J. ${i}`, `"${i}" é\n${i % 7}`]);
    const text = header + rows.map((cells) => cells.map((cell) => written(cell, false)).join(',')).join('\r\n');
    expect(Buffer.byteLength(text)).toBeGreaterThan(1 << 20);
    const read = here(text);
    expect(read).toEqual(elsewhere(text));
    expect(read).toHaveLength(30_001);
  });
});

describe('lines are those of the file', () => {
  const lines = (text: string) => recordsOf(Buffer.from(text)).map(({ line }) => line);
  test.each<[rule: string, text: string, expected: number[]]>([
    ['one record a line', 'a,b\n1,2\n3,4\n', [1, 2, 3]],
    ['the last line need not end', 'a,b\n1,2', [1, 2]],
    ['CRLF is one end', 'a,b\r\n1,2\r\n3,4\r\n', [1, 2, 3]],
    ['CRLF and LF may be mixed', 'a,b\r\n1,2\n3,4\r\n5,6', [1, 2, 3, 4]],
    ['empty lines count and are passed over', '\na,b\n\n\r\n1,2\n', [2, 5]],
    ['a line break in a quoted field counts', 'a,b\n"1\n1","2\r\n2"\n3,4\n', [1, 2, 5]],
    ['a doubled quotation mark beside it changes nothing', 'a,b\n"""\n""",2\n3,4\n', [1, 2, 4]],
    ['a byte order mark is no line', '\ufeffa,b\n1,2\n', [1, 2]],
  ])('%s', (_rule, text, expected) => expect(lines(text)).toEqual(expected));
});

describe('what parts the fields is seen from the header', () => {
  test.each<[rule: string, text: string, expected: string[][]]>([
    [
      'a comma',
      'a,b\n1;2,3\n',
      [
        ['a', 'b'],
        ['1;2', '3'],
      ],
    ],
    [
      'a semicolon',
      'a;b;c,d\n1;2;3,4\n',
      [
        ['a', 'b', 'c,d'],
        ['1', '2', '3,4'],
      ],
    ],
    [
      'a tab',
      'a\tb\n1,5\t2\n',
      [
        ['a', 'b'],
        ['1,5', '2'],
      ],
    ],
    [
      'signs in quoted headers do not count',
      '"a;b;c;d",e\n1;2,3\n',
      [
        ['a;b;c;d', 'e'],
        ['1;2', '3'],
      ],
    ],
    ['one column has a comma', 'a\n1\n', [['a'], ['1']]],
  ])('%s', (_rule, text, expected) => expect(here(text)).toEqual(expected));
});

describe('what is no list is refused', () => {
  const refused = (bytes: Buffer) => {
    try {
      readCsv(inPieces(bytes), () => {});
    } catch (error) {
      return error;
    }
    return undefined;
  };
  test.each<[rule: string, bytes: Buffer, where: string, words: RegExp]>([
    ['a quotation mark that is never closed', Buffer.from('a,b\n1,2\n3,"4\n5,6\n'), 'line 3', /never closed/],
    ['a quotation mark inside a plain field', Buffer.from('a,b\n1,2"\n'), 'line 2', /quotation mark inside field 2/],
    ['text behind a closing quotation mark', Buffer.from('a,b\n"1"x,2\n'), 'line 2', /behind the closing/],
    ['more fields than any list has', Buffer.from(`${'x,'.repeat(2000)}\n`), 'line 1', /more than 1024 fields/],
    ['UTF-16 with its mark', Buffer.from('\ufeffa,b\n1,2\n', 'utf16le'), 'line 1', /not UTF-8/],
    ['UTF-16 without', Buffer.from('a,b\n1,2\n', 'utf16le'), 'line 1', /not UTF-8/],
    ['bytes of anything', Buffer.from([0x89, 0x50, 0x4e, 0x47, 0, 0, 1, 2]), 'line 1', /not UTF-8/],
  ])('%s', (_rule, bytes, where, words) =>
    expect(refused(bytes)).toMatchObject({
      code: 'INPUT_FILE',
      where,
      message: expect.stringMatching(words),
      hint: expect.stringMatching(/\w/),
    }),
  );
});

test('nothing in the file: no record', () => {
  for (const text of ['', '\n', '\r\n\r\n', '\ufeff', '\ufeff\n']) expect(here(text)).toEqual([]);
});

test('a field longer than the buffer', () => {
  const long = 'é"\n'.repeat(300_000);
  const read = here(`a,b\n${written(long, true)},2\n3,4\n`, [65_536]);
  expect(read[1]?.[0] === long).toBe(true);
  expect(read[2]).toEqual(['3', '4']);
});

test('the hash of a plain field is FNV-1a over its bytes, that of a quoted one 0', () => {
  const hashes: number[] = [];
  readCsv(inPieces(Buffer.from('Ferrand,"Ferrand",é\n')), (record) =>
    hashes.push(...record.hashes.subarray(0, record.fields)),
  );
  const fnv = (text: string) =>
    [...Buffer.from(text)].reduce((hash, byte) => Math.imul(hash ^ byte, FNV_PRIME), FNV_START);
  expect(hashes).toEqual([fnv('Ferrand'), 0, fnv('é')]);
  // FNV-1a, 32 bits, of "foobar" is bf9cf968: test vectors of the IETF draft draft-eastlake-fnv, appendix C.
  expect(fnv('foobar') >>> 0).toBe(0xbf9cf968);
});
