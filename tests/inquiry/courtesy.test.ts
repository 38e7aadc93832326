import { describe, expect, test } from 'vitest';
import { candidatesForText } from '../../src/inquiry/candidates.ts';
import { readDate } from '../../src/time/read-date.ts';
import { type Line, ledgerOf, listed, listOf, removeLedgersAfterEach } from './made-up-ledger.ts';

removeLedgersAfterEach();

const LIST = listOf(1830, 1834, 1838);
const line = (year: number, rank: string, kind: string): Line => ({
  type: 'entry',
  edition: `al-${year}`,
  person: 'ferrand',
  name: 'Julian Ferrand',
  rank,
  kind,
});
const died: Line = { type: 'notice', person: 'ferrand', event: 'died', date: '1870', source: 'register' };
const left = (rank: string, date: string): Line => ({
  type: 'notice',
  person: 'ferrand',
  event: 'retired',
  date,
  rank,
  source: 'gazette',
});
/** A brevet held on 1 January 1834 only, so that what is found long after can but be a courtesy. */
const BREVET = [line(1834, 'Major', 'brevet'), { ...left('Major', '1835'), kind: 'brevet' }];

/** What somebody recorded weighs as the major of 1860, long after every post was left, for each person expected. */
function majorOf1860(...lines: Line[]): number {
  const db = ledgerOf(...LIST, ...listed('ferrand', 'Julian Ferrand', 'Captain', 1830), ...lines, died);
  const asked = { between: readDate('1860').span, tried: 0 };
  const { unrecorded } = candidatesForText(db, { text: 'Major Ferrand', role: 'owner', parts: {} }, asked);
  return ((1 - unrecorded.share) / unrecorded.share) * unrecorded.expected;
}

const substantive = (rank: string): Line[] => [line(1838, rank, 'substantive'), left(rank, '1840')];

describe('a style kept after leaving', () => {
  test('a brevet that was the last style is kept: at the three bits of a courtesy', () => {
    expect(majorOf1860(...BREVET)).toBeCloseTo(1 / 8, 9);
  });

  test('a brevet is not kept beside a higher rank that was reached after it', () => {
    expect(majorOf1860(...BREVET, ...substantive('Lieut.-Col.'))).toBe(0);
  });

  test('a brevet that became the rank itself is kept once, not twice', () => {
    expect(majorOf1860(...BREVET, ...substantive('Major'))).toBeCloseTo(1 / 8, 9);
  });
});
