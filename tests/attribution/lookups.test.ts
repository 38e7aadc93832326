import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Outcome, type PossibleAnswer, type Proposal, rankLookups } from '../../src/attribution/lookups.ts';

const now: Outcome = { leader: 'p1', leaderShare: 0.5, total: 2 };
const answer = (name: string, prior: number, leaderShare: number, total: number): PossibleAnswer => ({
  answer: name,
  prior,
  after: { leader: 'p1', leaderShare, total },
});
const proposal = (subject: string, ...answers: PossibleAnswer[]): Proposal<string> => ({
  subject,
  answers: () => answers,
});

describe('what to look up next', () => {
  test('the chance of an answer takes in what the mark makes of it', () => {
    const [told] = rankLookups(now, [proposal('a', answer('listed', 0.5, 0.9, 3), answer('not listed', 0.5, 0.2, 1))]);
    expect(told?.answers.map(({ chance }) => chance)).toEqual([0.75, 0.25]);
    expect(told?.gain).toBeCloseTo(0.75 * 0.9 + 0.25 * 0.2 - 0.5, 12);
  });

  test('the greatest gain comes first, of equal gains the earlier proposal', () => {
    const small = answer('listed', 1, 0.6, 2);
    const great = answer('listed', 1, 0.9, 2);
    const told = rankLookups(now, [proposal('a', small), proposal('b', great), proposal('c', small)]);
    expect(told.map(({ subject }) => subject)).toEqual(['b', 'a', 'c']);
  });

  test('what can have no answer is not proposed', () =>
    expect(rankLookups(now, [proposal('a', answer('listed', 0, 0.6, 2)), proposal('b')])).toEqual([]));

  test('an answer that sorts candidates apart never makes one less sure on the whole', () =>
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.double({ min: 0.01, max: 1, noNaN: true }), fc.double({ min: 0, max: 1, noNaN: true })), {
          minLength: 1,
          maxLength: 6,
        }),
        (holders) => {
          // Weights now, and for each holder the chance that the list shows what it shows if it was they.
          const total = holders.reduce((sum, [weight]) => sum + weight, 0);
          const best = Math.max(...holders.map(([weight]) => weight));
          const given = (name: string, chanceOf: (chance: number) => number): PossibleAnswer => {
            const weights = holders.map(([weight, chance]) => weight * chanceOf(chance));
            const sum = weights.reduce((a, b) => a + b, 0);
            return {
              answer: name,
              prior: 1,
              after: { leader: 'p', leaderShare: sum === 0 ? 0 : Math.max(...weights) / sum, total: sum },
            };
          };
          const standing: Outcome = { leader: 'p', leaderShare: best / total, total };
          const [told] = rankLookups(standing, [
            proposal(
              'a',
              given('yes', (c) => c),
              given('no', (c) => 1 - c),
            ),
          ]);
          expect(told?.gain).toBeGreaterThan(-1e-12);
          expect(told?.answers.reduce((sum, { chance }) => sum + chance, 0)).toBeCloseTo(1, 12);
        },
      ),
      { seed: 47, numRuns: 200 },
    ));
});
