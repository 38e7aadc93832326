import { expect, test } from 'vitest';
import type { LinkageInput, ListEntry } from '../../../src/careers/linkage/entries.ts';
import { oddLines } from '../../../src/careers/linkage/odd-lines.ts';
import { captain, date, ensign, lieutenant } from '../recorded.ts';

const YEARS = [1834, 1835, 1836, 1837];

const lines = (surname: string, said: readonly (readonly [typeof ensign, string, string] | undefined)[]): ListEntry[] =>
  said.flatMap((each, edition) => {
    if (each === undefined) return [];
    const [rank, corps, dated] = each;
    return [
      {
        id: `e-${surname}-${edition}`,
        edition,
        surname,
        forenames: 'J.',
        suffix: undefined,
        rank,
        corps: { key: corps, name: corps },
        kind: 'substantive' as const,
        dated: date(dated),
        seniority: undefined,
        person: undefined,
      },
    ];
  });

const input = (...entries: ListEntry[][]): LinkageInput => ({
  editions: YEARS.map((year) => ({
    id: `ed${year}`,
    label: `${year}`,
    service: 'army',
    asAt: date(`${year}-01-01`).span,
    lagDays: 0,
    whole: true,
  })),
  entries: entries.flat(),
  sweeps: [],
  lives: [],
  bindings: [],
  minimumAgeYears: 10,
  certainShare: 0.95,
});

const one = [lieutenant, 'Fencibles', '1830-02-03'] as const;
const other = [captain, 'Beacon', '1832-04-05'] as const;
const third = [ensign, 'Harbour', '1833-06-07'] as const;

const exchangedIn = (...entries: ListEntry[][]): string[][] => {
  const asked = input(...entries);
  return oddLines(asked).exchanged.map((pair) => [pair.one, pair.other].map((at) => asked.entries[at]?.id ?? ''));
};

test('two lines of one edition with each other’s data', () => {
  expect(exchangedIn(lines('Ash', [one, other, one]), lines('Brind', [other, one, other]))).toEqual([
    ['e-Ash-1', 'e-Brind-1'],
  ]);
});

test('only one of them says what the other does', () => {
  expect(exchangedIn(lines('Ash', [one, other, one]), lines('Brind', [other, other, other]))).toEqual([]);
  expect(exchangedIn(lines('Ash', [one, other, one]), lines('Brind', [other, third, other]))).toEqual([]);
});

test('in different editions', () => {
  expect(exchangedIn(lines('Ash', [one, other, one, one]), lines('Brind', [other, other, one, other]))).toEqual([]);
});

test('a promotion is no exchange', () => {
  expect(exchangedIn(lines('Ash', [one, other, other]), lines('Brind', [third, one, one]))).toEqual([]);
});

test('a name that stands twice in an edition shows nothing', () => {
  expect(
    exchangedIn(lines('Ash', [one, other, one]), lines('Ash', [third]), lines('Brind', [other, one, other])),
  ).toEqual([]);
});

test('a line like one of another year, with others between', () => {
  const asked = input(lines('Ash', [third, one, one, third]));
  const { alike } = oddLines(asked);
  expect([0, 1, 2, 3].map(alike)).toEqual([3, undefined, undefined, 0]);
  const undated = { ...asked, entries: asked.entries.map((entry) => ({ ...entry, dated: undefined })) };
  expect(oddLines(undated).alike(3)).toBeUndefined();
});
