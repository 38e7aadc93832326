import { describe, expect, test } from 'vitest';
import { DEFAULTS } from '../../src/assumptions.ts';
import { type CandidateInput, markDays } from '../../src/attribution/candidate.ts';
import { sharesOf } from '../../src/attribution/candidates.ts';
import { type CautionGrounds, cautionsFor } from '../../src/attribution/cautions.ts';
import { uniform } from '../../src/dating/density.ts';
import { candidate, form, post, slope, span } from './made-up.ts';

const shares = (...candidates: CandidateInput[]) =>
  sharesOf(
    {
      mark: markDays(uniform(span(0, 100))),
      candidates,
      unrecorded: { rank: 'captain', surname: { damaged: false, seenLetters: 7 }, unknownBits: 0, sweeps: [] },
    },
    DEFAULTS,
  );
const held = post(slope(0, 0, 100, 100));
const plain: Omit<CautionGrounds, 'shares'> = {
  hangs: false,
  swept: true,
  damaged: false,
  dated: true,
  beforeMaking: false,
  roleUncertain: false,
};
const one = candidate('p1', [held]);

describe('cautions', () => {
  test.each<[rule: string, grounds: CautionGrounds, expected: string[]]>([
    ['always that it is an opinion', { ...plain, shares: shares(one) }, ['opinion']],
    ['nobody fits the reading', { ...plain, shares: shares() }, ['opinion', 'nobody-fits']],
    [
      'nobody fits the time',
      { ...plain, shares: shares(candidate('p1', [post(slope(500, 500, 501, 502))])) },
      ['opinion', 'out-of-time'],
    ],
    [
      'somebody unrecorded leads',
      { ...plain, shares: shares(candidate('p1', [held], { forms: [form(11)] })) },
      ['opinion', 'unrecorded-leads'],
    ],
    ['namesakes', { ...plain, shares: shares(one, candidate('p2', [held])) }, ['opinion', 'namesakes']],
    ['no sweep', { ...plain, swept: false, shares: shares(one) }, ['opinion', 'unswept']],
    [
      'provisional and hanging on a record',
      { ...plain, hangs: true, shares: shares(candidate('p1', [{ ...held, provisional: true }])) },
      ['opinion', 'provisional', 'hangs'],
    ],
    [
      'an implied rank',
      { ...plain, shares: shares(candidate('p1', [{ ...held, standing: 'implied', rankBits: 2 }])) },
      ['opinion', 'implied'],
    ],
    [
      'a courtesy',
      { ...plain, shares: shares(candidate('p1', [{ ...held, standing: 'courtesy' }])) },
      ['opinion', 'courtesy'],
    ],
    [
      'a brevet',
      { ...plain, shares: shares(candidate('p1', [{ ...held, standing: 'brevet' }])) },
      ['opinion', 'brevet'],
    ],
    [
      'another corps',
      { ...plain, shares: shares(candidate('p1', [{ ...held, corpsBits: 10 }])) },
      ['opinion', 'unrecorded-leads', 'corps-differs'],
    ],
    [
      'damaged, undated, before the making',
      { ...plain, damaged: true, dated: false, beforeMaking: true, shares: shares(one) },
      ['opinion', 'damaged', 'undated', 'before-making'],
    ],
    ['several roles', { ...plain, roleUncertain: true, shares: shares(one) }, ['opinion', 'role-uncertain']],
  ])('%s', (_rule, grounds, expected) => {
    const told = cautionsFor(grounds, DEFAULTS);
    expect(told.map(({ id }) => id)).toEqual(expected);
    for (const { text } of told) expect(text).toMatch(/\.$/u);
  });
});
