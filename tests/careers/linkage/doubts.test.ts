import { expect, test } from 'vitest';
import type { Chains } from '../../../src/careers/linkage/chains.ts';
import { rankedDoubts } from '../../../src/careers/linkage/doubts.ts';
import { linkEntries } from '../../../src/careers/linkage/link-entries.ts';
import type { Margins } from '../../../src/careers/linkage/margins.ts';
import { listed, yearly } from './listed.ts';

test('two lines that are joined to each other alone are one question, told with the more open chance', () => {
  const margins = { line: [2, 1], join: [3, 3], lineInstead: [-1, -1], joinInstead: [-1, -1], apart: [] };
  const chains = { previous: [-1, 0], next: [1, -1] };
  const doubts = rankedDoubts(margins as unknown as Margins, chains as unknown as Chains, [], [], 4);
  expect(doubts).toMatchObject([{ tail: 0, head: 1, joined: true, chance: 2 / 3 }]);
});

test('that both are called the younger speaks for one, not against it', () => {
  const others = ['Ferrand, Julian', 'Holt, James', 'Zouch, Crispin', 'Vosper, George', 'Wystan, Giles'];
  const found = linkEntries(
    listed([
      ...others.flatMap((name, at) =>
        yearly(`o${at}-`, 1801, 1810, { name, rank: 'Captain', corps: `${at + 1} Fencibles`, dated: `179${at}-05-16` }),
      ),
      { id: 'sen', year: 1801, name: 'Penhale, Hugh, sen.', rank: 'Captain', corps: 'Gannet', dated: '1792-09-09' },
      { id: 'jun-1', year: 1801, name: 'Penhale, Hugh, jun.', rank: 'Ensign', corps: 'Gannet', dated: '1800-08-01' },
      { id: 'jun-2', year: 1803, name: 'Penhale, Hugh, jun.', rank: 'Ensign', corps: 'Petrel', dated: '1800-08-01' },
    ]),
  );
  const { grounds } = found.compared('jun-1', 'jun-2');
  expect(grounds.find(({ field }) => field === 'suffix')?.bits).toBeGreaterThan(0);
});
