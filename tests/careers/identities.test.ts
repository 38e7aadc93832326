import { describe, expect, test } from 'vitest';
import { identityConflicts } from '../../src/careers/identities.ts';

const finding = (id: string, one: number, other: number) => ({ id, one, other });

describe('findings that two are one and that they are not', () => {
  test.each<[rule: string, same: [string, number, number][], differ: [string, number, number][], sets: string[][]]>([
    ['none', [['sm1', 1, 2]], [['df1', 2, 3]], []],
    ['the two findings themselves', [['sm1', 1, 2]], [['df1', 2, 1]], [['df1', 'sm1']]],
    [
      'over a third record',
      [
        ['sm1', 1, 2],
        ['sm2', 2, 3],
      ],
      [['df1', 1, 3]],
      [['df1', 'sm1', 'sm2']],
    ],
    [
      'each way by itself, the shortest first',
      [
        ['sm1', 1, 2],
        ['sm2', 2, 3],
        ['sm3', 1, 3],
      ],
      [['df1', 1, 3]],
      [
        ['df1', 'sm3'],
        ['df1', 'sm1', 'sm2'],
      ],
    ],
    [
      'not through a record twice',
      [
        ['sm1', 1, 2],
        ['sm2', 2, 4],
        ['sm3', 4, 2],
        ['sm4', 2, 3],
      ],
      [['df1', 1, 3]],
      [['df1', 'sm1', 'sm4']],
    ],
  ])('%s', (_rule, same, differ, sets) =>
    expect(
      identityConflicts(
        same.map((each) => finding(...each)),
        differ.map((each) => finding(...each)),
      ),
    ).toEqual(sets),
  );
});
