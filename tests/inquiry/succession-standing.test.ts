import { describe, expect, test } from 'vitest';
import { provenanceOf } from '../../src/inquiry/provenance.ts';
import { openLedger } from '../../src/ledger/open.ts';
import { standWithout } from '../../src/ledger/without.ts';
import { type Line, ledgerOf, listed, listOf, removeLedgersAfterEach, slope } from './made-up-ledger.ts';

removeLedgersAfterEach();

const mark = (key: string, text: string, made: string): Line => ({
  type: 'mark',
  key,
  object: 'slope',
  text,
  role: 'owner',
  made,
});
const LEDGER: Line[] = [
  ...listOf(1830, 1831, 1832, 1833, 1834, 1838, 1842),
  ...listed('ferrand', 'Julian Ferrand', 'Lieut.', 1830, 1831),
  ...listed('other', 'John Ferrand', 'Lieut.', 1830, 1831, 1832, 1833),
  ...listed('holt', 'Simon Holt', 'Capt.', 1838),
  ...listed('holt-b', 'Samuel Holt', 'Capt.', 1838, 1842),
  { type: 'kin', person: 'ferrand', relation: 'parent', relative: 'holt' },
  { type: 'assumption', name: 'in-post', value: '1000', why: 'a trial' },
  slope('1820/1850'),
  mark('a', 'Lieut. J. Ferrand', '1830/1832'),
  mark('b', 'Capt. S. Holt', '1837/1840'),
];

describe('a holder without each record', () => {
  const asked = () => {
    const db = ledgerOf(...LEDGER);
    const { holders, chains } = provenanceOf(db, '214', 5);
    return { db, chains, named: holders.filter(({ robust }) => robust !== null) };
  };

  test('is tried for those of the likeliest succession', () => {
    const { chains, named } = asked();
    const likeliest = chains[0]?.holders.map(({ person }) => person?.id);
    expect(named.map(({ person }) => person?.id).sort()).toEqual([...(likeliest ?? [])].sort());
    expect(named).toHaveLength(2);
  });

  test('hangs on those records without which the whole question gives half the share or less', () => {
    const { db, named } = asked();
    for (const { person, share, hangsOn, robust } of named) {
      const hangs = ['e1', 'e2', 'e3', 'e4', 'e5', 'e6', 'e7', 'e8', 'e9', 'k1'].filter((id) => {
        const without = openLedger(db.name, 'read');
        standWithout(without, [id]);
        const then = provenanceOf(without, '214', 5).holders.find((each) => each.person?.id === person?.id);
        without.close();
        return (then?.share ?? 0) <= share / 2;
      });
      expect([...hangsOn].sort()).toEqual(hangs);
      expect(robust).toBe(hangs.length === 0);
    }
    expect(named.flatMap(({ hangsOn }) => hangsOn).length).toBeGreaterThan(0);
  });

  test('says so in its wording', () => {
    for (const { hangsOn, wording } of asked().named)
      expect(wording?.includes('on the strength of')).toBe(hangsOn.length > 0);
  });
});
