import { describe, expect, test } from 'vitest';
import { candidatesForMark } from '../../src/inquiry/candidates.ts';
import { provenanceOf } from '../../src/inquiry/provenance.ts';
import { addTo, type Line, ledgerOf, listed, listOf, removeLedgersAfterEach, slope } from './made-up-ledger.ts';

removeLedgersAfterEach();

const mark = (key: string, text: string, role: string, rest: Partial<Line> = {}): Line => ({
  type: 'mark',
  key,
  object: 'slope',
  text,
  role,
  ...rest,
});
const MADE: Line = { type: 'feature', object: 'slope', text: 'tariff stamp', window: '1828/1832', force: 'hard' };
const person = (key: string, name: string, born: string, died: string): Line => ({
  type: 'person',
  key,
  name,
  born,
  died,
});
const kin = (a: string, relation: string, b: string): Line => ({ type: 'kin', person: a, relation, relative: b });
const swept = (surname: string): Line => ({
  type: 'search',
  edition: 'al-1832',
  surname,
  outcome: 'all taken',
  found: 1,
});
const LIST = listOf(1830, 1831, 1832, 1833, 1834);
const NIECE = person('niece', 'Anne Lisle', '1840', '1899');
const FERRAND = [...LIST, ...listed('ferrand', 'Julian Ferrand', 'Lieut.', 1830, 1831, 1832), swept('Ferrand')];

describe('one mark', () => {
  test('the shares are those of the mark alone', () => {
    const rival = listed('rival', 'John Ferrard', 'Lieut.', 1831);
    const db = ledgerOf(slope(), MADE, ...FERRAND, ...rival, mark('m', 'Lieut. J. Ferra[.]d', 'owner'));
    const alone = candidatesForMark(db, 'm', { tried: 1 });
    const { chains, holders } = provenanceOf(db, '214', 5);
    expect(holders.map(({ person: who }) => who?.id)).toEqual([
      ...alone.candidates.map(({ person: who }) => who.id),
      undefined,
    ]);
    for (const [place, { share }] of alone.candidates.entries()) {
      expect(holders[place]?.share).toBeCloseTo(share, 3);
      expect(chains[place]?.share).toBeCloseTo(share, 3);
      expect(holders[place]?.wording).toBe(alone.candidates[place]?.wording);
    }
    expect(holders.at(-1)?.share).toBeCloseTo(alone.unrecorded.share, 3);
    expect(chains[0]?.holders[0]).toMatchObject({ mark: 'm1', link: null, kinships: [], nobodyFits: false });
  });

  test('nobody fits: no finding, and said to be', () => {
    const { chains, holders, text, cautions } = provenanceOf(
      ledgerOf(slope(), MADE, mark('m', 'Capt. Quennell', 'owner')),
      '214',
      5,
    );
    expect(chains[0]?.holders).toMatchObject([{ person: null, nobodyFits: true }]);
    expect(holders).toEqual([{ person: null, share: 1, provisional: false, robust: null, hangsOn: [], wording: null }]);
    expect(text).toContain('Nobody recorded fits “Capt. Quennell”');
    expect(cautions.join()).toContain('Nobody recorded fits one of the marks');
  });
});

