import { expect, test } from 'vitest';
import { findMargins, newMargins } from '../../../src/careers/linkage/margins.ts';
import { totalWorth } from '../../../src/careers/linkage/solve.ts';
import { generatedService, USUAL_FAULTS } from './generated-service.ts';
import { bestOfAllWays, partAll, smallBlocks, solving } from './small-blocks.ts';

const all = solving(
  generatedService(4000, 3, { ...USUAL_FAULTS, surnames: 12, omitted: 0.1, misprinted: 0.15, dated: false }),
);
const { ground, chains, worth, solve } = all;
const LIMIT = 8;

test('a doubtful join costs about its margin, by trying all ways without it', () => {
  let joins = 0;
  let near = 0;
  for (const block of smallBlocks(all, 240, 6)) {
    partAll(chains);
    solve(block);
    const found = totalWorth(block, chains, worth);
    const margins = newMargins(ground.coded.count);
    findMargins(ground.coded, block, chains, worth, LIMIT, margins);
    const doubtful = [...block].flatMap((at) => {
      const head = chains.next[at] ?? -1;
      const margin = Math.min(margins.join[at] ?? 0, margins.line[at] ?? 0, head < 0 ? 0 : (margins.line[head] ?? 0));
      return head >= 0 && margin < LIMIT ? [{ at, head, margin }] : [];
    });
    for (const { at, head, margin } of doubtful) {
      const loss = found - bestOfAllWays(all, block, () => chains.next[at] !== head);
      joins++;
      if (Math.abs(loss - margin) < 1) near++;
    }
  }
  expect(joins).toBeGreaterThan(30);
  expect(near / joins).toBeGreaterThan(0.9);
});
