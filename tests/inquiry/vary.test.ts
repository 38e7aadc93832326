import { describe, expect, test } from 'vitest';
import { candidatesForMark, candidatesForText } from '../../src/inquiry/candidates.ts';
import { varyMark, varyText } from '../../src/inquiry/vary.ts';
import { gregorianDay } from '../../src/time/calendar.ts';
import { addTo, type Line, ledgerOf, listed, listOf, removeLedgersAfterEach, slope } from './made-up-ledger.ts';

removeLedgersAfterEach();

const YEARS = Array.from({ length: 40 }, (_, i) => 1815 + i);
/** One who was surely in the rank near the day of the mark, and one who is only implied to have been, on the day itself. */
const TWO: Line[] = [
  ...listOf(...YEARS),
  ...listed('near', 'John Ferrand', 'Lieut.', 1818, 1824),
  ...listed('implied', 'James Ferrand', 'Ensign', 1828, 1829),
  {
    type: 'entry',
    edition: 'al-1836',
    person: 'implied',
    name: 'James Ferrand',
    rank: 'Captain',
    corps: '2nd Fencibles',
  },
  slope(),
  { type: 'mark', key: 'm', object: 'slope', text: 'Lieut. J. Ferrand', role: 'owner', made: '1831/1832' },
];

describe('how far an assumption can go with the same name staying first', () => {
  const db = () => ledgerOf(...TWO);

  test('at the limit that is told the leader still leads, and a little beyond another does', () => {
    const base = db();
    const answer = varyMark(base, 'm', undefined);
    const leader = candidatesForMark(base, 'm', { tried: 0 }).candidates[0]?.person;
    expect(answer.leader).toEqual(leader);
    expect(answer.varied.length).toBeGreaterThan(0);
    for (const { name, from, to, below, above } of answer.varied) {
      for (const [limit, beyond, next] of [
        [from, from === null ? 0 : from / 1.05, below],
        [to, to === null ? 0 : to * 1.05, above],
      ] as const) {
        if (limit === null || beyond > 1e9) continue;
        const withValue = (value: number) => {
          const ledger = db();
          addTo(ledger, [{ type: 'assumption', name, value: String(value), why: 'tried' }]);
          const { candidates, unrecorded } = candidatesForMark(ledger, 'm', { tried: 0 });
          const [first] = candidates;
          return first !== undefined && first.share >= unrecorded.share ? first.person.id : null;
        };
        expect(withValue(limit), `${name} ${limit}`).toBe(leader?.id);
        expect(withValue(beyond), `${name} ${beyond}`).toBe(next === null ? null : next?.id);
      }
    }
  });

  test('those that turn it soonest come first, and what bears on it without turning it is named', () => {
    const { varied, steady } = varyMark(db(), 'm', undefined);
    const turns = varied.map(({ value, from, to }) =>
      Math.min(from === null ? Infinity : value / from, to === null ? Infinity : to / value),
    );
    expect(turns).toEqual([...turns].sort((a, b) => a - b));
    expect(steady).toContain('in-post');
    expect([...steady, ...varied.map(({ name }) => name)]).not.toContain('chain.kin');
    expect([...steady, ...varied.map(({ name }) => name)]).not.toContain('agree.place.differs');
  });

  test('a value that the ledger sets for the rank is the one that is varied', () => {
    const ledger = db();
    addTo(ledger, [{ type: 'assumption', name: 'in-post.lieutenant', value: '300', why: 'counted' }]);
    const { varied, steady } = varyMark(ledger, 'm', undefined);
    expect([...steady, ...varied.map(({ name }) => name)]).toContain('in-post.lieutenant');
    expect(steady).not.toContain('in-post');
  });
});

test('words just read, between two days', () => {
  const between = { from: gregorianDay(1831, 1, 1), until: gregorianDay(1833, 1, 1) };
  const asked = { text: 'Lieut. J. Ferrand', role: 'owner', parts: {} } as const;
  const db = ledgerOf(...TWO);
  const leader = candidatesForText(db, asked, { between, tried: 0 }).candidates[0]?.person;
  expect(varyText(db, asked, between).leader).toEqual(leader);
});

test('nobody leads where nobody fits', () => {
  const db = ledgerOf(slope(), { type: 'mark', key: 'm', object: 'slope', text: 'Capt. Quennell', role: 'owner' });
  expect(varyMark(db, 'm', undefined)).toMatchObject({ leader: null, varied: [], steady: [], candidates: 0 });
});
