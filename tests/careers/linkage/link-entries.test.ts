import fc from 'fast-check';
import { beforeAll, describe, expect, test, vi } from 'vitest';
import type { LinkageInput, ListEntry } from '../../../src/careers/linkage/entries.ts';
import { linkEntries } from '../../../src/careers/linkage/link-entries.ts';
import type { Linkage } from '../../../src/careers/linkage/linkage.ts';
import { generatedService, seededChance, USUAL_FAULTS } from './generated-service.ts';
import { areOne, editionOf, entryOf, isoDate, type Line, listed, partition, yearly } from './listed.ts';

vi.setConfig({ hookTimeout: 120_000, testTimeout: 240_000 });

/** A service of 150 years among whose lines those that are asked about stand, so that there is something to learn from. */
const service = generatedService(4000, 11, { ...USUAL_FAULTS, surnames: 300 });
const background = { ...service, entries: service.entries.map((entry) => ({ ...entry, id: `g-${entry.id}` })) };
const FIRST_YEAR = 1760;

function among(lines: readonly Line[], more: Partial<LinkageInput> = {}): LinkageInput {
  const extra = [...new Set(lines.filter(({ series }) => series !== undefined).map(({ year }) => year))];
  const editions = [...background.editions, ...extra.map((year) => editionOf(year, 'b'))];
  const entries = lines.map((line) =>
    entryOf(
      line,
      line.series === undefined ? line.year - FIRST_YEAR : background.editions.length + extra.indexOf(line.year),
    ),
  );
  return { ...background, editions, entries: [...background.entries, ...entries], ...more };
}

const captain = { rank: 'Captain', corps: '12 Fencibles', dated: '1799-05-16' };
const ensign = { rank: 'Ensign', corps: '12 Fencibles', dated: '1799-05-16' };

const lines: Line[] = [
  // 1
  ...yearly('a', 1800, 1803, { ...captain, name: 'Zabelle, Julian Peter' }),
  { id: 'a-initials', year: 1804, ...captain, name: 'Zabelle, J. P.' },
  // 2
  ...yearly('b', 1800, 1802, { ...captain, name: 'Quorndale, Hugh' }),
  { id: 'b-slip', year: 1803, ...captain, name: 'Quornda1e, Hugh' },
  ...yearly('b', 1804, 1806, { ...captain, name: 'Quorndale, Hugh' }),
  // 3
  ...yearly('c', 1800, 1802, { ...captain, name: 'Ysterham, Mark' }),
  ...yearly('c', 1803, 1806, { ...captain, name: 'Isterham, Mark' }),
  // 4
  ...yearly('d', 1800, 1802, { ...captain, name: 'Xanwell, Adam' }),
  ...yearly('d', 1804, 1806, { ...ensign, corps: '40 Fencibles', dated: '1803-02-01', name: 'Xanwell, Adam' }),
  // 5
  ...yearly('e', 1800, 1804, { ...captain, name: 'Jubstead, John' }),
  ...yearly('f', 1800, 1804, { ...ensign, corps: '88 Fencibles', dated: '1797-11-20', name: 'Jubstead, John' }),
  // 6
  ...yearly('g', 1800, 1802, { ...captain, name: 'Vosper, George' }),
  ...yearly('h', 1803, 1806, { ...ensign, dated: '1802-11-20', name: 'Vosper, George, jun.' }),
  // 7
  ...yearly('i', 1800, 1802, { ...captain, name: 'Wystan, Giles' }),
  ...yearly('i', 1804, 1806, { ...captain, name: 'Wystan, Giles' }),
  // 8
  ...yearly('j', 1800, 1802, { ...captain, name: 'Zennor, James' }),
  ...yearly('j', 1803, 1806, { ...captain, corps: '77 Fencibles', name: 'Zennor, James' }),
  // 9
  ...yearly('k', 1800, 1802, { ...captain, name: 'Quillan, Robert' }),
  ...yearly('l', 1803, 1806, { ...ensign, dated: '1802-11-20', name: 'Quillan, Septimus' }),
  // 10
  ...yearly('m', 1800, 1806, { ...captain, name: 'Zouch, Crispin' }),
  { id: 'm-brevet', year: 1804, rank: 'Major', kind: 'brevet', dated: '1803-04-29', name: 'Zouch, Crispin' },
  // 11
  ...yearly('n', 1800, 1802, { ...captain, name: 'Yealand, Luke' }),
  ...yearly('o', 1806, 1808, {
    rank: 'Major',
    corps: '3 Fencibles',
    dated: '1805-01-09',
    name: 'Oldacre-Yealand, Luke',
  }),
  // 12
  ...yearly('p', 1800, 1806, { ...captain, name: 'Xavern, Miles' }),
  // 13
  ...yearly('q', 1800, 1806, { ...captain, name: 'Zillah, Peter', person: 'p7' }),
  ...yearly('r', 1807, 1809, { ...captain, name: 'Zillah, Peter' }),
  // 14
  { id: 's1', year: 1803, ...captain, name: 'Quantock, Abel' },
  { id: 's2', year: 1803, ...captain, corps: '55 Fencibles', name: 'Quantock, Abel', series: 'b' },
  // 15
  ...yearly('t', 1800, 1802, { ...captain, dated: '1798-03-07', corps: '31 Fencibles', name: 'Yarnold, Ambrose' }),
  ...yearly('t', 1803, 1806, { ...captain, dated: '1798-03-07', corps: '31 Fencibles', name: 'Wexcombe, Ambrose' }),
  // 16
  ...yearly('u', 1800, 1803, { ...captain, rank: 'Major', dated: '1790-05-16', name: 'Zorrick, Hugh' }),
  ...yearly('v', 1804, 1809, { ...ensign, dated: '1803-08-07', name: 'Zorrick, Hugh' }),
];

