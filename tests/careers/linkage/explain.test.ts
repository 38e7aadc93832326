import { expect, test, vi } from 'vitest';
import { linkEntries } from '../../../src/careers/linkage/link-entries.ts';
import { generatedService, USUAL_FAULTS } from './generated-service.ts';
import { listed } from './listed.ts';

vi.setConfig({ testTimeout: 120_000 });

const service = generatedService(4000, 7, { ...USUAL_FAULTS, surnames: 40, omitted: 0.08, misprinted: 0.08 });
const found = linkEntries(service);
const bitsOf = (pairs: readonly { readonly bits: number; readonly sign: number }[]): number =>
  pairs.reduce((sum, { bits, sign }) => sum + sign * bits, 0);

test('the chance of every doubt is that of its pairs against the next best, and the bits of a pair are those of its grounds', () => {
  const kinds = new Set<string>();
  for (const { one, other, chance, joined } of found.doubts()) {
    const told = found.explained(one, other);
    expect(told?.chance).toBe(chance);
    const { pairs, otherwise, margin, line } = told as NonNullable<typeof told>;
    expect(1 / (1 + 2 ** -(bitsOf(pairs) - otherwise.bits))).toBeCloseTo(chance, 9);
    for (const { grounds, bits } of [...pairs, ...otherwise.pairs])
      expect(grounds.reduce((sum, each) => sum + each.bits, 0)).toBeCloseTo(bits, 9);
    // What is joined as things stand is at least as good as any other way.
    if (joined) expect(margin).toBeGreaterThan(-1e-6);
    kinds.add(`${joined ? 'joined' : 'apart'} ${line === undefined ? 'join' : 'line'}`);
  }
  expect(kinds).toEqual(new Set(['joined join', 'joined line', 'apart join', 'apart line']));
});

test('the sides of a doubt are as many pairs as it settles', () => {
  for (const { one, other, settles } of found.doubts()) {
    const sides = found.sides(one, other);
    expect((sides?.one.length ?? 0) * (sides?.other.length ?? 0)).toBe(settles);
  }
});

test('a certain join is explained like a doubtful one, and what is neither is not', () => {
  const person = found.people.findIndex((_, at) => found.joins(at).some(({ decision }) => decision === 'certain'));
  for (const { earlier, later, chance, decision } of found.joins(person))
    if (decision === 'certain') expect(found.explained(earlier, later)?.chance).toBeCloseTo(chance, 12);
  const [first, second] = found.people.map(({ entries }) => entries[0] as string);
  expect(found.explained(first as string, second as string)).toBeUndefined();
});

test.each<[why: string, lines: Parameters<typeof listed>[0], told: RegExp | undefined]>([
  ['one edition', [line('a', 1834, 'Holt, Adam'), line('b', 1834, 'Holt, Adam')], /in one edition/],
  ['no slip', [line('a', 1834, 'Holt, Adam'), line('b', 1835, 'Ferrand, Adam')], /no slip explains/],
  ['two kinds', [line('a', 1834, 'Holt, Adam'), { ...line('b', 1835, 'Holt, Adam'), kind: 'brevet' }], /two kinds/],
  [
    'two persons',
    [
      { ...line('a', 1834, 'Holt, Adam'), person: 'p1' },
      { ...line('b', 1835, 'Holt, Adam'), person: 'p2' },
    ],
    /on record/,
  ],
  ['far apart', [line('a', 1734, 'Holt, Adam'), line('b', 1835, 'Holt, Adam')], /working life/],
  ['nothing', [line('a', 1834, 'Holt, Adam'), line('b', 1835, 'Holt, Adam')], undefined],
])('why two are never put together: %s', (_why, lines, told) => {
  const linkage = linkEntries(listed(lines));
  const why = linkage.whyNever('a', 'b');
  if (told === undefined) expect(why).toBeUndefined();
  else expect(why).toMatch(told);
});

function line(id: string, year: number, name: string) {
  return { id, year, name, rank: 'Captain' as const, corps: '12 Fencibles', dated: '1730-05-16' };
}
