import { expect, test } from 'vitest';
import { type CsvCell, csvLine } from '../../src/report/csv.ts';

test.each<[rule: string, cell: CsvCell, line: string]>([
  ['a plain cell', 'a b', 'a b\r\n'],
  ['nothing', null, '\r\n'],
  ['a number', 12.5, '12.5\r\n'],
  ['a negative number is a number', -3, '-3\r\n'],
  ['a comma', 'a,b', '"a,b"\r\n'],
  ['a quotation mark', 'a"b', '"a""b"\r\n'],
  ['an end of a line', 'a\r\nb', '"a\nb"\r\n'],
  ['space at an end', ' a', '" a"\r\n'],
  ['a formula', '=1+1', "'=1+1\r\n"],
  ['a formula behind a space', ' @SUM(A1)', "' @SUM(A1)\r\n"],
  ['a formula that calls a program', '+cmd|"/c calc"!A1', '"\'+cmd|""/c calc""!A1"\r\n'],
  ['a formula in full-width letters', '＝1', "'＝1\r\n"],
  ['a sign that cannot be seen', 'a\u202eb\u001b', 'a\\u{202e}b\\u{1b}\r\n'],
])('CSV: %s', (_rule, cell, line) => expect(csvLine([cell])).toBe(line));

test('CSV for programs is as recorded', () =>
  expect(csvLine(['=1+1', 'a\u202eb', 'c\r\nd', null], false)).toBe('=1+1,a\u202eb,"c\r\nd",\r\n'));
