import { describe, expect, test } from 'vitest';
import { type Days, madeOf } from '../../src/inquiry/made.ts';
import { addTo, type Line, ledgerOf, listed, listOf, removeLedgersAfterEach, slope } from './made-up-ledger.ts';

removeLedgersAfterEach();

const feature = (text: string, window: string, rest: Partial<Line> = {}): Line => ({
  type: 'feature',
  object: 'slope',
  text,
  window,
  ...rest,
});
const mark = (key: string, text: string, role: string, rest: Partial<Line> = {}): Line => ({
  type: 'mark',
  key,
  object: 'slope',
  text,
  role,
  ...rest,
});
const SCREWS = feature('hand-filed screws', '1820/1850', { weight: 'moderate' });
const PATENT = feature('lock of the patent of 1830', '1830-05-11/..', { force: 'hard', source: 'the patent roll' });

const sum = (shares: readonly number[]): number => shares.reduce((a, b) => a + b, 0);
const lengthInYears = ({ from, to }: Days): number => Number(to?.slice(0, 4)) - Number(from?.slice(0, 4));

describe('made by features', () => {
  test('no feature and no mark: nothing is said', () => {
    const made = madeOf(ledgerOf(slope()), '214');
    expect(made.phrase).toBe('date not determined');
    expect(made.windows).toEqual([]);
    expect(made.withMarks).toBeNull();
    expect(made.cautions[0]).toContain('opinion');
    expect(made.cautions.join()).toContain('No datable trait');
  });

  test('windows keep their force, source and state', () => {
    const made = madeOf(ledgerOf(slope(), SCREWS, PATENT), '214');
    expect(made.windows).toEqual([
      {
        id: 'f1',
        text: 'hand-filed screws',
        from: '1820-01-01',
        to: '1850-12-31',
        force: 'usual',
        weight: 'moderate',
        part: null,
        state: 'original',
        confidence: null,
        source: null,
        fact: null,
        used: true,
      },
      {
        id: 'f2',
        text: 'lock of the patent of 1830',
        from: '1830-05-11',
        to: null,
        force: 'hard',
        weight: 'moderate',
        part: null,
        state: 'original',
        confidence: null,
        source: 'the patent roll',
        fact: null,
        used: true,
      },
    ]);
    expect(made.span.from).toBe('1830-05-11');
    expect(made.phrase).toMatch(/^1830–\d\d$/);
    expect(made.years.shares.reduce((a, b) => a + b, 0)).toBeCloseTo(1, 3);
    expect(made.years.firstYear).toBe(1600);
    expect(made.years.shares[229]).toBe(0);
    expect(made.years.shares[231]).toBeGreaterThan(0);
  });

  test('a side that only the horizon ends is open in the phrase', () => {
    expect(madeOf(ledgerOf(slope(), PATENT), '214').phrase).toBe('after 1829');
    expect(madeOf(ledgerOf(slope(), feature('no circular saw', '../1815', { force: 'hard' })), '214').phrase).toBe(
      'before 1816',
    );
  });

  test('the object’s own horizon is a finding; its open side is the ledger’s', () => {
    expect(madeOf(ledgerOf(slope('1800/1850'), PATENT), '214').phrase).toBe('1830–50');
    expect(madeOf(ledgerOf(slope('1800/..'), PATENT), '214').horizon).toEqual({ from: '1800-01-01', to: '1959-12-31' });
  });

  test('a replaced part says nothing of the making, unless its window ends', () => {
    const sewn = feature('machine-sewn lining', '1855/..', { state: 'replaced', force: 'hard' });
    const made = madeOf(ledgerOf(slope(), SCREWS, sewn), '214');
    expect(made.windows[1]?.used).toBe(false);
    expect(made.span).toEqual(madeOf(ledgerOf(slope(), SCREWS), '214').span);
  });

  test('contradictory windows are told, and which of them is set aside', () => {
    const late = feature('plywood back', '1890/..', { force: 'hard', confidence: 'low' });
    const early = feature('duty stamp', '../1836', { force: 'hard', confidence: 'high' });
    const made = madeOf(ledgerOf(slope(), late, early), '214');
    expect(made.conflicts).toEqual([
      {
        members: [
          { id: 'f2', claim: 'duty stamp: made before 1837' },
          { id: 'f1', claim: 'plywood back: made after 1889' },
        ],
        setAside: [{ id: 'f1', claim: 'plywood back: made after 1889' }],
      },
    ]);
    expect(made.windows.map(({ used }) => used)).toEqual([false, true]);
    expect(made.cautions.join()).toContain('contradict each other');
  });

  test('a feature that the researcher set aside is no longer there', () => {
    const db = ledgerOf(slope(), SCREWS, PATENT);
    addTo(db, [{ type: 'setAside', record: 'f2', why: 'a later lock' }]);
    expect(madeOf(db, '214').windows.map(({ id }) => id)).toEqual(['f1']);
  });
});

