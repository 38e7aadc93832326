import { expect, test } from 'vitest';
import { candidatesForText } from '../../src/inquiry/candidates.ts';
import { readDate } from '../../src/time/read-date.ts';
import { type Line, ledgerOf, listed, listOf, removeLedgersAfterEach } from './made-up-ledger.ts';

removeLedgersAfterEach();

/** How the tenure of a captain of 1834 can stand to the years 1830 to 1838, with conditions of service. */
function relations(...conditions: Line[]): readonly string[] {
  const db = ledgerOf(...listOf(1834), ...listed('ferrand', 'Julian Ferrand', 'Captain', 1834), ...conditions);
  const asked = { between: readDate('1830/1838').span, tried: 0 };
  const [ferrand] = candidatesForText(db, { text: 'Captain Ferrand', role: 'owner', parts: {} }, asked).candidates;
  return ferrand?.relations ?? [];
}

const inRank = (field: 'atLeastDays' | 'atMostDays', days: number): Line => ({
  type: 'condition',
  rank: 'Captain',
  service: 'army',
  [field]: days,
  source: 'Regulations',
});

test('a condition of service leaves only such relations to the window as a tenure of that length can have', () => {
  const any = relations();
  expect(any).toContain('contains');
  expect(any).toContain('during');
  expect(relations(inRank('atMostDays', 2500))).toEqual(
    any.filter((one) => !['contains', 'equals', 'started by', 'finished by'].includes(one)),
  );
  expect(relations(inRank('atLeastDays', 4000))).toEqual(
    any.filter((one) => !['during', 'equals', 'starts', 'finishes'].includes(one)),
  );
});
