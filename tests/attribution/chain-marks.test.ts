import { describe, expect, test } from 'vitest';
import { DEFAULTS } from '../../src/assumptions.ts';
import { type ChainMark, overlayTrees, prepareMarks } from '../../src/attribution/chain-marks.ts';
import type { OverlayTree } from '../../src/attribution/overlay-sums.ts';
import { delayLaw } from '../../src/dating/delay.ts';
import { uniform } from '../../src/dating/density.ts';
import { candidate, post, slope, span } from './made-up.ts';
import { byCalendar } from './prepared.ts';

const shape = ({ place, overlying }: OverlayTree): unknown => [place, ...overlying.map(shape)];
const over = (...parents: (string | undefined)[]) =>
  overlayTrees(parents.map((parent, i) => ({ id: `m${i + 1}`, over: parent, detached: false }))).map(shape);

describe('what overlies what', () => {
  test.each<[rule: string, shapes: unknown, expected: unknown]>([
    ['nothing', over(undefined, undefined), [[0], [1]]],
    ['one over another, recorded first', over('m2', undefined), [[1, [0]]]],
    ['three in a row', over(undefined, 'm1', 'm2'), [[0, [1, [2]]]]],
    ['two over one', over(undefined, 'm1', 'm1'), [[0, [1], [2]]]],
    ['over a mark that the object does not have', over('m9'), [[0]]],
    ['in a ring: cut at its first mark', over('m2', 'm1'), [[0, [1]]]],
    ['over itself', over('m1'), [[0]]],
  ])('%s', (_rule, shapes, expected) => expect(shapes).toEqual(expected));

  test('a mark kept out of the dating stands alone', () => {
    const trees = overlayTrees([
      { id: 'm1', over: undefined, detached: true },
      { id: 'm2', over: 'm1', detached: false },
    ]);
    expect(trees.map(shape)).toEqual([[0], [1]]);
  });
});

describe('marks made ready', () => {
  const making = uniform(span(1000, 1100));
  const own = new Float64Array(100).fill(0.5, 20, 60);
  const held = post(slope(1010, 1010, 1040, 1040));
  const mark: ChainMark = {
    id: 'm1',
    law: delayLaw('owner', DEFAULTS),
    own,
    over: undefined,
    beforeMaking: false,
    holders: {
      candidates: [
        candidate('p10', [held]),
        candidate('p2', [held]),
        candidate('p2', [held], { rank: 'major' }),
        candidate('p3', [post(slope(5000, 5001, 5002, 5003))]),
      ],
      surnames: ['ferrand'],
      unrecorded: { rank: 'captain', surname: { damaged: false, seenLetters: 7 }, unknownBits: 0, sweeps: [] },
    },
  };
  const prepare = (given: ChainMark) => prepareMarks(making, [given], (person) => [`${person}’s`], DEFAULTS)[0];

  test('holders are persons, ranks together, by their ids, somebody unrecorded last', () => {
    const ready = prepare(mark);
    expect(ready?.holders.map(({ person, surnames }) => [person, ...surnames])).toEqual([
      ['p2', 'p2’s'],
      ['p10', 'p10’s'],
      [undefined, 'ferrand'],
    ]);
    expect(ready?.holders[0]?.held.from).toBe(20);
    expect([...(ready?.holders[0]?.held.weights ?? [])]).toEqual(new Array(20).fill(1));
    expect(ready?.anybody[0]?.weights[0]).toBeCloseTo(0.5 * (3 + 0.1), 12);
  });

  test('without holders the mark’s own window stands', () => {
    const ready = prepare({ ...mark, holders: undefined });
    expect(ready?.namesHolder).toBe(false);
    expect(ready?.holders).toHaveLength(1);
    expect([...(ready?.anybody[0]?.weights ?? [])]).toEqual(new Array(40).fill(0.5));
  });

  test('a mark dated before the making says nothing of it', () => {
    const ready = prepare({ ...mark, beforeMaking: true });
    expect(ready?.detached).toBe(true);
  });

  test('of an uncertain role, nobody stands last, with a law of their own', () => {
    const ready = prepare({ ...mark, unnamed: byCalendar(0.5) });
    expect(ready?.holders.map(({ person, isNobody }) => [person, isNobody])).toEqual([
      ['p2', false],
      ['p10', false],
      [undefined, false],
      [undefined, true],
    ]);
    expect(ready?.holders[3]?.held.law).toEqual(byCalendar(0.5));
    expect([...(ready?.holders[3]?.held.weights ?? [])]).toEqual(new Array(40).fill(0.5));
    expect(ready?.anybody.map(({ law }) => law)).toEqual([mark.law, byCalendar(0.5)]);
  });
});
