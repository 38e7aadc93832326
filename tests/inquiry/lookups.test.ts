import { describe, expect, test } from 'vitest';
import { candidatesForMark } from '../../src/inquiry/candidates.ts';
import { type LookupAnswer, type LookupsWanted, lookupsFor } from '../../src/inquiry/lookups.ts';
import type { Db } from '../../src/ledger/open.ts';
import { addTo, type Line, ledgerOf, removeLedgersAfterEach, slope } from './made-up-ledger.ts';

removeLedgersAfterEach();

const YEARS = Array.from({ length: 30 }, (_, i) => 1820 + i);
const LIST: Line[] = [
  { type: 'series', key: 'al', name: 'Annual List', service: 'army' },
  { type: 'series', key: 'nl', name: 'Clergy List', service: 'clergy' },
  ...YEARS.map(
    (year): Line => ({ type: 'edition', key: `al-${year}`, series: 'al', label: `${year}`, asAt: `${year}-01-01` }),
  ),
  { type: 'edition', key: 'nl-1832', series: 'nl', label: '1832', asAt: '1832-01-01' },
];
const entry = (person: string, name: string, rank: string, year: number): Line => ({
  type: 'entry',
  edition: `al-${year}`,
  person,
  name,
  rank,
  corps: '2nd Fencibles',
});
const MARK: Line = {
  type: 'mark',
  key: 'm',
  object: 'slope',
  text: 'Lieut. J. Ferrand',
  role: 'owner',
  made: '1830/1834',
};
/** Two of one name: one surely lieutenant before the years of the mark, one after; nobody looked in between. */
const TWO: Line[] = [
  ...LIST,
  { type: 'person', key: 'a', name: 'John Ferrand' },
  entry('a', 'John Ferrand', 'Lieut.', 1827),
  { type: 'person', key: 'b', name: 'James Ferrand' },
  entry('b', 'James Ferrand', 'Ensign', 1824),
  entry('b', 'James Ferrand', 'Lieut.', 1837),
  slope(),
  MARK,
];
const WANTED: LookupsWanted = { limit: 40, plan: undefined, cost: { usual: 0, ofSeries: new Map() } };
const lookups = (db: Db, wanted: Partial<LookupsWanted> = {}) => lookupsFor(db, 'm', { ...WANTED, ...wanted });
const subject = ({ edition, person, surname }: Pick<LookupAnswer, 'edition' | 'person' | 'surname'>) =>
  `${edition.series} ${edition.label}: ${surname ?? person?.key}`;

describe('what is proposed', () => {
  test('gains fall, and each is the expected share afterwards less that now', () => {
    const { lookups: all, marks } = lookups(ledgerOf(...TWO));
    expect(all.length).toBeGreaterThan(5);
    const now = marks[0]?.leaderShare ?? Number.NaN;
    for (const [place, { gain, answers }] of all.entries()) {
      expect(gain).toBeLessThanOrEqual(all[place - 1]?.gain ?? 1);
      expect(answers.reduce((sum, { chance }) => sum + chance, 0)).toBeCloseTo(1, 9);
      expect(answers.reduce((sum, each) => sum + each.chance * each.leaderShare, 0) - now).toBeCloseTo(gain, 9);
    }
  });

  test('what has been done is never proposed: an entry, a nil search, a sweep, also one that was set aside', () => {
    const db = ledgerOf(...TWO);
    const [first] = lookups(db).lookups.filter(({ person }) => person !== undefined);
    const edition = `Annual List ${first?.edition.label}`;
    const proposed = () => lookups(db, { limit: 500 }).lookups.map(subject);
    expect(proposed()).toContain(subject(first as LookupAnswer));
    addTo(db, [{ type: 'search', edition, person: first?.person?.id, outcome: 'not found' }]);
    expect(proposed()).not.toContain(subject(first as LookupAnswer));
    addTo(db, [{ type: 'setAside', record: 'q1', why: 'in haste' }]);
    expect(proposed()).not.toContain(subject(first as LookupAnswer));
    addTo(db, [{ type: 'search', edition: 'Annual List 1832', surname: 'FERRAND', outcome: 'all taken', found: 2 }]);
    expect(proposed().filter((each) => each.includes('1832'))).toEqual([]);
    expect(proposed().some((each) => each.includes('1827: a') || each.includes('1837: b'))).toBe(false);
  });

  test('a list of another service is not proposed for a rank of this one', () =>
    expect(
      lookups(ledgerOf(...TWO), { limit: 500 })
        .lookups.map(subject)
        .join(),
    ).not.toContain('Clergy'));

  test('where every answer leaves the same name first, and sweeps were made, there is nothing to look up', () => {
    const one = TWO.filter(({ person, key }) => person !== 'b' && key !== 'b');
    const sweeps = YEARS.map(
      (year): Line => ({ type: 'search', edition: `al-${year}`, surname: 'Ferrand', outcome: 'all taken', found: 1 }),
    );
    expect(lookups(ledgerOf(...one, ...sweeps)).lookups).toEqual([]);
  });

  test('somebody unrecorded is looked for by sweeps where nobody fits', () => {
    const nobody = lookups(ledgerOf(...LIST, slope(), MARK));
    expect(nobody.marks).toMatchObject([{ leader: null, leaderShare: 0 }]);
    expect(nobody.lookups[0]).toMatchObject({
      surname: 'Ferrand',
      answers: [
        { answer: 'no other Ferrand', leader: null },
        { answer: 'one more Ferrand', leader: { id: null, name: 'one more Ferrand' } },
      ],
    });
  });
});

