import { describe, expect, test } from 'vitest';
import {
  attestedByEntry,
  attestedByNotice,
  byMiddle,
  middleOf,
  statesEnd,
  statesStart,
} from '../../src/careers/attested.ts';
import type { NoticeEvent } from '../../src/careers/evidence.ts';
import { captain, listed, notice } from './recorded.ts';

describe('attested days', () => {
  test.each<[rule: string, first: number, last: number, middle: number]>([
    ['both sides closed', 10, 20, 15],
    ['open before', -Infinity, 20, 20],
    ['open after', 10, Infinity, 10],
    ['nothing known', -Infinity, Infinity, Infinity],
  ])('middleOf: %s', (_rule, first, last, middle) => expect(middleOf(first, last)).toBe(middle));

  test('an entry speaks of days from its lag on, but its middle is that of the list', () => {
    expect(attestedByEntry(listed('e1', 100, captain, { last: 104, lag: 30 }))).toMatchObject({
      first: 70,
      last: 104,
      middle: 102,
    });
  });

  test('a notice speaks of its own days', () => {
    expect(attestedByNotice(notice('n1', 'promoted', 100, { last: 110 }))).toMatchObject({
      first: 100,
      last: 110,
      middle: 105,
    });
  });

  test('byMiddle: by the middle, then by the first day; what is open stands last', () => {
    const at = (first: number, last: number) => ({
      record: listed('e1', first, captain),
      first,
      last,
      middle: middleOf(first, last),
    });
    const sorted = [at(-Infinity, Infinity), at(8, 12), at(10, 10), at(0, 4)].sort(byMiddle);
    expect(sorted.map(({ first }) => first)).toEqual([0, 8, 10, -Infinity]);
  });

  test.each<[event: NoticeEvent, start: boolean, end: boolean]>([
    ['appointed', true, false],
    ['promoted', true, false],
    ['exchanged', true, false],
    ['half-pay', false, true],
    ['retired', false, true],
    ['resigned', false, true],
    ['dismissed', false, true],
    ['superseded', false, true],
    ['born', false, false],
    ['died', false, false],
    ['married', false, false],
    ['renamed', false, false],
    ['other', false, false],
  ])('%s: states a start %s, an end %s', (event, start, end) => {
    expect([statesStart(event), statesEnd(event)]).toEqual([start, end]);
  });
});
