import { describe, expect, test } from 'vitest';
import { reportOf } from '../../src/inquiry/report.ts';
import { isUnresolved, openLines } from '../../src/report/lot-open.ts';
import { namingOf, wordsOf } from '../../src/report/words.ts';
import { type LineObject, ledgerOf, SMALL } from './ledgers.ts';
import { styleWith } from './printed.ts';

const without = (...keys: string[]): LineObject[] => SMALL.filter(({ key }) => !keys.includes(String(key)));
const OBJECT = '214';

function open(lines: readonly LineObject[], changes: Readonly<Record<string, unknown>> = {}) {
  const lot = reportOf(ledgerOf(lines), OBJECT, undefined);
  const words = wordsOf(styleWith(changes));
  return openLines(lot, words, namingOf(lot, words));
}
const reasons = (lines: readonly LineObject[]): string[] => open(lines).map(({ reason }) => reason);

describe('what is open of a lot, each with the next step', () => {
  test.each<[rule: string, reason: string, lines: readonly LineObject[]]>([
    [
      '1 windows that contradict each other',
      'windows',
      [...SMALL, { type: 'feature', object: '214', text: 'gutta-percha', window: '../1820', force: 'hard' }],
    ],
    [
      '1 a mark dated before the object can have been made',
      'mark',
      [...SMALL, { type: 'mark', object: '214', text: 'A. Holt 1790', role: 'owner', made: '1790', surname: 'Holt' }],
    ],
    [
      '1 records on the person who leads',
      'records',
      [
        ...SMALL,
        {
          type: 'entry',
          edition: 'al-1838',
          person: 'ferrand',
          name: 'J. P. Ferrand',
          rank: 'Capt.',
          corps: '2nd Fencibles',
          dated: '3 June 1834',
        },
      ],
    ],
    [
      '1 the researcher’s own conclusion against the figures',
      'conclusion',
      [...SMALL, { type: 'attribution', mark: 'm1', person: 'ferrard', why: 'the hand' }],
    ],
    ['2 nothing that dates it', 'undated', without('f1', 'f2', 'm2')],
    ['2 no mark that names a holder', 'unmarked', without('m1', 'm2')],
    ['2 nobody fits', 'nobody', [...SMALL, { type: 'mark', object: '214', text: 'Capt. R. Quennell', role: 'owner' }]],
    ['3 it hangs on one record', 'hangs', SMALL],
    ['4 rivals that nobody has looked into', 'rivals', SMALL],
    ['5 the years 1933 to 1945', 'gap', SMALL],
    [
      '5 a protected species',
      'species',
      [...SMALL, { type: 'feature', object: '214', text: 'ivory stringing', window: '1700/1900' }],
    ],
    [
      '5 somebody who may be living',
      'living',
      [
        ...SMALL,
        { type: 'person', key: 'young', surname: 'Holt', forenames: 'Anne', born: '1990', places: ['Saltmere'] },
        { type: 'attribution', mark: 'm2', person: 'young', why: 'her label' },
      ],
    ],
    ['5 the age for rules on export', 'export', SMALL],
  ])('%s', (_rule, reason, lines) => {
    const found = open(lines).find((line) => line.reason === reason);
    expect(found?.what).toMatch(/[.!]$/);
    expect(found?.next).toMatch(/[.!]$|attribute\.$/);
    expect(`${found?.what} ${found?.next}`).not.toMatch(/\{\w+\}|undefined/);
  });

  test('a reasoned conclusion on the mark settles its rivals', () =>
    expect(
      reasons([...SMALL, { type: 'attribution', mark: 'm1', person: 'ferrand', why: 'both initials' }]),
    ).not.toContain('rivals'));
});

test('records are named in words: a reader of print knows no ids', () => {
  const lines = open([
    ...SMALL,
    { type: 'feature', object: '214', text: 'gutta-percha', window: '../1820', force: 'hard' },
  ]);
  const said = (reason: string): string[] =>
    lines.flatMap((each) => (each.reason === reason ? [`${each.what} ${each.next}`] : []));
  expect(said('windows')).toEqual([
    'Features contradict each other (lock stamped TOLLAND’S PATENT, granted on 11 May 1830, from 11 May 1830; gutta-percha, before 1821). See those parts of the object again; gutta-percha, before 1821 is set aside for the time being.',
  ]);
  expect(said('hangs').join(' ')).toContain(
    'Anne Holt would not stand without the dates of life recorded (1840–1911). See',
  );
  expect(said('hangs').join(' ')).not.toMatch(/\b(?:e|f|p|n|q)\d+\b/);
});

test('of somebody unrecorded nobody can be looked up: the lists are searched for the name', () => {
  const lines = open([
    ...without('m1', 'm2'),
    { type: 'mark', key: 'q', object: '214', text: 'J. Ferrand', role: 'owner' },
  ]);
  expect(lines.find(({ reason }) => reason === 'rivals')?.next).toMatch(
    /^Search the lists for every bearer of the name/,
  );
});

describe('unresolved', () => {
  test('a lot with an open point that counts', () => expect(isUnresolved(open(SMALL))).toBe(true));
  test('the house says which points count', () => {
    expect(isUnresolved(open(SMALL, { unresolved: ['windows'] }))).toBe(false);
    expect(isUnresolved(open(SMALL, { unresolved: ['export'] }))).toBe(true);
  });
  test('a point that somebody has seen to does not count, and says who', () => {
    const seenTo = [{ lot: '214', reason: 'export', by: 'A. Holt', note: 'licence 7' }];
    const lines = open(SMALL, { unresolved: ['export'], seenTo });
    expect(isUnresolved(lines)).toBe(false);
    expect(lines.find(({ reason }) => reason === 'export')?.seenTo?.by).toBe('A. Holt');
  });
  test('seen to on another lot says nothing of this one', () => {
    const seenTo = [{ lot: '215', reason: 'export', by: 'A. Holt', note: 'licence 7' }];
    expect(isUnresolved(open(SMALL, { unresolved: ['export'], seenTo }))).toBe(true);
  });
});