describe('lines among a service', () => {
  let found: Linkage;
  beforeAll(() => {
    found = linkEntries(
      among(lines, {
        bindings: [
          { kind: 'same', one: 'n1800', other: 'o1807' },
          { kind: 'differ', one: 'p1802', other: 'p1804' },
        ],
        lives: [{ person: 'p7', born: undefined, died: isoDate('1806-06-01') }],
      }),
    );
  });

  test.each<[rule: string, one: string, other: string, areSame: boolean]>([
    ['1. initials stand for the names in full', 'a1800', 'a-initials', true],
    ['2. a slip in one line is no other man', 'b1800', 'b-slip', true],
    ['2. nor does it end his career', 'b1800', 'b1806', true],
    ['3. another spelling with the same date of rank', 'c1800', 'c1806', true],
    ['4. nobody goes down the ladder', 'd1800', 'd1806', false],
    ['5. two of one name in one edition are two', 'e1800', 'f1800', false],
    ['5. each of them goes on', 'e1800', 'e1804', true],
    ['5. the other too', 'f1800', 'f1804', true],
    ['6. a younger one of the name is another', 'g1800', 'h1806', false],
    ['7. an omission of the printer', 'i1800', 'i1806', true],
    ['8. an exchange keeps the date of rank', 'j1800', 'j1806', true],
    ['9. forenames that contradict', 'k1800', 'l1806', false],
    ['10. a brevet belongs to the man', 'm1800', 'm-brevet', true],
    ['11. what is bound together stays so, whatever the names', 'n1800', 'o1807', true],
    ['11. with all that is joined to either', 'n1801', 'o1808', true],
    ['12. what is kept apart stays so', 'p1802', 'p1804', false],
    ['13. nobody is listed for years after his death', 'q1806', 'r1808', false],
    ['14. nobody is in two corps on one day', 's1', 's2', false],
    ['15. a change of name is never taken', 't1800', 't1806', false],
  ])('%s', (_rule, one, other, areSame) => expect(areOne(found, one, other)).toBe(areSame));

  test('12. the rest of that career is shared out, none of it lost', () => {
    const parts = found.people.filter(({ entries }) => entries.some((id) => /^p18/.test(id)));
    expect(parts.flatMap(({ entries }) => entries)).toHaveLength(7);
  });

  test('13. whose person is known is told', () =>
    expect(found.people.find(({ entries }) => entries.includes('q1800'))?.persons).toEqual(['p7']));

  test('16. a son who comes new when his father has gone is not taken for him without being asked', () => {
    const person = found.people.findIndex(({ entries }) => entries.includes('u1803'));
    const join = found.joins(person).find(({ earlier }) => earlier === 'u1803');
    expect(join?.decision ?? 'apart').not.toBe('certain');
  });

  test('15. it is proposed', () => {
    const change = found.nameChanges().find(({ last }) => last === 't1802');
    expect(change).toMatchObject({ first: 't1803', before: 'Ambrose Yarnold', after: 'Ambrose Wexcombe' });
    expect(change?.grounds.map(({ text }) => text)).toContain('date of rank, rank the same: the same (1798-03-07)');
  });

  test('each entry is of one person', () => {
    const all = found.people.flatMap(({ entries }) => entries);
    expect(all).toHaveLength(background.entries.length + lines.length);
    expect(new Set(all).size).toBe(all.length);
  });

  test('a join has its weight, its grounds and its decision', () => {
    const person = found.people.findIndex(({ entries }) => entries.includes('j1802'));
    const join = found.joins(person).find(({ earlier }) => earlier === 'j1802');
    expect(join).toMatchObject({ later: 'j1803', decision: 'certain' });
    expect(join?.chance).toBeGreaterThan(0.95);
    const grounds = join?.grounds ?? [];
    expect(grounds.reduce((sum, { bits }) => sum + bits, 0)).toBeCloseTo(join?.bits ?? 0, 9);
    expect(grounds.map(({ text }) => text)).toEqual([
      'surname: the same (Zennor)',
      'forenames: agree (James)',
      'suffix: none',
      'rank: the same (Captain)',
      'date of rank, rank the same: the same (1799-05-16)',
      'corps: another (12 Fencibles, then 77 Fencibles)',
      'lists: found in the next one looked at (1802, 1803)',
    ]);
    expect(grounds.find(({ field }) => field === 'corps')?.bits).toBeLessThan(0);
  });

  test('a bound join says so', () => {
    const person = found.people.findIndex(({ entries }) => entries.includes('n1800'));
    const join = found.joins(person).find(({ later }) => later === 'o1806');
    expect(join).toMatchObject({ earlier: 'n1802', decision: 'bound', chance: 1 });
  });
});

