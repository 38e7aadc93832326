import { describe, expect, test } from 'vitest';
import { linkEntries } from '../../../src/careers/linkage/link-entries.ts';
import { generatedService, USUAL_FAULTS } from './generated-service.ts';

const service = generatedService(8000, 21, { ...USUAL_FAULTS, surnames: 400 });
const { weights } = linkEntries(service);
const row = (field: string, level: string) => weights.rows.find((each) => each.field === field && each.level === level);

/** Successive lines of each man, as they really are. */
const successive = (() => {
  const lines = service.entries
    .map((entry, at) => ({ entry, person: service.truth[at] ?? -1 }))
    .sort((a, b) => a.person - b.person || a.entry.edition - b.entry.edition);
  return lines
    .slice(1)
    .flatMap((line, at) => (lines[at]?.person === line.person ? [[lines[at]?.entry, line.entry] as const] : []));
})();
const share = (of: (pair: (typeof successive)[0]) => boolean): number =>
  successive.filter(of).length / successive.length;

describe('the weights are learned from the lines alone', () => {
  test('how often the corps stays the same', () =>
    expect(row('corps', 'the same')?.sameMan).toBeCloseTo(
      share(([a, b]) => a?.corps?.key === b.corps?.key),
      2,
    ));
  test('how often the rank does', () =>
    expect(row('rank', 'the same')?.sameMan).toBeCloseTo(
      share(([a, b]) => a?.rank?.id === b.rank?.id),
      2,
    ));
  test('how often a man is found in the next list', () =>
    expect(weights.found[0]?.chance).toBeCloseTo(
      share(([a, b]) => b.edition === (a?.edition ?? 0) + 1) *
        (successive.length / (successive.length + service.people * 0.8)),
      1,
    ));
  test('how often two men are in one corps', () => expect(row('corps', 'the same')?.twoMen).toBeCloseTo(1 / 150, 2));
  test('agreement speaks for one man, contradiction for two', () => {
    expect(row('surname', 'the same')?.bits).toBeGreaterThan(5);
    expect(row('forenames', 'differ')?.bits).toBeLessThan(-8);
    expect(row('rank', 'down')?.bits).toBeLessThan(-5);
    expect(row('date of rank, rank the same', 'the same')?.bits).toBeGreaterThan(6);
    expect(row('date of rank, rank the same', 'earlier')?.bits).toBeLessThan(-5);
    expect(row('corps', 'another')?.bits).toBeLessThan(-2);
  });
});

test('the table holds every level, and says where the value decides', () => {
  expect(weights.rows).toHaveLength(43);
  expect(row('surname', 'the same')?.byValue).toBe(true);
  expect(row('corps', 'another')?.byValue).toBe(false);
  for (const { sameMan, twoMen, bits } of weights.rows) expect(bits).toBeCloseTo(Math.log2(sameMan / twoMen), 9);
});
