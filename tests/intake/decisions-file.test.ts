import { describe, expect, test } from 'vitest';
import { decisionRows } from '../../src/intake/decisions-file.ts';

const rows = (text: string) => decisionRows(Buffer.from(text));

describe('a file of decisions', () => {
  test('rows without a decision, and other columns, are passed over', () =>
    expect(
      rows('one,other,decision,why,asked\ne1,e2,same,"one hand, plainly",joined\ne3,e4,,,apart\ne5,e6,Differ,,apart\n'),
    ).toEqual([
      { line: 2, one: 'e1', other: 'e2', decision: 'same', why: 'one hand, plainly' },
      { line: 4, one: 'e5', other: 'e6', decision: 'differ', why: '' },
    ]));

  test('columns in any order, with a semicolon, without reasons', () =>
    expect(rows('decision;other;one\nsame;e2;e1')).toEqual([
      { line: 2, one: 'e1', other: 'e2', decision: 'same', why: '' },
    ]));

  test('a column that is missing', () =>
    expect(() => rows('one,decision\ne1,same')).toThrow('The file has no column other.'));

  test('nothing', () => expect(rows('one,other,decision,why\n')).toEqual([]));
});
