import { expect, test } from 'vitest';
import { linesOfAnother } from '../../src/careers/two-of-one-name.ts';
import type { Rank } from '../../src/services/rank.ts';
import { captain, date, ensign, evidence, lieutenant, listed } from './recorded.ts';

const post = (man: string, rank: Rank, corps: string, years: number[], since: string) =>
  years.map((year) => {
    const line = listed(`e${man}${year}`, `${year}-01-01`, rank, { corps, dated: date(since) });
    return { ...line, id: `e${man}${year}` };
  });

const elder = [
  ...post('1', ensign, 'Fencibles', [1831, 1832, 1833, 1834], '1830-02-03'),
  ...post('1', lieutenant, 'Fencibles', [1835, 1836, 1837], '1834-02-03'),
];
const younger = [
  ...post('2', ensign, 'Fencibles', [1833, 1834, 1835], '1832-04-05'),
  ...post('2', lieutenant, 'Fencibles', [1836, 1837], '1835-04-05'),
];
const theirs = (entries: ReturnType<typeof post>) =>
  linesOfAnother(evidence({ entries })).flatMap(({ entries }) => entries);

test('posts that meet in an edition are of two, and hang together', () => {
  expect(theirs([...elder, ...younger])).toEqual(younger.map(({ id }) => id));
});

test('posts apart from the others go by their corps', () => {
  const harbour = [
    ...post('2', ensign, 'Harbour', [1832, 1833], '1831-04-05'),
    ...post('2', captain, 'Harbour', [1840, 1841], '1839-04-05'),
  ];
  const fencibles = [
    ...post('1', ensign, 'Fencibles', [1831, 1832, 1833], '1830-02-03'),
    ...post('1', captain, 'Fencibles', [1840, 1841, 1842], '1839-02-03'),
  ];
  expect(theirs([...fencibles, ...harbour])).toEqual(harbour.map(({ id }) => id));
});

test('nothing where it is in doubt which lines go together', () => {
  const captains = ['1', '2'].flatMap((man) => post(man, captain, 'Fencibles', [1845], `184${man}-06-07`));
  expect(theirs([...elder, ...younger, ...captains])).toEqual([]);
  const third = post('3', captain, 'Beacon', [1833], '1832-08-09');
  expect(theirs([...elder, ...younger, ...third])).toEqual([]);
});

test('nothing of one who is listed once in each edition', () => expect(theirs(elder)).toEqual([]));
