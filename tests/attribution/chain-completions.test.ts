import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { completionsOf, roughCount } from '../../src/attribution/chain-completions.ts';
import type { PreparedMark } from '../../src/attribution/chain-marks.ts';
import { everyChain, holderWithin } from './every-chain.ts';
import { type AnyHolder, prepared, tableOf } from './prepared.ts';

const SIZE = 60;
const made = (days: number): number[] => Array.from({ length: SIZE }, (_, y) => (y < days ? 1 + (y % 3) : 0));
const isKin = (a: string, b: string): boolean => a === 'p5' && b === 'p6';
type IsListed = (place: number, holder: number) => boolean;

/**
 * Of every beginning of every chain, the bound and the best chain that begins so: with the same holders for the same
 * marks, the same of them last.
 */
function boundsAndBest(madeOn: readonly number[], marks: readonly PreparedMark[], isListed: IsListed = () => true) {
  const { table, relations, order } = tableOf(madeOn, marks, isKin);
  const { options } = order;
  const listed = options.map(({ place, holder }) => isListed(place, holder));
  const heaviest = Array.from({ length: order.marks }, () => new Float64Array(table.nodes.weight.length));
  for (const [o, { mark, weight }] of options.entries())
    if (listed[o]) for (const [k, value] of weight.entries()) raise(heaviest[mark], k, value);
  const completions = completionsOf(order, relations, heaviest, (o) => listed[o] === true);
  const { count, groupOf } = completions.groups;
  const optionAt = new Map(options.map(({ place, holder }, o) => [`${place} ${holder}`, o]));
  const free = table.nodes.weight.slice();
  for (const { place, namesHolder } of marks) if (!namesHolder) times(free, table.single[place]?.[0]?.weight);

  const found = new Map<string, { bound: number; best: number }>();
  for (const { assigned, order: inOrder, score } of everyChain(table, relations)) {
    // Among strangers the order is no matter: one mark after another.
    const places = relations.strangers ? assigned.map((_, place) => place) : inOrder;
    const chosen = places.flatMap((place) => optionAt.get(`${place} ${assigned[place]}`) ?? []);
    if (score === 0 || !chosen.every((o) => listed[o])) continue;
    const nobodies = chosen.filter((o) => options[o]?.isNobody).sort((a, b) => a - b);
    const sequence = [...nobodies, ...chosen.filter((o) => !options[o]?.isNobody)];
    let [joined, last] = [1, -1];
    for (let taken = 0; taken <= sequence.length; taken += 1) {
      const begun = sequence.slice(0, taken);
      const next = begun.at(-1) ?? -1;
      if (next >= 0 && !options[next]?.isNobody) {
        const [a, b] = [options[last]?.number, options[next]?.number ?? 0];
        if (a !== undefined) joined *= relations.factor[a * relations.count + b] ?? Number.NaN;
        last = next;
      }
      const key = `${begun.join()} of ${sequence.length}`;
      const known = found.get(key);
      if (known !== undefined) known.best = Math.max(known.best, score);
      if (known !== undefined) continue;
      const whole = free.slice();
      const held = new Set(begun.map((o) => options[o]?.mark ?? -1));
      const left = heaviest.map((_, mark) => mark).filter((mark) => !held.has(mark));
      for (const o of begun) times(whole, options[o]?.weight);
      for (const mark of left) times(whole, heaviest[mark]);
      const reach = new Float64Array(count);
      for (const [k, value] of whole.entries()) reach[groupOf[k] ?? 0] = (reach[groupOf[k] ?? 0] ?? 0) + value;
      const set = [...held].reduce((sum, mark) => sum + 2 ** mark, 0);
      if (next >= 0) {
        const rough = new Float64Array(roughCount(completions.groups));
        completions.roughly(reach, rough);
        const exact = completions.atMost(set, left, options[next]?.isNobody ? -1 : next, reach, next);
        expect(completions.roughlyAtMost(set, next, rough)).toBeGreaterThanOrEqual(exact * (1 - 1e-12));
      }
      found.set(key, { bound: joined * completions.atMost(set, left, last, reach), best: score });
    }
  }
  return { groups: count, nodes: free.length, found: [...found.values()], isSure: order.isSure };
}
function times(product: Float64Array, by: Float64Array | undefined): void {
  for (const [k, value] of product.entries()) product[k] = value * (by?.[k] ?? 1);
}
function raise(most: Float64Array | undefined, k: number, value: number): void {
  if (most !== undefined) most[k] = Math.max(most[k] ?? 0, value);
}