describe('links between holders', () => {
  const two = (...lines: Line[]) =>
    provenanceOf(
      ledgerOf(
        slope(),
        MADE,
        ...FERRAND,
        ...lines,
        mark('m', 'Lieut. J. Ferrand', 'owner', { made: '1831' }),
        mark('n', 'Anne Lisle', 'owner', { made: '1870' }),
      ),
      '214',
      3,
    );
  const best = (...lines: Line[]) => two(...lines).chains[0]?.holders[1];

  test('other', () =>
    expect(best(NIECE)).toMatchObject({ person: { name: 'Anne Lisle' }, link: 'other', kinships: [] }));
  test('kin at any distance, with the kinships on the way', () => {
    const between = person('mother', 'Mary Lisle', '1810', '1860');
    const kinships = [kin('ferrand', 'sibling', 'mother'), kin('mother', 'child', 'niece')];
    expect(best(NIECE, between, ...kinships)).toMatchObject({ link: 'kin', kinships: ['k1', 'k2'] });
  });
  test('kin of one of two records that are found to be the same person', () => {
    const again = person('again', 'Julian Ferrand', '1805', '1860');
    const same: Line = { type: 'same', person: 'again', other: 'ferrand' };
    expect(best(NIECE, again, same, kin('again', 'kin', 'niece'))).toMatchObject({ link: 'kin', kinships: ['k1'] });
  });
  test('a kinship that was set aside is none', () => {
    const aside: Line = { type: 'setAside', record: 'k1', why: 'another family' };
    expect(best(NIECE, kin('ferrand', 'kin', 'niece'), aside)).toMatchObject({ link: 'other' });
  });
  test('the same surname, which she came to bear', () =>
    expect(best(NIECE, { type: 'name', person: 'niece', name: 'Anne Ferrand', from: '1860' })).toMatchObject({
      link: 'same surname',
    }));
  test('kinship raises the share of a chain', () => {
    const strangers = two(NIECE).chains[0]?.share ?? 0;
    expect(two(NIECE, kin('ferrand', 'kin', 'niece')).chains[0]?.share).toBeGreaterThan(strangers);
  });

  test('years between two holdings are a gap, in figures, in the text and as a caution', () => {
    const { chains, text, cautions } = two(NIECE);
    const [gap] = chains[0]?.gaps ?? [];
    expect(gap).toMatchObject({ after: 'm1', before: 'm2', to: '1869-12-31' });
    expect(gap?.from?.slice(0, 7)).toBe('1831-12');
    expect(gap?.days).toBeGreaterThan(38 * 365);
    expect(text).toBe(
      `Made 1828–31. Julian Ferrand (${two(NIECE).holders.find((each) => each.person?.key === 'ferrand')?.wording}): “Lieut. J. Ferrand”, 1831. No holder is known 1832–69. Anne Lisle (${two(NIECE).holders.find((each) => each.person?.key === 'niece')?.wording}): “Anne Lisle”, 1870.`,
    );
    expect(cautions.join()).toContain('Years are left');
  });

  test('one person who put on both held it in between', () => {
    const again = mark('o', 'J. Ferrand', 'owner', { made: '1840' });
    const { chains } = provenanceOf(
      ledgerOf(slope(), MADE, ...FERRAND, mark('m', 'Lieut. J. Ferrand', 'owner', { made: '1831' }), again),
      '214',
      1,
    );
    expect(chains[0]?.holders[1]?.link).toBe('same');
    expect(chains[0]?.gaps).toEqual([]);
  });
});

