import { describe, expect, test } from 'vitest';
import { conflictsOf } from '../../src/inquiry/conflicts.ts';
import type { ConflictFound } from '../../src/inquiry/conflicts-found.ts';
import { addTo, type Line, ledgerOf, listed, listOf, removeLedgersAfterEach, slope } from './made-up-ledger.ts';

removeLedgersAfterEach();

const LIST = listOf(1834, 1835, 1836, 1837, 1838);
const entry = (year: number, rank: string, more: Partial<Line> = {}): Line => ({
  type: 'entry',
  edition: `al-${year}`,
  person: 'ferrand',
  name: 'J. P. Ferrand',
  rank,
  corps: '2nd Fencibles',
  ...more,
});
const ferrand = (more: Partial<Line> = {}): Line => ({
  type: 'person',
  key: 'ferrand',
  name: 'Julian Peter Ferrand',
  ...more,
});
const nil = (year: number): Line => ({
  type: 'search',
  edition: `al-${year}`,
  person: 'ferrand',
  outcome: 'not found',
});
const mark = (key: string, made: string | undefined, more: Partial<Line> = {}): Line => ({
  type: 'mark',
  key,
  object: 'slope',
  text: key,
  role: 'owner',
  ...(made === undefined ? {} : { made }),
  ...more,
});

/** "members | set aside (by) | frees". */
const told = ({ members, setAside, frees }: ConflictFound): string =>
  [
    members.map(({ id, part }) => `${id} ${part}`).join(', '),
    setAside.map(({ id, part, by }) => `${id} ${part} (${by})`).join(', '),
    frees,
  ].join(' | ');