describe('made with all marks together', () => {
  const alone = (...lines: Line[]) => madeOf(ledgerOf(slope(), SCREWS, ...lines), '214');

  test('a maker’s dated mark narrows the making to the years before it', () => {
    const { withMarks } = alone(mark('maker', 'B. Voss, Harbour Steps', 'maker', { made: '1834' }));
    expect(withMarks?.phrase).toMatch(/^183[0-2]–34$/);
    expect(lengthInYears(withMarks?.span ?? { from: null, to: null })).toBeLessThan(6);
  });

  test('a late label of a depository bounds the making, and does not draw it towards itself', () => {
    const made = alone(mark('label', 'Pallant’s Depository', 'depository', { made: '1885' }));
    const [by, together] = [made.years.shares, made.withMarks?.years.shares ?? []];
    expect(together.slice(1886 - 1600).every((share) => share === 0)).toBe(true);
    const [left, before] = [sum(by.slice(0, 1885 - 1600)), sum(together.slice(0, 1885 - 1600))];
    for (const year of [1810, 1830, 1850, 1870])
      expect((together[year - 1600] ?? 0) / before).toBeCloseTo((by[year - 1600] ?? 0) / left, 4);
  });

  test('a label of the making’s own years still bounds it', () => {
    const made = alone(mark('label', 'Pallant’s Depository', 'depository', { made: '1830' }));
    expect(Number(made.withMarks?.span.to?.slice(0, 4))).toBeLessThanOrEqual(1830);
  });

  test('a sale of 1975 stretches the horizon, and says no more of the making', () => {
    const made = alone(mark('sale', 'Lot 91', 'sale', { made: '1975' }));
    expect(made.horizon.to).toBe('1975-12-31');
    expect(made.withMarks?.phrase).toBe(made.phrase);
    expect(made.withMarks?.years.shares[1830 - 1600]).toBeCloseTo(made.years.shares[1830 - 1600] ?? 0, 4);
  });

  test('an owner who is recorded draws the making towards his years in the rank', () => {
    const owner = mark('owner', 'Lieut. J. Ferrand', 'owner');
    const service = [
      ...listOf(1831, 1832, 1833, 1834),
      ...listed('ferrand', 'Julian Ferrand', 'Lieut.', 1831, 1832, 1833),
    ];
    const sweep: Line = { type: 'search', edition: 'al-1832', surname: 'Ferrand', outcome: 'all taken', found: 1 };
    const made = madeOf(ledgerOf(slope(), SCREWS, ...service, sweep, owner), '214');
    const [later, earlier] = [made.withMarks?.half ?? made.half, made.half];
    expect(lengthInYears(later)).toBeLessThanOrEqual(lengthInYears(earlier));
    expect(made.withMarks?.marks[0]).toMatchObject({
      id: 'm1',
      role: 'owner',
      namesHolder: true,
      windowIs: 'reckoned',
    });
    const share = (
      answer: { years: { firstYear: number; shares: readonly number[] } } | null,
      from: number,
      to: number,
    ) => sum(answer?.years.shares.slice(from - 1600, to - 1600) ?? []);
    expect(share(made.withMarks, 1820, 1835)).toBeGreaterThan(share(made, 1820, 1835) + 0.1);
  });

  test('a mark dated before any making is left out, and said to be', () => {
    const made = madeOf(ledgerOf(slope(), PATENT, mark('plate', 'A. Lisle 1799', 'owner', { made: '1799' })), '214');
    expect(made.withMarks?.marks[0]?.beforeMaking).toBe(true);
    expect(made.withMarks?.span).toEqual(made.span);
    expect(made.cautions.join()).toContain('before the object can have been made');
  });

  test('a mark that the researcher set aside no longer counts', () => {
    const db = ledgerOf(slope(), SCREWS, mark('maker', 'B. Voss', 'maker', { made: '1834' }));
    addTo(db, [{ type: 'setAside', record: 'm1', why: 'on a later drawer' }]);
    expect(madeOf(db, '214').withMarks).toBeNull();
  });
});

test('an object that there is not is named with a way out', () =>
  expect(() => madeOf(ledgerOf(), '999')).toThrow(/There is no object "999"/));
