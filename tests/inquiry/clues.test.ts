import { describe, expect, test } from 'vitest';
import { candidatesForMark } from '../../src/inquiry/candidates.ts';
import { cluesIn } from '../../src/inquiry/clues.ts';
import { madeOf } from '../../src/inquiry/made.ts';
import { factNamed } from '../../src/inquiry/shelf.ts';
import { addTo, type Line, ledgerOf, listed, listOf, removeLedgersAfterEach, slope } from './made-up-ledger.ts';

removeLedgersAfterEach();

const HOUSE: Line = {
  type: 'fact',
  key: 'trust',
  name: 'harbour-trust',
  text: 'Harbour Trust of Oakhaven',
  pattern: 'Harbour Trust*',
  window: '1827-05-01/1871',
  force: 'hard-start',
  source: 'Act of 1 May 1827',
};
const mark = (text: string, role = 'carrier'): Line => ({ type: 'mark', key: 'm', object: 'slope', text, role });
const clue = (rest: Partial<Line> = {}): Line => ({
  type: 'clue',
  mark: 'm',
  text: 'V.R.',
  fact: 'vr',
  window: '1837-06-20/1901-01-22',
  force: 'hard-start',
  ...rest,
});

describe('clues in a text', () => {
  test('without a ledger, from the shelf that ships', () => {
    const { clues, firm, mark: none } = cluesIn(undefined, 'V.R. via Suez Canal');
    expect(none).toBeNull();
    expect(clues).toMatchObject([
      {
        fact: 'vr',
        words: 'V.R.',
        at: { from: 0, until: 4 },
        window: { from: '1837-06-20', to: '1901-01-22' },
        force: 'hard-start',
        fromMemory: true,
      },
      {
        fact: 'via-suez',
        words: 'via Suez Canal',
        at: { from: 5, until: 19 },
        window: { from: '1869-11-17', to: null },
        force: 'hard',
      },
    ]);
    for (const { source } of clues) expect(source).toContain('from memory');
    expect(firm).toEqual({ from: '1869-11-17', to: null });
  });
  test('an approximate year reaches as far as the assumption says', () => {
    const db = ledgerOf({ type: 'assumption', name: 'circa', value: '10', why: 'house rule' });
    const [from, to] = ['1865-01-01', '1870-01-01'];
    expect(cluesIn(undefined, 'NOT WANTED ON VOYAGE').clues[0]?.window.from).toBe(from);
    expect(cluesIn(db, 'NOT WANTED ON VOYAGE').clues[0]?.window.from).toBe('1860-01-01');
    expect(to).toBe('1870-01-01');
  });
  test('wordings whose firm days exclude each other are told', () => {
    const { contradictory, firm } = cluesIn(undefined, 'Purchase Tax paid. British Railways (W). VAT No. 1');
    expect(contradictory).toBe(true);
    expect(firm).toBeNull();
  });
  test.each<[rule: string, text: string, fact: string, expression: string, force: string]>([
    ['1. a year in the words is the earliest', '© 1961 Blank', 'c-circle', '1961/..', 'hard'],
    ['1. the latest of several years', 'Prize Medal 1851 & 1862', 'prize-medal', '1862/..', 'hard'],
    ['1. with the end of the fact', "Pat'd Mar 3d 1868", 'us-pat-date', '1868/1927-04-01', 'hard-start'],
    ['2. a serial number', 'Rd No 351202', 'rd-no', '1900/..', 'usual'],
    ['2. a number between known ones', 'U.S. Pat. No. 1,400,000', 'us-pat-no', '1920/..', 'hard'],
    ['3. the window of the fact', 'H.E.I.C.', 'heic', '1709/1858', 'usual'],
  ])('%s', (_rule, text, fact, expression, force) =>
    expect(cluesIn(undefined, text).clues.find((each) => each.fact === fact)).toMatchObject({ expression, force }),
  );
});

