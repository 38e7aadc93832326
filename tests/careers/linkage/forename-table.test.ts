import { describe, expect, test } from 'vitest';
import { FIELDS, FORENAMES_FIELD } from '../../../src/careers/linkage/fields.ts';
import { forenameTable, NOTHING } from '../../../src/careers/linkage/forename-table.ts';

const texts = [
  'Julian Peter',
  'J. P.',
  'Julian',
  'Wm.',
  'William',
  'Jullian Peter',
  'Julian F.',
  'Peter',
  'James',
  '',
  'Julian Paul',
  'J.',
  '(Pat',
];
const uses = Int32Array.from([10, 5, 5, 1, 20, 1, 1, 5, 30, 2, 1, 20, 1]);
const table = forenameTable(texts, uses);
const at = (text: string): number => texts.indexOf(text);

describe('level', () => {
  test.each<[one: string, other: string, name: string]>([
    ['Julian Peter', 'Julian Peter', 'agree'],
    ['Julian Peter', 'J. P.', 'agree'],
    ['Wm.', 'William', 'agree'],
    ['Julian Peter', 'Julian', 'agree as far as given'],
    ['Julian Peter', 'J.', 'agree as far as given'],
    ['Julian Peter', 'Jullian Peter', 'one differs by a few letters or in its initial'],
    ['Julian Peter', 'Julian F.', 'one differs by a few letters or in its initial'],
    ['Julian Peter', 'Julian Paul', 'one of several differs, or the first is left out'],
    ['Julian Peter', 'Peter', 'one of several differs, or the first is left out'],
    ['Julian Peter', 'James', 'differ'],
    ['William', 'J.', 'differ'],
  ])('%s and %s: %s', (one, other, name) => {
    expect(FIELDS[FORENAMES_FIELD]?.levels[table.level(at(one), at(other))]?.name).toBe(name);
    expect(table.level(at(other), at(one))).toBe(table.level(at(one), at(other)));
  });
  test('none on one side says nothing', () => {
    expect(table.level(at(''), at('Julian'))).toBe(NOTHING);
    expect(table.level(at(''), at(''))).toBe(NOTHING);
  });
});

describe('log2Chance', () => {
  test('a rare name agrees by chance more rarely than a common one, and an initial more often', () => {
    expect(table.log2Chance(at('William'), at('William'))).toBeGreaterThan(
      table.log2Chance(at('Julian'), at('Julian')),
    );
    expect(table.log2Chance(at('Julian'), at('J.'))).toBeGreaterThan(table.log2Chance(at('Julian'), at('Julian')));
  });
  test('it is the share of those who have that initial', () =>
    // Of all first forenames 75 + 1 + 2 (I is J) … those in J: all but Wm., William, Peter and "(Pat".
    expect(table.log2Chance(at('J.'), at('J.'))).toBeCloseTo(Math.log2((10 + 5 + 5 + 1 + 1 + 30 + 1 + 20) / 100), 9));
  test('two forenames are rarer than one', () =>
    expect(table.log2Rarest[at('Julian Peter')]).toBeLessThan(table.log2Rarest[at('Julian')] ?? 0));
});

test('fuller: more of the name, and of two that contradict the commoner', () => {
  expect(table.fuller(at('J. P.'), at('Julian Peter'))).toBe(at('Julian Peter'));
  expect(table.fuller(at('Julian Peter'), at('Julian'))).toBe(at('Julian Peter'));
  expect(table.fuller(at('Jullian Peter'), at('Julian Peter'))).toBe(at('Julian Peter'));
  expect(table.fuller(at(''), at('J.'))).toBe(at('J.'));
});

test('mayAgree is false only where the level is not agreement', () => {
  for (const one of texts.keys())
    for (const other of texts.keys())
      if (!table.mayAgree(one, other)) expect(table.level(one, other)).toBeGreaterThan(1);
  expect(table.mayAgree(at('Julian'), at('William'))).toBe(false);
});
