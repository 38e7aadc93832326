import { expect, test } from 'vitest';
import { linksOf } from '../../src/attribution/chain-score.ts';
import { type Step, sumsWithLinks } from '../../src/attribution/linked-sums.ts';
import { everyChoice } from './every-chain.ts';
import { type AnyHolder, prepared, tableOf } from './prepared.ts';

const holder = (id: number, surname: string): AnyHolder => ({
  person: `p${id}`,
  surnames: [surname],
  from: 0,
  weights: [1],
});
// Three marks with two holders each, of whom some share a surname or are one person.
const marks = [
  prepared(0, [holder(1, 'holt'), holder(2, 'lisle')]),
  prepared(1, [holder(3, 'holt'), holder(2, 'lisle')]),
  prepared(2, [holder(1, 'holt'), holder(4, 'lisle')]),
];
const { relations } = tableOf([1], marks, (a, b) => a === 'p3' && b === 'p4');
const numberOf = (mark: number, holder: number): number => relations.numberOf[mark]?.[holder] as number;

/** Options in a given order, with what each weighs on two nodes. */
const ORDER: readonly (readonly [mark: number, holder: number, weights: readonly [number, number]])[] = [
  [1, 0, [0.5, 2]],
  [0, 0, [1, 3]],
  [2, 1, [0.25, 1]],
  [0, 1, [2, 0.5]],
  [1, 1, [1.5, 0.75]],
  [2, 0, [4, 0.1]],
];
const placeOf = (mark: number, holder: number): number => ORDER.findIndex(([m, h]) => m === mark && h === holder);
const steps: Step[] = ORDER.map(([mark, holder, weights], at) => {
  const bits = (isOne: (other: number) => boolean): number =>
    [0, 1, 2].reduce((set, other) => set | (isOne(other) ? 1 << other : 0), 0);
  const before = (other: number): number => ORDER.filter(([m], i) => m === other && i < at).length;
  return {
    mark,
    number: numberOf(mark, holder),
    weight: Float64Array.from(weights),
    done: bits((other) => before(other) === 2),
    active: bits((other) => other !== mark && before(other) === 1),
  };
});
const free = Float64Array.of(0.7, 0.3);
const { over, draw } = sumsWithLinks({ steps, free, days: undefined }, 3, relations);

const every = everyChoice([2, 2, 2]).map((assigned) => {
  const options = assigned.map((h, mark) => placeOf(mark, h));
  const inOrder = [0, 1, 2].sort((a, b) => (options[a] as number) - (options[b] as number));
  const product = free.reduce(
    (sum, value, k) => sum + options.reduce((all, o) => all * (ORDER[o]?.[2][k] as number), value),
    0,
  );
  return { options, weight: product * linksOf(assigned, inOrder, relations) };
});
const sumOf = (kept: (options: readonly number[]) => boolean): number =>
  every.reduce((sum, { options, weight }) => sum + (kept(options) ? weight : 0), 0);

test('the sum over all chains, and over those with each option, is that of every chain by itself', () => {
  const { everything, withOption } = over(() => false, true);
  expect(everything).toBeCloseTo(
    sumOf(() => true),
    10,
  );
  for (const o of ORDER.keys())
    expect(withOption[o]).toBeCloseTo(
      sumOf((options) => options.includes(o)),
      10,
    );
});

test('without a holder, only the chains of the others are summed', () => {
  const leftOut = numberOf(0, 1);
  expect(over((number) => number === leftOut, false).everything).toBeCloseTo(
    sumOf((options) => options.every((o) => steps[o]?.number !== leftOut)),
    10,
  );
});

test('every chain drawn has one option of each mark, in the order of the steps', () => {
  let state = 11;
  const random = (): number => {
    state = (state * 48_271) % 2_147_483_647;
    return state / 2_147_483_647;
  };
  for (const chain of draw(200, random)) {
    expect(chain.map((o) => ORDER[o]?.[0]).sort()).toEqual([0, 1, 2]);
  }
});
