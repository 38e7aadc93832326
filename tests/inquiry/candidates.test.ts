import { describe, expect, test } from 'vitest';
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

const left = (rank: string, date: string): Line => ({
  type: 'notice',
  person: 'ferrand',
  event: 'retired',
  date,
  rank,
  corps: '2nd Fencibles',
  source: 'gazette',
});
const seen = (year: number, rank: string): Line => ({
  type: 'entry',
  edition: `al-${year}`,
  person: 'ferrand',
  name: 'Julian Ferrand',
  rank,
  corps: '2nd Fencibles',
});

describe('a rank whose every claim is set aside', () => {
  const standings = (text: string, between: string, ...lines: Line[]) => {
    const db = ledgerOf(
      ...listOf(1812, 1816, 1826),
      { type: 'person', key: 'ferrand', name: 'Julian Ferrand' },
      ...lines,
    );
    const asked = { between: readDate(between).span, tried: 0 };
    return candidatesForText(db, { text, role: 'owner', parts: {} }, asked).candidates.map((one) => one.standing);
  };

  test('is no last style: the one before it is kept', () => {
    const lines = [seen(1812, 'Captain'), left('Captain', '1831-08-11'), seen(1816, 'Major')];
    expect(standings('Major Ferrand', '1847', ...lines)).toEqual([]);
    expect(standings('Captain Ferrand', '1847', ...lines)).toEqual(['courtesy']);
  });

  test('is implied all the same if it is the step below the first rank that stands', () => {
    const lines = [left('Major', '1811-03-11'), seen(1816, 'Captain'), seen(1826, 'Major')];
    expect(standings('Captain Ferrand', '1800', ...lines)).toEqual(['implied']);
    expect(standings('Lieut. Ferrand', '1800', ...lines)).toEqual([]);
  });
});

test('where nobody fits, the three nearest of the rank are named, however far off they are', () => {
  const names = ['Holt', 'Ferrand', 'Farrant', 'Tremlett'];
  const people = names.flatMap((surname) => listed(surname.toLowerCase(), `Ann ${surname}`, 'Captain', 1834));
  const asked = { between: readDate('1834').span, tried: 0 };
  const { beyond, candidates } = candidatesForText(
    ledgerOf(...listOf(1834), ...people, ...listed('lieut', 'Ann Hol', 'Lieutenant', 1834)),
    { text: 'Captain Hxl', role: 'owner', parts: {} },
    asked,
  );
  expect(candidates).toEqual([]);
  expect(beyond.map(({ person, bits }) => [person.name, bits])).toEqual([
    ['Ann Holt', 19], // one letter is another (11), one is missing (8); the limit of three letters is 9
    ['Ann Farrant', 60],
    ['Ann Tremlett', 62],
  ]);
});

describe('a corps that was renumbered or renamed is the same on a mark as in a list', () => {
  const db = () =>
    ledgerOf(
      { type: 'corps', key: 'old', name: '2nd Fencibles', to: '1832' },
      { type: 'corps', key: 'new', name: 'Coast Fencibles', sameAs: 'old', from: '1833' },
      ...listOf(1834),
      ...listed('ferrand', 'Julian Ferrand', 'Captain', 1834),
    );
  test.each<[words: string, bits: number]>([
    ['Captain Ferrand Coast Fencibles', 0],
    ['Captain Ferrand 2nd Fencibles', 0],
    ['Captain Ferrand IInd Regt', 0],
    ['Captain Ferrand 3d Fencibles', 10],
    ['Captain Ferrand 3d Regt', 10],
  ])('%s', (text, bits) => {
    const asked = { between: readDate('1834/1836').span, tried: 0 };
    const [ferrand] = candidatesForText(db(), { text, role: 'owner', parts: {} }, asked).candidates;
    expect(ferrand?.bits.corps).toBe(bits);
  });
});