describe('what each answer is said to do is what the ledger then says', () => {
  test.each(['listed as Lieutenant, 2nd Fencibles', 'not listed'])('%s', (words) => {
    const before = ledgerOf(...TWO);
    const chosen = lookups(before)
      .lookups.filter(({ person, answers }) => person !== undefined && answers.some(({ answer }) => answer === words))
      .slice(0, 4);
    expect(chosen.length).toBeGreaterThan(1);
    for (const { edition, person, answers } of chosen) {
      const told = answers.find(({ answer }) => answer === words);
      const key = person?.key as string;
      const db = ledgerOf(...TWO);
      addTo(db, [
        words === 'not listed'
          ? { type: 'search', edition: edition.id, person: key, outcome: 'not found' }
          : entry(key, `${person?.name}`, 'Lieut.', Number(edition.label)),
      ]);
      const [leader] = candidatesForMark(db, 'm', { tried: 0 }).candidates;
      expect(leader?.person.key).toBe(told?.leader?.key);
      expect(leader?.share).toBeCloseTo(told?.leaderShare ?? Number.NaN, 9);
    }
  });

  test('a sweep that finds one more: a bearer in the rank, of whom nothing else is known', () => {
    const sweeps = lookups(ledgerOf(...TWO), { limit: 500 }).lookups.filter(({ surname }) => surname !== undefined);
    expect(sweeps.length).toBeGreaterThan(2);
    for (const { edition, answers } of sweeps.slice(0, 3)) {
      const told = answers.find(({ answer }) => answer === 'one more Ferrand');
      const db = ledgerOf(...TWO);
      addTo(db, [
        { type: 'person', key: 'c', name: 'J. Ferrand' },
        entry('c', 'J. Ferrand', 'Lieut.', Number(edition.label)),
        { type: 'search', edition: edition.id, surname: 'Ferrand', outcome: 'all taken', found: 1 },
      ]);
      const [leader] = candidatesForMark(db, 'm', { tried: 0 }).candidates;
      expect(leader?.person.key).toBe(told?.leader?.id === null ? 'c' : told?.leader?.key);
      expect(leader?.share).toBeCloseTo(told?.leaderShare ?? Number.NaN, 3);
    }
  });

  test('a sweep that finds nobody more', () => {
    const db = ledgerOf(...TWO);
    const sweep = lookups(db, { limit: 500 }).lookups.find(({ surname }) => surname !== undefined);
    addTo(db, [
      { type: 'search', edition: sweep?.edition.id ?? '', surname: 'Ferrand', outcome: 'all taken', found: 2 },
    ]);
    expect(candidatesForMark(db, 'm', { tried: 0 }).candidates[0]?.share).toBeCloseTo(
      sweep?.answers[0]?.leaderShare ?? Number.NaN,
      9,
    );
  });

  test.each([
    ['Lieut. Ferrand', 'Lieut.'],
    ['Capt. Ferrand, 2nd Fencibles', 'Captain'],
    ['J. Ferrand', 'Ensign'],
  ])('a sweep that finds one more, for the mark "%s"', (text, rank) => {
    const all = ledgerOf(...LIST.map((line) => (line.type === 'series' ? { ...line, lagDays: 200 } : line)), slope(), {
      ...MARK,
      text,
    });
    const sweep = lookups(all, { limit: 500 }).lookups.find(({ edition }) => edition.label === '1828');
    expect(sweep?.answers[1]?.answer).toBe('one more Ferrand');
    addTo(all, [
      { type: 'search', edition: 'al-1828', surname: 'Ferrand', outcome: 'all taken', found: 1 },
      { type: 'person', key: 'x', name: 'J. Ferrand' },
      entry('x', 'J. Ferrand', rank, 1828),
    ]);
    const [leader] = candidatesForMark(all, 'm', { tried: 0 }).candidates;
    expect(leader?.share).toBeCloseTo(sweep?.answers[1]?.leaderShare ?? Number.NaN, 9);
  });
});

