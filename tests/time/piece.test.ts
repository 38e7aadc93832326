import { describe, expect, test } from 'vitest';
import { monthsFrom } from '../../src/time/edtf-date.ts';
import { edtfOfPart, edtfOfPiece, edtfSet, flagged, OPEN_EDGE, partOf, pieceOf } from '../../src/time/piece.ts';
import { NO_END, NO_START, type Span } from '../../src/time/span.ts';

const years = (first: number, count: number): Span => monthsFrom(first, 1, 12 * count, 'gregorian');

describe('a piece in EDTF', () => {
  test.each<[span: Span, edtf: string]>([
    [years(1834, 1), '1834'],
    [years(1830, 10), '183X'],
    [years(1800, 100), '18XX'],
    [years(1834, 3), '1834/1836'],
    [years(1831, 10), '1831/1840'],
    [monthsFrom(1834, 5, 1, 'gregorian'), '1834-05'],
    [monthsFrom(1700, 5, 1, 'julian'), '1700-05-12/1700-06-11'],
  ])('%o is %s', (span, edtf) => expect(edtfOfPiece(pieceOf(span, 'year'))).toBe(edtf));

  test('flags stand at the end, in an interval at both', () => {
    const about = { approximate: true, uncertain: false };
    expect(edtfOfPiece(flagged(pieceOf(years(1830, 10), 'year'), about))).toBe('183X~');
    expect(edtfOfPiece(flagged(pieceOf(years(1834, 3), 'year'), { approximate: true, uncertain: true }))).toBe(
      '1834%/1836%',
    );
    expect(edtfOfPiece(flagged(pieceOf(years(1834, 1), 'year', { edtf: '1834-21' }), about))).toBe('1834-21~');
  });
});

test('open sides are two dots', () => {
  const { from, until } = partOf(pieceOf(years(1834, 1), 'year'));
  expect(edtfOfPart({ span: { from: NO_START, until: years(1834, 1).until }, from: OPEN_EDGE, until })).toBe('../1834');
  expect(edtfOfPart({ span: { from: years(1834, 1).from, until: NO_END }, from, until: OPEN_EDGE })).toBe('1834/..');
});

test('members of a set', () => {
  expect(edtfSet(['../1834', '1836/1838', '1840/..'], false)).toBe('[..1834,1836..1838,1840..]');
  expect(edtfSet(['1834', '1836'], true)).toBe('{1834,1836}');
});