describe('across kinds of evidence', () => {
  test.each<[rule: string, lines: readonly Line[], expected: readonly string[]]>([
    ['nothing', [...LIST, ferrand(), entry(1834, 'Lieut.'), entry(1838, 'Captain')], []],
    [
      'entries',
      [...LIST, ferrand(), entry(1834, 'Captain'), entry(1836, 'Lieut.')],
      ['e1 listed, e2 listed | e2 listed (computed) | 1'],
    ],
    [
      'a date of rank',
      [...LIST, ferrand(), entry(1834, 'Lieut.'), entry(1836, 'Lieut.', { dated: '5 May 1835' })],
      ['e1 listed, e2 dated | e1 listed (computed) | 1'],
    ],
    [
      'a notice',
      [
        ...LIST,
        ferrand(),
        entry(1834, 'Captain'),
        {
          type: 'notice',
          person: 'ferrand',
          event: 'promoted',
          date: '1836-05-01',
          rank: 'Captain',
          corps: '2nd Fencibles',
          source: 'Gazette',
        },
      ],
      ['e1 listed, n1 start | e1 listed (computed) | 1'],
    ],
    [
      'a nil search',
      [...LIST, ferrand(), entry(1834, 'Captain'), entry(1836, 'Captain'), nil(1835)],
      ['e1 listed, e2 listed, q1 nil | q1 nil (computed) | 1'],
    ],
    [
      'life dates',
      [...LIST, ferrand({ born: '1830' }), entry(1836, 'Lieut.')],
      ['e1 listed, p1 born | e1 listed (computed) | 1'],
    ],
    [
      'a date of birth and another',
      [
        ferrand({ born: '1812' }),
        { type: 'notice', person: 'ferrand', event: 'born', date: '1815', source: 'register' },
      ],
      ['n1 born, p1 born | n1 born (proposed) | 1'],
    ],
    [
      'kin: a child older than the parent',
      [
        ferrand({ born: '1812' }),
        { type: 'person', key: 'anne', name: 'Anne Ferrand', born: '1815' },
        { type: 'kin', person: 'ferrand', relation: 'parent', relative: 'anne' },
      ],
      ['k1 kin, p1 born, p2 born | k1 kin (proposed) | 1'],
    ],
    [
      'kin: by what the child is listed as',
      [
        ...LIST,
        ferrand(),
        entry(1834, 'Captain'),
        { type: 'person', key: 'anne', name: 'Anne Ferrand', born: '1815' },
        { type: 'kin', person: 'anne', relation: 'child', relative: 'ferrand' },
      ],
      ['e1 listed, k1 kin, p2 born | k1 kin (proposed) | 1'],
    ],
    [
      'records found to be one',
      [
        ferrand({ born: '1812' }),
        { type: 'person', key: 'other', name: 'J. Ferrand', born: '1790' },
        { type: 'same', person: 'ferrand', other: 'other', why: 'same corps' },
      ],
      ['p1 born, p2 born, sm1 same | sm1 same (proposed) | 1'],
    ],
    [
      'found to be one, and not',
      [
        ferrand(),
        { type: 'person', key: 'other', name: 'J. Ferrand' },
        { type: 'same', person: 'ferrand', other: 'other', why: 'same corps' },
        { type: 'differ', person: 'other', other: 'ferrand', why: 'both in one list' },
      ],
      ['df1 differ, sm1 same | df1 differ (proposed) | 1'],
    ],
    [
      'windows of features without a common day',
      [
        slope(),
        { type: 'feature', object: 'slope', text: 'lock of the patent of 1850', window: '1850/..', force: 'hard' },
        {
          type: 'feature',
          object: 'slope',
          text: 'maker closed in 1840',
          window: '../1840',
          force: 'hard',
          confidence: 'high',
        },
      ],
      ['f1 window, f2 window | f1 window (computed) | 1'],
    ],
    [
      'a mark of before the making',
      [
        slope(),
        { type: 'feature', object: 'slope', text: 'lock of the patent of 1850', window: '1850/..', force: 'hard' },
        mark('m-a', '1834'),
      ],
      ['f1 window, m1 made | m1 made (computed) | 1'],
    ],
    [
      'a mark older than its wording, which was confirmed',
      [
        slope(),
        mark('m-a', '1834', { text: 'Holt & Co. Limited', role: 'maker' }),
        { type: 'clue', mark: 'm-a', text: 'Limited', fact: 'limited', window: '1855-08-14/..', force: 'hard' },
      ],
      ['m1 made, cl1 clue | cl1 clue (computed) | 1'],
    ],
    [
      'a mark older than its wording, which nobody has confirmed',
      [slope(), mark('m-a', '1834', { text: 'Holt & Co. Limited', role: 'maker' })],
      ['m1 made, m1 wording | m1 wording (computed) | 1'],
    ],
    [
      'two wordings of one mark',
      [
        slope(),
        mark('m-a', undefined),
        { type: 'clue', mark: 'm-a', text: 'Limited', window: '1855-08-14/..', force: 'hard', confidence: 'high' },
        { type: 'clue', mark: 'm-a', text: 'G.R.', window: '../1837-06-19', force: 'hard-end' },
      ],
      ['cl1 clue, cl2 clue | cl2 clue (computed) | 1'],
    ],
    [
      'a mark under one that is older',
      [slope(), mark('m-a', '1850'), mark('m-b', '1834', { over: 'm-a' })],
      ['m1 made, m2 made, m2 over | m2 over (computed) | 1'],
    ],
  ])('%s', (_rule, lines, expected) => {
    const db = ledgerOf(...lines);
    const all = conflictsOf(db, undefined);
    expect(all.conflicts.map(told)).toEqual(expected);
    expect(all.of).toBeNull();
    for (const { concerns } of all.conflicts)
      for (const { id } of concerns) expect(conflictsOf(db, id).conflicts.map(told)).toEqual(expected);
  });
});

test('each member is a sentence with its source, and says why it gives way', () => {
  const db = ledgerOf(
    ...LIST,
    ferrand(),
    entry(1834, 'Lieut.', { key: 'first', page: '213' }),
    entry(1835, 'Lieut.', { page: '214' }),
    entry(1838, 'Captain', { dated: '3 March 1833', page: '210' }),
  );
  const { conflicts } = conflictsOf(db, 'Julian Peter Ferrand');
  expect(conflicts[0]?.members).toEqual([
    {
      id: 'e1',
      key: 'first',
      claim: 'listed as Lieutenant, 2nd Fencibles, edition 1834, p. 213, as at 1 January 1834',
      part: 'listed',
      source: 'Annual List of the Coast Survey',
      edition: '1834',
    },
    {
      id: 'e3',
      key: null,
      claim: 'dated 3 March 1833 as Captain, 2nd Fencibles, edition 1838, p. 210',
      part: 'dated',
      source: 'Annual List of the Coast Survey',
      edition: '1838',
    },
  ]);
  expect(conflicts).toHaveLength(2);
  expect(conflicts[0]).toMatchObject({
    frees: 2,
    setAside: [{ id: 'e3', why: 'The least reliable way out: reliability 4, against 6 for the next best.' }],
    otherWayOut: [{ id: 'e1' }, { id: 'e2' }],
  });
});

