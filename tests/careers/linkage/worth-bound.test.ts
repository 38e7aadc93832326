import { expect, test } from 'vitest';
import { newComparison } from '../../../src/careers/linkage/comparison.ts';
import { FIELD_COUNT, FORENAMES_FIELD } from '../../../src/careers/linkage/fields.ts';
import { fieldBits } from '../../../src/careers/linkage/weights.ts';
import { boundOnWorth } from '../../../src/careers/linkage/worth-bound.ts';
import { generatedService, seededChance, USUAL_FAULTS } from './generated-service.ts';
import { solving } from './small-blocks.ts';

test.each([[true], [false]])('no comparison gives more than its bound (dated: %s)', (dated) => {
  const { ground, learned, chains } = solving(
    generatedService(3000, 8, { ...USUAL_FAULTS, surnames: 20, misprinted: 0.2, dated }),
  );
  const bound = boundOnWorth(ground, learned);
  const comparison = newComparison();
  const chance = seededChance(2);
  const { tails, heads } = chains;
  for (let at = 0; at < ground.coded.count; at++) {
    chains.refreshTail(at);
    chains.refreshHead(at);
  }
  for (let time = 0; time < 20_000; time++) {
    const [tail, head] = [0, 1].map(() => Math.floor(chance() * ground.coded.count)) as [number, number];
    if (!learned.comparer.all(tails, tail, heads, head, comparison)) continue;
    let rest = 0;
    for (let field = 0; field < FIELD_COUNT; field++)
      if (field !== FORENAMES_FIELD) rest += fieldBits(learned.weights, comparison, field);
    expect(bound.rest(tails, tail, heads, head)).toBeGreaterThanOrEqual(rest - 1e-9);
    const forenames = bound.forenames(tails.forenames[tail] ?? -1, heads.forenames[head] ?? -1);
    expect(forenames).toBeGreaterThanOrEqual(fieldBits(learned.weights, comparison, FORENAMES_FIELD) - 1e-9);
  }
});
