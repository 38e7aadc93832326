import { describe, expect, test } from 'vitest';
import { ALLEN_RELATIONS, type AllenRelation, compose, converse, relationOf } from '../../src/time/allen.ts';
import type { Day } from '../../src/time/span.ts';
import table from './data/allen-composition.json' with { type: 'json' };
import examples from './data/dates.json' with { type: 'json' };

/** J. F. Allen, Communications of the ACM 26 (1983), 832–843: the relations and their table of composition. */
const relation = (code: string): AllenRelation => {
  const name = (table.names as Record<string, string>)[code]?.replace('-', ' ');
  const found = ALLEN_RELATIONS.find((one) => one === name);
  if (found === undefined) throw new Error(`no relation ${code}`);
  return found;
};

describe('the thirteen relations', () => {
  test('the order is the published one', () => expect(table.order.map(relation)).toEqual(ALLEN_RELATIONS));

  type Example = {
    topic: string;
    input: { relation: string; x: [number, number]; y: [number, number] };
    expected: { inverse: string };
  };
  const named = examples.filter((one) => one.topic === 'Allen relation') as unknown as Example[];
  test.each(named.map((one) => [one.input.relation, one] as const))('%s', (code, { input, expected }) => {
    const [a, b] = [input.x, input.y].map(([from, until]) => ({ from: from as Day, until: until as Day }));
    if (a === undefined || b === undefined) throw new Error('an example without spans');
    expect(relationOf(a, b)).toBe(relation(code));
    expect(converse(relation(code))).toBe(relation(expected.inverse));
  });
});

describe('the table of composition', () => {
  const cells = Object.entries(table.table);
  test('169 cells, 409 relations', () => {
    expect(cells).toHaveLength(169);
    const sizes = ALLEN_RELATIONS.flatMap((a) => ALLEN_RELATIONS.map((b) => compose(a, b).length));
    expect(sizes.reduce((sum, size) => sum + size, 0)).toBe(409);
  });
  test('every cell agrees', () => {
    for (const [pair, expected] of cells) {
      const [a = '', b = ''] = pair.split(',');
      expect([pair, compose(relation(a), relation(b))]).toEqual([pair, expected.map(relation)]);
    }
  });
});
