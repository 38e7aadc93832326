import { describe, expect, test } from 'vitest';
import { candidatesForMark } from '../../src/inquiry/candidates.ts';
import { lookupsFor } from '../../src/inquiry/lookups.ts';
import { madeOf } from '../../src/inquiry/made.ts';
import { provenanceOf } from '../../src/inquiry/provenance.ts';
import { type Line, ledgerOf, listed, listOf, removeLedgersAfterEach, slope } from './made-up-ledger.ts';

removeLedgersAfterEach();

const MADE: Line = { type: 'feature', object: 'slope', text: 'tariff stamp', window: '1828/1832', force: 'hard' };
const mark = (key: string, text: string, role: unknown): Line => ({ type: 'mark', key, object: 'slope', text, role });
const LIST = [
  ...listOf(1830, 1834, 1838, 1842, 1850),
  ...listed('old', 'John Ferrard', 'Lieut.', 1830, 1834),
  ...listed('late', 'James Ferrald', 'Lieut.', 1842, 1850),
  ...listed('lisle', 'Matthew Lisle', 'Capt.', 1834, 1838),
];
const ledger = (...lines: Line[]) => ledgerOf(slope('1820/1859'), MADE, ...LIST, ...lines);
const TEXT = 'Lieut. J. Ferra[..]d';
const BOTH = { owner: 0.7, carrier: 0.3 };

const sharesOf = (db: ReturnType<typeof ledger>, key: string) => {
  const answer = candidatesForMark(db, key, { tried: 1 });
  return {
    answer,
    of: (person: string) => answer.candidates.find((each) => each.person.key === person)?.share ?? 0,
    all: answer.candidates.reduce((sum, { share }) => sum + share, 0) + answer.unrecorded.share + answer.noHolder.share,
  };
};

describe('a mark whose role is uncertain: who can have made it', () => {
  test('two roles that name a holder: the weights under each are mixed before shares are taken', () => {
    const db = ledger(mark('o', TEXT, 'owner'), mark('c', TEXT, 'carrier'), mark('b', TEXT, BOTH));
    const [owner, carrier, both] = [sharesOf(db, 'o'), sharesOf(db, 'c'), sharesOf(db, 'b')];
    expect(both.all).toBeCloseTo(1, 12);
    expect(both.answer.noHolder.share).toBe(0);
    // T = T₀ · share / share of somebody unrecorded, role by role: T₀ is the same wherever the density adds up to 1.
    const weight = (one: typeof owner, share: number) => share / one.answer.unrecorded.share;
    const mixed = ['old', 'late'].map(
      (person) => 0.7 * weight(owner, owner.of(person)) + 0.3 * weight(carrier, carrier.of(person)),
    );
    const total = 1 + mixed.reduce((sum, one) => sum + one, 0);
    for (const [i, person] of ['old', 'late'].entries())
      expect(both.of(person)).toBeCloseTo((mixed[i] ?? 0) / total, 8);
    expect(both.answer.mark.roles.map(({ role, weight: of }) => [role, of])).toEqual([
      ['owner', 0.7],
      ['carrier', 0.3],
    ]);
    const leader = both.answer.candidates[0]?.person.key ?? '';
    expect(both.answer.mark.roles[0]?.leaderShare).toBeCloseTo(owner.of(leader), 10);
    expect(both.answer.mark.roles[1]?.leaderShare).toBeCloseTo(carrier.of(leader), 10);
  });

  test('a role under which it names no holder keeps its weight', () => {
    const db = ledger(mark('o', TEXT, 'owner'), mark('b', TEXT, 'owner 0.6, maker 0.4'));
    const [owner, both] = [sharesOf(db, 'o'), sharesOf(db, 'b')];
    expect(both.answer.noHolder.share).toBeCloseTo(0.4, 12);
    expect(both.all).toBeCloseTo(1, 12);
    for (const person of ['old', 'late']) expect(both.of(person)).toBeCloseTo(0.6 * owner.of(person), 10);
    expect(both.answer.mark.roles[1]).toMatchObject({ role: 'maker', namesHolder: false, leaderShare: null });
    expect(both.answer.cautions.join(' ')).toContain('What the mark is on the object for is not certain');
  });

  test('lookups promise no more than the mark can name', () => {
    const db = ledger(mark('b', TEXT, 'owner 0.6, maker 0.4'));
    const answer = lookupsFor(db, 'b', { limit: 5, cost: { usual: 1, ofSeries: new Map() }, plan: undefined });
    expect(answer.marks[0]?.leaderShare).toBeCloseTo(sharesOf(db, 'b').answer.candidates[0]?.share ?? 0, 10);
    for (const { answers } of answer.lookups)
      for (const { leaderShare } of answers) expect(leaderShare).toBeLessThanOrEqual(0.6);
  });
});

describe('a mark whose role is uncertain: the whole object', () => {
  test('one mark: successions are the candidates, and made is the mean by the weights', () => {
    const db = ledger(mark('b', TEXT, 'owner 0.6, maker 0.4'));
    const { of, answer } = sharesOf(db, 'b');
    const provenance = provenanceOf(db, '214', 5);
    const [uncertain] = provenance.uncertainRoles;
    expect(uncertain?.noHolder).toBeCloseTo(0.4, 3);
    for (const person of ['old', 'late'])
      expect(provenance.holders.find((each) => each.person?.key === person)?.share).toBeCloseTo(of(person), 3);
    expect(provenance.holders.find(({ person }) => person === null)?.share).toBeCloseTo(answer.unrecorded.share, 3);
    const first = answer.candidates[0]?.person.key;
    const [owner, maker] = uncertain?.roles ?? [];
    expect(owner?.holders.find(({ person }) => person?.key === first)?.share).toBeCloseTo(of(first ?? '') / 0.6, 3);
    expect(maker).toMatchObject({ role: 'maker', holder: null, holders: [] });
    expect(madeOf(db, '214').withMarks?.marks[0]?.roles).toHaveLength(2);
  });
});
