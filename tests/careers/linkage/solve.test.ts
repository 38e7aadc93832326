import { describe, expect, test } from 'vitest';
import { byEdition, cuts, totalWorth } from '../../../src/careers/linkage/solve.ts';
import { generatedService, USUAL_FAULTS } from './generated-service.ts';
import { bestOfAllWays, partAll, smallBlocks, solving } from './small-blocks.ts';

const NAMESAKES = { ...USUAL_FAULTS, surnames: 12, omitted: 0.1, misprinted: 0.15 };
const hard = generatedService(4000, 3, NAMESAKES);

describe.each([
  ['with dates of rank', hard],
  ['without', generatedService(4000, 3, { ...NAMESAKES, dated: false })],
  // Only initials, and half of the corps left out.
  [
    'with little to go by',
    {
      ...hard,
      entries: hard.entries.map((entry, at) => ({
        ...entry,
        forenames: entry.forenames.charAt(0),
        corps: at % 2 === 0 ? undefined : entry.corps,
      })),
    },
  ],
])('%s', (_what, service) => {
  const all = solving(service);
  const { ground, chains, worth, solve } = all;

  test('the careers of a block are as good as the best of all ways, but for 1 in 100', () => {
    let worse = 0;
    let blocks = 0;
    for (const block of smallBlocks(all, 120, 7)) {
      partAll(chains);
      solve(block);
      const found = totalWorth(block, chains, worth);
      const best = bestOfAllWays(all, block);
      expect(found).toBeLessThanOrEqual(best + 1e-6);
      blocks++;
      if (found < best - 1e-6) worse++;
    }
    expect(blocks).toBeGreaterThan(100);
    expect(worse).toBeLessThanOrEqual(blocks / 100);
  });

  test('a career goes forward in time, and all are chains', () => {
    const [block] = [...smallBlocks(all, 1, 60)];
    if (block === undefined) throw new Error('no block');
    partAll(chains);
    solve(block);
    for (const at of block) {
      const next = chains.next[at] ?? -1;
      if (next < 0) continue;
      expect(chains.previous[next]).toBe(at);
      expect(ground.coded.step[next] ?? 0).toBeGreaterThan(ground.coded.step[at] ?? 0);
    }
  });

  test('cuts: the parts before and after each edition', () => {
    const [block] = [...smallBlocks(all, 1, 40)];
    if (block === undefined) throw new Error('no block');
    partAll(chains);
    solve(block);
    const step = (at: number): number => ground.coded.step[at] ?? 0;
    for (const { lines, ends, beginnings } of cuts(block, byEdition(ground.coded, block), chains)) {
      const now = step(lines[0] ?? -1);
      const first = (at: number): boolean =>
        step(at) > now && ((chains.previous[at] ?? -1) < 0 || step(chains.previous[at] ?? 0) <= now);
      expect([...beginnings].sort()).toEqual([...block].filter(first).sort());
      for (const line of lines) {
        ends.delete(chains.previous[line] ?? -1);
        ends.add(line);
      }
      const last = (at: number): boolean =>
        step(at) <= now && ((chains.next[at] ?? -1) < 0 || step(chains.next[at] ?? 0) > now);
      expect([...ends].sort()).toEqual([...block].filter(last).sort());
    }
  });
});
