import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { HeldbyError } from '../../src/errors.ts';
import { acceptGood, type Pieces, piecesOfList, piecesOfRecords, rejectsText } from '../../src/intake/accept-good.ts';
import { FileFaults, type LineFault } from '../../src/intake/accept-good-faults.ts';

/** Refuses every line that holds a word, telling them by the lines of the file it is given. */
const refusing =
  (...words: string[]) =>
  (bytes: Buffer): string => {
    const lines = bytes.toString('utf8').split('\n');
    const word = words.find((each) => lines.some((line) => line.includes(each)));
    if (word === undefined) return bytes.toString('utf8');
    const faults: LineFault[] = lines.flatMap((line, at) =>
      line.includes(word) ? [{ line: at + 1, says: `${word}!` }] : [],
    );
    throw new FileFaults('faults', 'mend them', 'line 1', () => faults);
  };

const list = (...lines: string[]): Pieces => piecesOfList(['name,rank', ...lines].join('\n'));

describe('the good lines are recorded, the others handed back as they stood', () => {
  test('faults of one sort after another, by their lines in the file', () => {
    const pieces = list('a,bad', 'b,Captain', '', 'c,worse', '"d, e",Captain', 'f,bad');
    const { result, rejected } = acceptGood(pieces, refusing('bad', 'worse'));
    expect(result).toBe('name,rank\nb,Captain\n"d, e",Captain\n');
    expect(rejected).toEqual([
      { line: 2, raw: 'a,bad', says: 'bad!' },
      { line: 5, raw: 'c,worse', says: 'worse!' },
      { line: 7, raw: 'f,bad', says: 'bad!' },
    ]);
  });
  test('a field of several lines is one line of the list', () => {
    const { result, rejected } = acceptGood(list('"a\nb",Captain', 'c,bad', 'd,Captain'), refusing('bad'));
    expect([result, rejected.map(({ line }) => line)]).toEqual(['name,rank\n"a\nb",Captain\nd,Captain\n', [4]]);
  });
  test('a quotation mark out of place hurts its own line alone', () => {
    const { lines, rejected } = list('a,"open', 'b,Captain', 'c,mid"dle', '"d"x,Captain', 'e,Captain', 'f', 'g,h,i');
    expect(lines.map(({ raw }) => raw)).toEqual(['b,Captain', 'e,Captain']);
    expect(rejected.map(({ line, says }) => [line, says])).toEqual([
      [2, 'The line opens a quotation mark that is never closed.'],
      [4, 'The line has a quotation mark inside a field.'],
      [5, 'The line has text behind a closing quotation mark.'],
      [7, 'The line has 1 field, the header has 2.'],
      [8, 'The line has 3 fields, the header has 2.'],
    ]);
  });
  test('semicolons, tabs, line ends of any kind, and a mark at the front', () => {
    expect(piecesOfList('\ufeffa;b\r\n1;2\r\n3;4').lines.map(({ raw }) => raw)).toEqual(['1;2', '3;4']);
    expect(piecesOfList('a\tb\n1\t2\n').lines).toEqual([{ line: 2, raw: '1\t2' }]);
  });
  test('nothing good at all', () => expect(acceptGood(list('a,bad'), refusing('bad')).result).toBeUndefined());
  test('what is wrong with the file as a whole is thrown', () => {
    const attempt = (): never => {
      throw new HeldbyError('INPUT_FILE', 'no column for rank', '');
    };
    expect(() => acceptGood(list('a,b'), attempt)).toThrow('no column for rank');
    expect(() => piecesOfList('\n\n')).toThrow('The file is empty.');
  });
  test('records, one a line', () => {
    const pieces = piecesOfRecords('{"a":1}\n\n{"bad":2}\n{"c":3}\n');
    expect(acceptGood(pieces, refusing('bad'))).toEqual({
      result: '{"a":1}\n{"c":3}\n',
      rejected: [{ line: 3, raw: '{"bad":2}', says: 'bad!' }],
    });
  });
  test('every line is in one place and in one only', () =>
    fc.assert(
      fc.property(
        fc.array(fc.constantFrom('a,Captain', 'b,bad', 'c,worse', '"d\ne",Captain', 'f', '', '"x'), { maxLength: 20 }),
        (lines) => {
          const { result, rejected } = acceptGood(list(...lines), refusing('bad', 'worse'));
          const kept = (result ?? 'name,rank\n').split('\n').slice(1, -1).join('\n');
          const all = [kept, ...rejected.map(({ raw }) => raw)]
            .join('\n')
            .split('\n')
            .filter((line) => line !== '');
          expect(all.sort()).toEqual(
            lines
              .join('\n')
              .split('\n')
              .filter((line) => line !== '')
              .sort(),
          );
        },
      ),
      { numRuns: 300, seed: 4180 },
    ));
});

test('rejects are a list again, with what is wrong in a further column', () => {
  const pieces = list('a,bad', 'b,Captain');
  const { rejected } = acceptGood(pieces, refusing('bad'));
  expect(rejectsText(pieces, rejected)).toBe('name,rank,fault\na,bad,"line 2: bad!"\n');
  expect(rejectsText(piecesOfRecords('{}'), [{ line: 1, raw: '{}', says: 'no type' }])).toBe('{}\n');
});