describe('roles', () => {
  const SHOP = mark('shop', 'Widow Asher, Quay Street', 'retailer', { made: '1829', surname: 'Asher' });
  test('a maker or retailer holds nothing, whatever name stands there', () => {
    const { chains, text } = provenanceOf(
      ledgerOf(
        slope(),
        MADE,
        ...FERRAND,
        person('asher', 'Mary Asher', '1790', '1850'),
        SHOP,
        mark('m', 'Lieut. J. Ferrand', 'owner'),
      ),
      '214',
      5,
    );
    expect(chains[0]?.holders.map(({ mark: id }) => id)).toEqual(['m2']);
    expect(text).toContain('Retailer’s mark: “Widow Asher, Quay Street”, 1829.');
  });
  test('a depository’s label names a holder where the researcher says which name is meant', () => {
    const label = (surname?: string) =>
      mark('label', 'Pallant’s Depository. Miss A. Lisle', 'depository', {
        made: '1874',
        ...(surname ? { surname } : {}),
      });
    const holdersOf = (surname?: string) =>
      provenanceOf(ledgerOf(slope(), MADE, NIECE, label(surname)), '214', 1).chains[0]?.holders ?? [];
    expect(holdersOf()).toEqual([]);
    expect(holdersOf('Lisle')).toMatchObject([{ person: { name: 'Anne Lisle' } }]);
  });
  test('a label over another is not earlier', () => {
    const db = (over: string | null) =>
      ledgerOf(
        slope(),
        MADE,
        person('a', 'Ann Lisle', '1810', '1840'),
        person('b', 'Ann Lisle', '1850', '1900'),
        mark('label', 'Depository', 'depository', { made: '1845' }),
        mark('slip', 'Ann Lisle', 'owner', { over }),
      );
    const later = (over: string | null) =>
      provenanceOf(db(over), '214', 3).holders.find(({ person: who }) => who?.id === 'p2')?.share ?? 0;
    expect(later('label')).toBeGreaterThan(0.9);
    expect(later(null)).toBeLessThan(0.5);
  });
  test('an order that the dates of the marks exclude is said to be impossible, and not used', () => {
    const db = ledgerOf(
      slope(),
      MADE,
      NIECE,
      mark('a', 'Anne Lisle', 'owner', { made: '1860' }),
      mark('b', 'Depository', 'depository', { made: '1850' }),
    );
    addTo(db, [{ type: 'mark', key: 'c', object: 'slope', text: 'Lot 7', role: 'sale', made: '1840', over: 'a' }]);
    const { cautions, chains } = provenanceOf(db, '214', 1);
    expect(cautions.join()).toContain('cannot lie over each other');
    expect(chains[0]?.holders[0]?.person?.name).toBe('Anne Lisle');
  });
});

describe('more candidates than can be taken one by one', () => {
  const many = (count: number) =>
    Array.from({ length: count }, (_, i) => listed(`x${i}`, `${'ABCDEFGHIJ'[i % 10]}. Ferrand`, 'Lieut.', 1831)).flat();
  const answerFor = (count: number) =>
    provenanceOf(ledgerOf(slope(), MADE, ...LIST, ...many(count), mark('m', 'Lieut. Ferrand', 'owner')), '214', 1);

  test('the others stand for one holder, whose share is told', () => {
    const { leftOut, holders, cautions } = answerFor(60);
    const named = holders.filter(({ person: who }) => who !== null);
    expect(named).toHaveLength(40);
    expect(leftOut.candidates).toBe(20);
    expect(leftOut.share).toBeCloseTo(20 * (named[0]?.share ?? 0), 6);
    expect(leftOut.atMost).toBeCloseTo(leftOut.share, 9);
    expect(cautions.join()).toContain('not looked at one by one');
  });
  test('up to forty are all taken', () =>
    expect(answerFor(40).leftOut).toEqual({ candidates: 0, share: 0, atMost: 0, summedTogether: 0, sharesWithin: 0 }));
});

test('a holder who rests on contradicting records is provisional, a grade lower', () => {
  const entry = (dated: string): Line => ({
    type: 'entry',
    edition: 'al-1832',
    person: 'ferrand',
    name: 'Julian Ferrand',
    rank: 'Lieut.',
    corps: '2nd Fencibles',
    dated,
  });
  const owner = mark('m', 'Lieut. J. Ferrand', 'owner', { made: '1831' });
  const answerWith = (...entries: Line[]) => {
    const db = ledgerOf(
      slope(),
      MADE,
      ...LIST,
      swept('Ferrand'),
      { type: 'person', key: 'ferrand', name: 'Julian Ferrand' },
      ...entries,
      owner,
    );
    const { holders, cautions } = provenanceOf(db, '214', 1);
    return { cautions, ferrand: holders.find(({ person: who }) => who?.key === 'ferrand') };
  };
  expect(answerWith(entry('1829-05-01')).ferrand).toMatchObject({ provisional: false });
  const { ferrand, cautions } = answerWith(entry('1829-05-01'), entry('1830-09-01'));
  expect(ferrand?.provisional).toBe(true);
  expect(cautions.join()).toContain('contradict each other');
});