test('for a mark without a rank a person is looked for in lists beyond the years in which they are known', () => {
  const db = ledgerOf(
    ...LIST,
    { type: 'person', key: 'a', name: 'John Ferrand' },
    entry('a', 'John Ferrand', 'Lieut.', 1822),
    slope(),
    { ...MARK, text: 'J. Ferrand' },
  );
  const of1828 = lookups(db, { limit: 500 }).lookups.find(
    ({ person, edition }) => person?.key === 'a' && edition.label === '1828',
  );
  expect(of1828?.gain).toBeGreaterThan(0.001);
});

test('the step below the first known rank is looked for too', () => {
  const db = ledgerOf(
    ...LIST,
    { type: 'person', key: 'a', name: 'John Ferrand' },
    entry('a', 'John Ferrand', 'Captain', 1840),
    slope(),
    MARK,
  );
  const below = lookups(db, { limit: 500 }).lookups.filter(({ person }) => person?.key === 'a');
  expect(below.flatMap(({ answers }) => answers.map(({ answer }) => answer))).toContain('listed as Lieutenant');
});

test('where neither mark nor object is dated, too', () => {
  const db = ledgerOf(
    ...LIST,
    { type: 'person', key: 'a', name: 'John Ferrand', born: '1812' },
    entry('a', 'John Ferrand', 'Captain', 1840),
    slope(),
    { ...MARK, made: undefined },
  );
  const below = lookups(db, { limit: 500 }).lookups.filter(({ person }) => person?.key === 'a');
  expect(below.map(({ edition }) => edition.label)).toContain('1838');
});

describe('a plan for one visit', () => {
  test('gains add up, and the first is the best look-up alone', () => {
    const answer = lookups(ledgerOf(...TWO), { plan: 3 });
    const plan = answer.plan ?? [];
    expect(subject(plan[0] as LookupAnswer)).toBe(subject(answer.lookups[0] as LookupAnswer));
    expect(plan[0]?.gain).toBeCloseTo(answer.lookups[0]?.gain ?? Number.NaN, 9);
    for (const [place, { gain }] of plan.entries()) expect(gain).toBeGreaterThan(plan[place - 1]?.gain ?? 0);
    expect(new Set(plan.map(subject)).size).toBe(plan.length);
  });

  test('the second is worth what it is worth once each answer to the first is recorded', () => {
    const answer = lookups(ledgerOf(...TWO), { plan: 2 });
    const [first, second] = answer.plan ?? [];
    const asked = answer.lookups.find((each) => first !== undefined && subject(each) === subject(first));
    const now = answer.marks[0]?.leaderShare ?? Number.NaN;
    const key = asked?.person?.key as string;
    expect(asked?.answers.map(({ answer: words }) => words)).toContain('not listed');
    const gains = (asked?.answers ?? []).map(({ answer: words, chance, leaderShare }) => {
      const db = ledgerOf(...TWO);
      const rank = words.includes('Lieutenant') ? 'Lieut.' : words.includes('Captain') ? 'Capt.' : 'Ensign';
      addTo(db, [
        words === 'not listed'
          ? { type: 'search', edition: asked?.edition.id ?? '', person: key, outcome: 'not found' }
          : entry(key, `${asked?.person?.name}`, rank, Number(asked?.edition.label)),
      ]);
      const then = lookups(db, { limit: 1000 }).lookups.find((each) => second && subject(each) === subject(second));
      return chance * (leaderShare + (then?.gain ?? 0) - now);
    });
    expect(second?.gain).toBeCloseTo(
      gains.reduce((a, b) => a + b, 0),
      6,
    );
  });

  test('a volume on the table costs a look only, so a dear one is looked into again first', () => {
    const cost = { usual: 1000, ofSeries: new Map() };
    const plan = lookups(ledgerOf(...TWO), { plan: 2, cost }).plan ?? [];
    expect(plan.map((each) => each.cost)).toEqual([1001, 1]);
    expect(plan[0]?.edition.id).toBe(plan[1]?.edition.id);
  });
});

