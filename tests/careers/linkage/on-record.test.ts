import { describe, expect, test } from 'vitest';
import type { LinkageInput } from '../../../src/careers/linkage/entries.ts';
import { linkEntries } from '../../../src/careers/linkage/link-entries.ts';
import { type Line, listed, yearly } from './listed.ts';

const captain = { rank: 'Captain' as const, corps: '12 Fencibles', dated: '1799-05-16', name: 'Holt, Adam' };
const LINES: readonly Line[] = [
  ...yearly('a', 1800, 1802, { ...captain, person: 'p1' }),
  ...yearly('b', 1803, 1805, { ...captain, person: 'p2' }),
  ...yearly('c', 1800, 1805, { ...captain, corps: '40 Fencibles', dated: '1797-02-01', name: 'Dunst, Hugh' }),
];
const placed = (input: LinkageInput, isPlaced = true): LinkageInput => ({
  ...input,
  entries: input.entries.map((entry) => ({ ...entry, placed: isPlaced && entry.person !== undefined })),
});
const asked = (input: LinkageInput) =>
  linkEntries(input)
    .doubts()
    .filter(({ one, other }) => `${one} ${other}` === 'a1802 b1803');

describe('two people on record, one after the other', () => {
  test('are asked about where their lines were put together, and taken for two until then', () => {
    const [doubt] = asked(placed(listed(LINES)));
    expect(doubt).toMatchObject({ joined: false, settles: 9 });
    expect(doubt?.chance).toBeGreaterThan(0.9);
    expect(linkEntries(placed(listed(LINES))).explained('a1802', 'b1803')?.chance).toBe(doubt?.chance);
  });

  test('are not asked about where they were recorded with their lines', () =>
    expect(asked(placed(listed(LINES), false))).toEqual([]));

  test.each(['same', 'differ'] as const)('are not asked about once it is decided: %s', (kind) => {
    const bindings = [{ kind, one: 'p1', other: 'p2' }];
    expect(asked({ ...placed(listed(LINES)), bindings })).toEqual([]);
  });

  test('nor where they are surely two', () => {
    const other = LINES.map((line) => (line.person === 'p2' ? { ...line, name: 'Holt, Zachary' } : line));
    expect(asked(placed(listed(other)))).toEqual([]);
  });
});