test('what the researcher set aside stands above the reckoning, and is shown as theirs', () => {
  const db = ledgerOf(...LIST, ferrand(), entry(1834, 'Lieut.'), entry(1836, 'Lieut.', { dated: '5 May 1835' }));
  expect(conflictsOf(db, 'p1').conflicts).toHaveLength(1);
  addTo(db, [{ type: 'setAside', record: 'e2', why: 'the clerk slid a line' }]);
  const { conflicts, decided } = conflictsOf(db, 'p1');
  expect(conflicts).toEqual([]);
  expect(decided.map(told)).toEqual(['e1 listed, e2 dated | e2 dated (researcher) | 1']);
  expect(decided[0]?.setAside[0]?.why).toBe('the clerk slid a line (tester, act 2)');
});

test('an edition that was set aside takes its entries and searches with it', () => {
  const db = ledgerOf(
    ...LIST,
    ferrand(),
    entry(1834, 'Captain'),
    entry(1836, 'Lieut.'),
    entry(1837, 'Captain'),
    nil(1838),
    entry(1838, 'Captain'),
  );
  expect(conflictsOf(db, 'p1').conflicts.length).toBeGreaterThan(0);
  addTo(db, [
    { type: 'setAside', record: 'al-1836', why: 'a bad reprint' },
    { type: 'setAside', record: 'al-1838', why: 'a bad reprint' },
  ]);
  const { conflicts, decided } = conflictsOf(db, 'p1');
  expect(conflicts).toEqual([]);
  expect(decided.length).toBeGreaterThan(0);
  expect(decided[0]?.setAside[0]?.by).toBe('researcher');
});

test('a vacancy that was filled after the death contradicts nothing', () => {
  const db = ledgerOf(
    ...LIST,
    ferrand({ died: '1835-05-10' }),
    entry(1834, 'Captain'),
    { type: 'person', key: 'holt', name: 'Anne Holt' },
    {
      type: 'notice',
      person: 'holt',
      event: 'promoted',
      date: '1835-06-16',
      rank: 'Captain',
      corps: '2nd Fencibles',
      vice: 'ferrand',
      source: 'Gazette',
    },
  );
  expect(conflictsOf(db, undefined).conflicts).toEqual([]);
});

test('the whole ledger: the smallest first, people and objects counted', () => {
  const db = ledgerOf(
    ...LIST,
    slope(),
    mark('m-a', '1850'),
    mark('m-b', '1834', { over: 'm-a' }),
    ferrand(),
    entry(1834, 'Captain'),
    entry(1836, 'Captain'),
    nil(1835),
    ...listed('holt', 'Anne Holt', 'Captain', 1834),
    { type: 'entry', edition: 'al-1836', person: 'holt', name: 'Anne Holt', rank: 'Lieut.', corps: '2nd Fencibles' },
    ...listed('brome', 'Nathaniel Brome', 'Captain', 1834, 1835),
  );
  const { conflicts, people, objects, conflictsBeyond } = conflictsOf(db, undefined);
  expect(conflicts.map(({ members, kind }) => `${kind} ${members.length}`)).toEqual([
    'career 2',
    'career 3',
    'object 3',
  ]);
  expect({ people, objects, conflictsBeyond }).toEqual({ people: 2, objects: 1, conflictsBeyond: 0 });
  expect(conflictsOf(db, 'm1').of?.id).toBe('o1');
  expect(conflictsOf(db, 'p1.1').of?.id).toBe('p1');
  expect(conflictsOf(db, 'brome').conflicts).toEqual([]);
});

test('a condition of service is named by the key that it was imported with', () => {
  const db = ledgerOf(...LIST, ferrand({ died: '1834-02-01' }), entry(1834, 'Captain', { dated: '1834-01-01' }), {
    type: 'condition',
    key: 'two-years',
    rank: 'Captain',
    service: 'army',
    atLeastDays: 730,
  });
  const members = conflictsOf(db, 'ferrand').conflicts.flatMap((conflict) => conflict.members);
  expect(members.filter(({ part }) => part === 'condition').map(({ key }) => key)).toEqual(['two-years']);
});