describe('a house’s own facts', () => {
  test('are found, and stand with their record', () => {
    const db = ledgerOf(slope(), HOUSE, mark('Harbour Trustees, Oakhaven'));
    expect(cluesIn(db, 'm').clues).toMatchObject([
      {
        fact: 'harbour-trust',
        id: 'ft1',
        words: 'Harbour Trustees',
        force: 'hard-start',
        source: 'Act of 1 May 1827',
        fromMemory: false,
      },
    ]);
    expect(factNamed(db, 'ft1').name).toBe('harbour-trust');
  });
  test('stand above one that ships under the same name', () => {
    const db = ledgerOf({ ...HOUSE, name: 'vr', pattern: 'V.R.' });
    expect(cluesIn(db, 'V.R.').clues).toMatchObject([{ id: 'ft1', text: 'Harbour Trust of Oakhaven' }]);
  });
  test('set aside, are not on the shelf', () => {
    const db = ledgerOf(HOUSE, { type: 'setAside', record: 'ft1', why: 'another Act' });
    expect(cluesIn(db, 'Harbour Trust').clues).toEqual([]);
  });
  test('an unknown one is refused, with the nearest', () =>
    expect(() => factNamed(undefined, 'suez')).toThrow(/There is no fact "suez"/));
});

describe('a clue dates the mark when it is confirmed, and never the object', () => {
  const db = () => ledgerOf(slope('1800/1900'), mark('V.R. R.M.S. Cormorant'));
  const markIn = (made: ReturnType<typeof madeOf>) => made.withMarks?.marks[0];

  test('found alone it changes nothing', () => {
    const before = db();
    const plain = ledgerOf(slope('1800/1900'), mark('Cormorant'));
    expect(cluesIn(before, 'm').clues.map(({ confirmed }) => confirmed)).toEqual([null, null]);
    expect(markIn(madeOf(before, '214'))).toMatchObject({ from: markIn(madeOf(plain, '214'))?.from });
  });
  test('confirmed, it is in the window of the mark and among its grounds', () => {
    const ledger = db();
    addTo(ledger, [clue()]);
    expect(cluesIn(ledger, 'm').clues.find(({ fact }) => fact === 'vr')?.confirmed).toBe('cl1');
    const made = madeOf(ledger, '214');
    expect(markIn(made)?.from?.localeCompare('1837-06-20')).toBeGreaterThanOrEqual(0);
    expect(markIn(made)?.clues).toMatchObject([{ id: 'cl1', text: 'V.R.', fact: 'vr', force: 'hard-start' }]);
    expect(made.facts).toEqual([{ fact: 'vr', records: ['cl1'] }]);
    expect(made.windows).toEqual([]);
    expect(made.span).toEqual(madeOf(db(), '214').span);
  });
  test('set aside, it no longer counts', () => {
    const ledger = db();
    addTo(ledger, [clue(), { type: 'setAside', record: 'cl1', why: 'a later stamp' }]);
    expect(markIn(madeOf(ledger, '214'))?.clues).toEqual([]);
  });
  test('one of a later age than the horizon stretches it', () => {
    const ledger = ledgerOf(
      slope('1800/1900'),
      mark('VAT No. 1'),
      clue({ text: 'VAT', fact: 'vat', window: '1973-04-01/..', force: 'hard' }),
    );
    expect(markIn(madeOf(ledger, '214'))?.from).toBe('1973-04-01');
  });
  test('a candidate who hangs on it says so', () => {
    const ledger = ledgerOf(
      ...listOf(...Array.from({ length: 40 }, (_, i) => 1825 + i)),
      ...listed('early', 'John Ferrand', 'Lieut.', 1827, 1828, 1829, 1830, 1831, 1832, 1833),
      { type: 'notice', person: 'early', event: 'resigned', date: '1834-03-01', source: 'Gazette' },
      ...listed('late', 'John Ferrand', 'Lieut.', 1852, 1853, 1854),
      slope('1800/1900'),
      { type: 'feature', object: 'slope', text: 'screws', window: '1820/1830' },
      mark('Lieut. J. Ferrand, V.R.', 'owner'),
      clue(),
    );
    const [leader] = candidatesForMark(ledger, 'm', { tried: 1 }).candidates;
    expect(leader?.person.key).toBe('late');
    expect(leader?.hangsOn).toContain('cl1');
    expect(leader?.wording).toContain('“V.R.” (cl1) alone');
  });
});

test('a feature may be firm on one side, and stands as one window', () => {
  const lock: Line = {
    type: 'feature',
    object: 'slope',
    text: 'lock stamped V.R.',
    window: '1837-06-20/1901-01-22',
    force: 'hard-start',
    fact: 'vr',
  };
  const made = madeOf(ledgerOf(slope(), lock), '214');
  expect(made.windows).toMatchObject([{ id: 'f1', force: 'hard-start', fact: 'vr', used: true }]);
  expect(made.span.from).toBe('1837-06-20');
  expect(made.facts).toEqual([{ fact: 'vr', records: ['f1'] }]);
});
