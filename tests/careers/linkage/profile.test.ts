import { expect, test } from 'vitest';
import { join, newChains, refresh } from '../../../src/careers/linkage/chains.ts';
import { groundOf } from '../../../src/careers/linkage/ground.ts';
import { listed } from './listed.ts';

const ground = groundOf(
  listed([
    { id: 'e1', year: 1800, name: 'Ferrand, J.', corps: 'A', rank: 'Ensign', dated: '1799-01-02' },
    { id: 'e2', year: 1801, name: 'Ferrand, Julian Peter', corps: 'B', rank: 'Ensign' },
    { id: 'e3', year: 1802, name: 'Ferand, Julian', rank: 'Captain', dated: '1801-05-06' },
    { id: 'e4', year: 1803, name: 'Ferrand, Julian, jun.', corps: 'A', person: 'p1' },
  ]),
);
const { coded } = ground;
const chains = newChains(coded.count, ground.extend);
for (const at of [0, 1, 2]) join(chains, at, at + 1);
refresh(chains, Int32Array.from([0, 1, 2, 3]));
const { tails, heads } = chains;

test('up to the third line: the fullest name, the nearest corps, rank and date', () => {
  expect(coded.forenameTexts[tails.forenames[2] ?? -1]).toBe('Julian Peter');
  expect([tails.corpsAt[2], tails.rankAt[2], tails.datedAt[2]]).toEqual([1, 2, 2]);
  expect([tails.corpsBeyond[2], tails.rankBeyond[2], tails.datedBeyond[2]]).toEqual([0, 1, 0]);
  expect(tails.end[2]).toBe(0);
  expect(tails.owner[2]).toBe(-1);
});

test('the commoner spelling is his name, the other is known too', () => {
  expect(coded.surnames[tails.surname[2] ?? -1]).toBe('ferrand');
  expect(coded.surnames[tails.otherSurname[2] ?? -1]).toBe('ferand');
});

test('from the second line on: what the lines after it say', () => {
  expect([heads.corpsAt[1], heads.rankAt[1], heads.datedAt[1]]).toEqual([1, 1, 2]);
  expect([heads.corpsBeyond[1], heads.rankBeyond[1], heads.datedBeyond[1]]).toEqual([3, 2, -1]);
  expect([heads.end[1], heads.suffixBeyond[1]]).toEqual([3, 3]);
  expect(heads.owner[1]).toBe(coded.owner[3]);
});
