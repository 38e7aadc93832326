import { describe, expect, test } from 'vitest';
import { DAYS_PER_YEAR, DEFAULTS } from '../../src/assumptions.ts';
import { markDays } from '../../src/attribution/candidate.ts';
import { sharesOf } from '../../src/attribution/candidates.ts';
import { rankLookups } from '../../src/attribution/lookups.ts';
import { outcomeOf, sweepAnswers } from '../../src/attribution/sweep-answers.ts';
import { type UnrecordedInput, unrecordedWeight } from '../../src/attribution/unrecorded.ts';
import { uniform } from '../../src/dating/density.ts';
import { candidate, form, post, slope, span } from './made-up.ts';

const days = 3000;
const mark = markDays(uniform(span(0, days)));
const unrecorded: UnrecordedInput = {
  rank: 'captain',
  surname: { damaged: false, seenLetters: 7 },
  unknownBits: 0,
  sweeps: [],
};
const leftOf = (asked: UnrecordedInput): number => unrecordedWeight(asked, mark, DEFAULTS);
const labels = { nobody: 'nobody more', oneMore: 'one more', found: 'somebody found' };
const sharesWith = (bits: number) => ({
  namesHolder: 1,
  ...sharesOf(
    { mark, candidates: [candidate('p1', [post(slope(0, 0, days, days))], { forms: [form(bits)] })], unrecorded },
    DEFAULTS,
  ),
});

/** What whoever is found weighs. */
const found = 0.8;
const sweep = { surname: 'ferrand', midDay: 1000 };

/** λ(t) after the sweep of one day, walked over. */
const leftAfter = (x: number): number => {
  let sum = 0;
  for (let day = 0; day < days; day += 1)
    sum += (0.1 * (1 - 0.9 * Math.exp(-Math.abs(day - x) / (20 * DAYS_PER_YEAR)))) / days;
  return sum;
};

describe('a sweep that has not been made', () => {
  const shares = sharesWith(2);
  const [nobody, oneMore] = sweepAnswers(shares, leftOf, unrecorded, sweep, found, labels, DEFAULTS);
  const left = leftAfter(1000);

  test('nobody more: fewer are left unrecorded', () => {
    expect(nobody?.prior).toBeCloseTo(Math.exp(-0.1), 12);
    expect(nobody?.after.total).toBeCloseTo(0.25 + left, 10);
    expect(nobody?.after.leaderShare).toBeCloseTo(0.25 / (0.25 + left), 10);
  });

  test('one more: a rival with a weight of their own', () => {
    expect(oneMore?.prior).toBeCloseTo(1 - Math.exp(-0.1), 12);
    expect(oneMore?.after.total).toBeCloseTo(0.25 + left + found, 10);
    expect(oneMore?.after.leader).toBe('somebody found');
    expect(oneMore?.after.leaderShare).toBeCloseTo(found / (0.25 + left + found), 10);
  });

  test('is worth making where much is thought to be unrecorded, and a second on the same day hardly', () => {
    const gain = (given: UnrecordedInput) => {
      const answers = sweepAnswers(shares, leftOf, given, sweep, found, labels, DEFAULTS);
      return rankLookups(outcomeOf(shares), [{ subject: 'sweep', answers: () => answers }])[0]?.gain ?? Number.NaN;
    };
    expect(gain(unrecorded)).toBeGreaterThan(0.02);
    const again = sweepAnswers(shares, leftOf, { ...unrecorded, sweeps: [sweep] }, sweep, found, labels, DEFAULTS);
    expect(again[1]?.prior).toBeCloseTo(1 - Math.exp(-0.01), 12);
  });

  test('where the mark may name no holder, every share is that much less', () => {
    const half = { ...shares, namesHolder: 0.5 };
    expect(outcomeOf(half).leaderShare).toBeCloseTo(outcomeOf(shares).leaderShare / 2, 12);
    const answers = sweepAnswers(half, leftOf, unrecorded, sweep, found, labels, DEFAULTS);
    expect(answers.map(({ after }) => after.leaderShare)).toEqual([
      (nobody?.after.leaderShare ?? 0) / 2,
      (oneMore?.after.leaderShare ?? 0) / 2,
    ]);
  });

  test('a bearer who is likelier than anybody found stays the leader', () => {
    const [, one] = sweepAnswers(sharesWith(0), leftOf, unrecorded, sweep, found, labels, DEFAULTS);
    expect(one?.after.leader).toBe('p1');
  });
});