test('nothing depends on the order of recording', () =>
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 2 ** 31 }), (seed) => {
      const service = generatedService(1200, 5, { ...USUAL_FAULTS, surnames: 25, misprinted: 0.1 });
      const chance = seededChance(seed);
      const shuffled = <T>(list: readonly T[]): T[] =>
        list
          .map((item) => ({ item, at: chance() }))
          .sort((a, b) => a.at - b.at)
          .map(({ item }) => item);
      const editions = shuffled(service.editions);
      const places = service.editions.map((edition) => editions.indexOf(edition));
      const entries = shuffled(service.entries).map(
        (entry): ListEntry => ({ ...entry, edition: places[entry.edition] ?? 0 }),
      );
      const [plain, mixed] = [linkEntries(service), linkEntries({ ...service, editions, entries })];
      expect(partition(mixed)).toEqual(partition(plain));
      expect(mixed.weights).toEqual(plain.weights);
      expect(mixed.doubts().map(({ one, other }) => [one, other])).toEqual(
        plain.doubts().map(({ one, other }) => [one, other]),
      );
    }),
    { numRuns: 3, seed: 4 },
  ));

describe('doubts', () => {
  const service = generatedService(6000, 3, { ...USUAL_FAULTS, surnames: 40, dated: false, omitted: 0.05 });
  const truth = new Map(service.entries.map(({ id }, at) => [id, service.truth[at]]));
  const isRight = ({ one, other }: { one: string; other: string }): boolean => truth.get(one) === truth.get(other);
  let found: Linkage;
  beforeAll(() => {
    found = linkEntries(service);
  });

  test('they are the open ones, first those that settle most', () => {
    const doubts = found.doubts();
    expect(doubts.length).toBeGreaterThan(10);
    const gain = ({ chance, settles }: { chance: number; settles: number }): number =>
      -settles * (chance * Math.log2(chance) + (1 - chance) * Math.log2(1 - chance)) || 0;
    for (const [at, doubt] of doubts.entries()) {
      expect(doubt.chance).toBeLessThan(0.95);
      expect(doubt.joined).toBe(areOne(found, doubt.one, doubt.other));
      const next = doubts[at + 1];
      if (next !== undefined) expect(gain(next)).toBeLessThanOrEqual(gain(doubt) + 1e-9);
    }
  });

  test('their chances are fair: about as many are right as they say', () => {
    const doubts = found.doubts();
    const [said, right] = [doubts.reduce((sum, { chance }) => sum + chance, 0), doubts.filter(isRight).length];
    expect(Math.abs(said - right) / doubts.length).toBeLessThan(0.2);
  });

  test('answers are kept and make the rest surer', () => {
    const doubts = found.doubts();
    const bindings = doubts.map((doubt) => ({
      kind: isRight(doubt) ? ('same' as const) : ('differ' as const),
      one: doubt.one,
      other: doubt.other,
    }));
    const after = linkEntries({ ...service, bindings });
    for (const { kind, one, other } of bindings) expect(areOne(after, one, other)).toBe(kind === 'same');
    expect(after.doubts().length).toBeLessThan(doubts.length / 2);
  });
});

test('nothing is put together where there is nothing', () => {
  const empty = linkEntries(listed([{ id: 'e1', year: 1800, name: 'Ferrand, Julian' }], { entries: [] }));
  expect(empty.people).toEqual([]);
  expect(empty.doubts()).toEqual([]);
  expect(empty.nameChanges()).toEqual([]);
});

test('a few lines are put together by common practice', () => {
  const found = linkEntries(
    listed([
      ...yearly('a', 1834, 1836, { name: 'Ferrand, Julian Peter', ...captain }),
      ...yearly('b', 1834, 1836, { name: 'Holt, James', rank: 'Ensign', corps: '3 Fencibles', dated: '1830-01-04' }),
    ]),
  );
  expect(partition(found)).toEqual(['a1834 a1835 a1836', 'b1834 b1835 b1836']);
});