test('an object asks for all its marks that name a holder, and adds up what a look-up is worth', () => {
  const again: Line = { ...MARK, key: 'n', text: 'J. Ferrand, Lieut.' };
  const shop: Line = { type: 'mark', key: 's', object: 'slope', text: 'Widow Asher', role: 'retailer', made: '1833' };
  const db = ledgerOf(...TWO, again, shop);
  const all = lookupsFor(db, '214', WANTED);
  expect(all.marks.map(({ id }) => id)).toEqual(['m1', 'm2']);
  const [first] = all.lookups;
  expect(first?.marks.map(({ id }) => id)).toEqual(['m1', 'm2']);
  expect(first?.marks.reduce((sum, { gain }) => sum + gain, 0)).toBeCloseTo(first?.gain ?? Number.NaN, 12);
  expect(first?.marks[0]?.gain).toBeCloseTo(lookups(db).lookups[0]?.gain ?? Number.NaN, 9);
});

test('an object whose marks name nobody is told so', () => {
  const shop: Line = { type: 'mark', key: 'm', object: 'slope', text: 'Widow Asher', role: 'retailer' };
  expect(() => lookupsFor(ledgerOf(slope(), shop), '214', WANTED)).toThrow(/names anybody/);
});

describe('several marks of one object', () => {
  /** Of the second mark nobody recorded was ever in the rank; its surname is read in full on the first only. */
  const SECOND: Line = {
    type: 'mark',
    key: 'n',
    object: 'slope',
    text: 'Major Ferr[..]d',
    role: 'owner',
    made: '1845',
  };
  const gainsOf = (db: Db, words: string): Map<string, number> =>
    new Map(lookupsFor(db, words, { ...WANTED, limit: 400 }).lookups.map((each) => [subject(each), each.gain]));

  test('each look-up is worth for the object what it is worth for its marks', () => {
    const db = ledgerOf(...TWO, SECOND);
    const [whole, ...marks] = ['214', 'm', 'n'].map((words) => gainsOf(db, words));
    expect(whole?.size).toBeGreaterThan(20);
    for (const [what, gain] of whole ?? [])
      expect(gain).toBeCloseTo(
        marks.reduce((sum, gains) => sum + (gains.get(what) ?? 0), 0),
        9,
      );
  });

  test('a mark that nobody fits: whoever bears a recorded surname that it shows may be swept for', () => {
    const found = [...gainsOf(ledgerOf(...TWO, SECOND), 'n')];
    expect(found.length).toBeGreaterThan(0);
    expect(found.every(([what]) => what.endsWith(': Ferrand'))).toBe(true);
  });

  test('fewer asked for: the first of them', () => {
    const db = ledgerOf(...TWO, SECOND);
    const first = (limit: number) => subject(lookupsFor(db, '214', { ...WANTED, limit }).lookups[0] as LookupAnswer);
    expect(first(1)).toBe(first(400));
  });
});