const anyHolder = holderWithin(SIZE, 15);
const anyRest = fc.constantFrom<readonly AnyHolder[]>(
  [{ surnames: ['holt'], from: 0, weights: new Array(SIZE).fill(0.02) }],
  [
    { from: 10, weights: new Array(40).fill(0.02) },
    { isNobody: true, from: 5, weights: new Array(50).fill(0.1) },
  ],
);
const anyMarks = fc
  .array(
    fc.tuple(
      fc.uniqueArray(anyHolder, { maxLength: 4, selector: ({ person }) => person }),
      anyRest,
      fc.nat({ max: 5 }),
    ),
    { minLength: 1, maxLength: 4 },
  )
  .map((marks) =>
    marks.map(([named, rest, names], place) =>
      names === 0
        ? prepared(place, [{ isNobody: true, from: 8, weights: [1, 0.5] }], { namesHolder: false })
        : prepared(place, [...named, ...rest]),
    ),
  );

describe('how much a beginning can come to', () => {
  test('is never less than the best chain that begins so', () => {
    let beginnings = 0;
    fc.assert(
      fc.property(anyMarks, fc.constantFrom(2, 5, 100), (marks, unlisted) => {
        const { found } = boundsAndBest(made(25), marks, (place, holder) => (place + holder + 1) % unlisted !== 0);
        for (const { bound, best } of found) expect(bound).toBeGreaterThanOrEqual(best * (1 - 1e-12));
        beginnings += found.length;
      }),
      { seed: 97, numRuns: 50 },
    );
    expect(beginnings).toBeGreaterThan(1000);
  });

  test('made on one day, in a sure order: is the best itself', () =>
    fc.assert(
      fc.property(anyMarks, (marks) => {
        const { found, isSure, nodes } = boundsAndBest(made(1), marks);
        // Marks that name nobody may be taken in any order: with two of them, the bound is of more than one beginning.
        const mayNameNobody = marks.filter(({ namesHolder, holders }) => namesHolder && holders.at(-1)?.isNobody);
        fc.pre(isSure && nodes === 1 && mayNameNobody.length < 2);
        for (const { bound, best } of found) expect(bound / best).toBeCloseTo(1, 9);
      }),
      { seed: 101, numRuns: 60 },
    ));

  test('more beginnings than bounds for each node: nodes in groups, and it holds', () => {
    // Every mark can be the first and the last, so that every set of marks can be a beginning.
    const marks = Array.from({ length: 9 }, (_, place) =>
      prepared(place, [
        { person: `p${place}`, surnames: ['holt'], from: 2 * place, weights: [1, 0.5] },
        { person: `q${place}`, surnames: [`s${place}`], from: 300 + 2 * place, weights: [0.1, 1] },
      ]),
    );
    const { groups, nodes, found } = boundsAndBest(new Array(220).fill(1), marks);
    expect(groups).toBeGreaterThan(1);
    expect(groups).toBeLessThan(nodes);
    expect(found.length).toBeGreaterThan(200);
    for (const { bound, best } of found) expect(bound).toBeGreaterThanOrEqual(best * (1 - 1e-12));
  });

  test('too many marks for their sets: one by one, and it holds', () =>
    fc.assert(
      fc.property(fc.array(anyHolder, { minLength: 4, maxLength: 4 }), (others) => {
        const marks = Array.from({ length: 21 }, (_, place) => {
          const known = { person: `k${place}`, surnames: ['marl'], from: 10 + place, weights: [1, 1] };
          const other = others[place];
          return prepared(place, other === undefined ? [known] : [known, other]);
        });
        const { found, groups } = boundsAndBest(made(12), marks);
        expect(groups).toBe(1);
        expect(found.length).toBeGreaterThan(21);
        for (const { bound, best } of found) expect(bound).toBeGreaterThanOrEqual(best * (1 - 1e-12));
      }),
      { seed: 103, numRuns: 10 },
    ));
});
