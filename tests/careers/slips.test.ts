import { expect, test } from 'vitest';
import type { CareerEvidence } from '../../src/careers/evidence.ts';
import { saysTheSame, slipsOf } from '../../src/careers/slips.ts';
import { captain, date, ensign, evidence, lieutenant, life, listed, notFound, notice } from './recorded.ts';

const early = date('1830-03-04');
const late = date('1835-05-06');
const ensigns = [1831, 1832, 1833].map((year) => listed(`e${year}`, `${year}-01-01`, ensign, { dated: early }));
const lieutenants = [1836, 1837, 1838].map((year) => listed(`e${year}`, `${year}-01-01`, lieutenant, { dated: late }));
const all = [...ensigns, ...lieutenants];
const with1834 = (...more: Parameters<typeof listed> extends [unknown, unknown, ...infer Rest] ? Rest : never) => [
  ...all,
  listed('e1834', '1834-01-01', ...more),
];

test.each<
  [
    rule: string,
    parts: Partial<CareerEvidence>,
    aside: string[],
    slips: [kind: string, id: string, field?: string, value?: string][],
  ]
>([
  ['nothing stands apart', { entries: all }, [], []],
  [
    'a rank with the date of the rank beside it',
    { entries: [...ensigns, listed('e1835', '1835-01-01', captain, { dated: early })] },
    ['e1835 listed', 'e1835 dated'],
    [['rank', 'e1835', 'rank', 'Ensign']],
  ],
  [
    'a rank between two that agree',
    {
      entries: [
        listed('e1', '1831-01-01', captain),
        listed('e2', '1832-01-01', ensign),
        listed('e3', '1833-01-01', captain),
      ],
    },
    ['e2 listed'],
    [['rank', 'e2', 'rank', 'Captain']],
  ],
  [
    'the same, not set aside',
    {
      entries: [
        listed('e1', '1831-01-01', captain),
        listed('e2', '1832-01-01', ensign),
        listed('e3', '1833-01-01', captain),
      ],
    },
    [],
    [],
  ],
  [
    'another date of the same rank',
    { entries: with1834(ensign, { dated: date('1820-03-04') }) },
    ['e1834 dated'],
    [['dated', 'e1834', 'dated', '4 March 1830']],
  ],
  [
    'one line in another corps',
    {
      entries: with1834(ensign, { dated: early, corps: 'Harbour Artillery' }).concat(
        listed('e1835', '1835-01-01', ensign, { dated: early }),
      ),
    },
    [],
    [['corps', 'e1834', 'corps', '2nd Fencibles']],
  ],
  [
    'two lines in another corps are an exchange',
    {
      entries: [
        ...ensigns,
        ...[1834, 1835].map((year) =>
          listed(`e${year}`, `${year}-01-01`, ensign, { dated: early, corps: 'Harbour Artillery' }),
        ),
      ],
    },
    [],
    [],
  ],
  [
    'the line of an earlier year',
    { entries: [...all, listed('e1839', '1839-01-01', ensign, { dated: early })] },
    ['e1839 listed'],
    [['edition', 'e1839']],
  ],
  [
    'a line long after all others',
    { entries: [...all, listed('e1850', '1850-01-01', lieutenant, { dated: late })] },
    [],
    [['edition', 'e1850']],
  ],
  [
    'a search in an edition that lists the name',
    { entries: all, nilSearches: [notFound('q1', '1837-01-01')] },
    [],
    [['search', 'q1']],
  ],
  ['a search in another edition', { entries: all, nilSearches: [notFound('q1', '1839-01-01')] }, [], []],
  [
    'listed on after retiring',
    { entries: all, notices: [notice('n1', 'retired', '1836-06-01')] },
    [],
    [['leaving', 'n1']],
  ],
  ['retired after the last', { entries: all, notices: [notice('n1', 'retired', '1838-06-01')] }, [], []],
  ['listed twice after a death', { entries: all, died: life('p1', '1836-06-01') }, [], [['leaving', 'p1']]],
  ['listed once after a death', { entries: all, died: life('p1', '1837-06-01') }, [], []],
  [
    'a notice of the same day in another year',
    { entries: all, notices: [notice('n1', 'promoted', '1837-05-06', { rank: lieutenant })] },
    ['n1 start'],
    [['notice', 'n1']],
  ],
  [
    'what the researcher set aside is not looked at',
    { entries: with1834(ensign, { dated: date('1820-03-04') }), setAside: new Set(['e1834']) },
    ['e1834 dated'],
    [],
  ],
])('%s', (_rule, parts, aside, expected) => {
  const found = slipsOf(evidence(parts), new Set(aside));
  expect(
    found.map(({ kind, id, correction }) =>
      correction === undefined ? [kind, id] : [kind, id, correction.field, correction.value],
    ),
  ).toEqual(expected);
  for (const { says, beside } of found) {
    expect(says).not.toMatch(/undefined|NaN/);
    expect(beside.length).toBeGreaterThan(0);
  }
});

test('lines say the same where all but the edition agrees', () => {
  const [first, second] = ensigns;
  if (first === undefined || second === undefined) throw new Error('there are three');
  expect(saysTheSame(first, second)).toBe(true);
  expect(saysTheSame(first, { ...second, dated: late })).toBe(false);
  expect(saysTheSame(first, { ...second, dated: undefined })).toBe(false);
});
