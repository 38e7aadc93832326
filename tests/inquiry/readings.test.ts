import { describe, expect, test } from 'vitest';
import { type CandidatesAnswer, candidatesForMark, candidatesForText } from '../../src/inquiry/candidates.ts';
import { lookupsFor } from '../../src/inquiry/lookups.ts';
import { provenanceOf } from '../../src/inquiry/provenance.ts';
import { record } from '../../src/ledger/journal.ts';
import { kindNamed } from '../../src/ledger/kinds.ts';
import type { Db } from '../../src/ledger/open.ts';
import { recording } from '../../src/ledger/recording.ts';
import { withdrawRecord } from '../../src/ledger/records.ts';
import { readDate } from '../../src/time/read-date.ts';
import { addTo, type Line, ledgerOf, listed, listOf, removeLedgersAfterEach, slope } from './made-up-ledger.ts';

removeLedgersAfterEach();

const PEOPLE: Line[] = [
  ...listOf(1830, 1834, 1838),
  ...listed('ferrand', 'Julian Ferrand', 'Lieut.', 1834, 1838),
  ...listed('ferrond', 'James Ferrond', 'Lieut.', 1834),
  ...listed('holt', 'Thomas Holt', 'Captain', 1830, 1834),
  ...listed('hult', 'Anne Hult', 'Lieut.', 1834),
  slope(),
];
const mark = (text: string, ...readings: string[]): Line[] => [
  { type: 'mark', key: 'm', object: 'slope', text, role: 'owner' },
  ...readings.map(
    (other, at): Line => ({ type: 'reading', key: `r${at}`, mark: 'm', text: other, by: 'second reader' }),
  ),
];

const between = readDate('1834').span;
const asked = { between, tried: 20 };

/** The weight of every candidate, and of somebody unrecorded, from their shares. */
function weightsOf({ candidates, unrecorded }: CandidatesAnswer): Map<string, number> {
  const total = unrecorded.expected / unrecorded.share;
  const all = candidates.map(({ person, rank, share }) => [`${person.name}, ${rank}`, share * total] as const);
  return new Map([...all, ['unrecorded', unrecorded.expected]]);
}

const ofText = (db: Db, text: string): Map<string, number> =>
  weightsOf(candidatesForText(db, { text, role: 'owner', parts: {} }, asked));

function withdrawReading(db: Db): void {
  const origin = { at: '2020-01-02T00:00:00.000Z', who: 'tester', command: 'test', why: 'a slip', program: 'test' };
  record(db, origin, (act) => withdrawRecord(recording(db, act), kindNamed('reading'), 1, 'a slip'));
}

describe('several readings of one mark count alike', () => {
  test.each<[what: string, first: string, ...others: string[]]>([
    ['another letter', 'Lieut. Ferrand', 'Lieut. Ferrond'],
    ['three of them', 'Lieut. Ferrand', 'Lieut. Ferrond', 'Lieut. Ferr[..]d'],
    ['another rank', 'Lieut. Holt', 'Capt. Holt'],
    ['another name and another initial', 'Lieut. A. Hult', 'Capt. T. Holt'],
    ['a name that no reading alone gives', 'Lieut. [---]', 'Lieut. Ferrand'],
    ['twice the same', 'Lieut. Ferrand', 'Lieut. Ferrand'],
  ])('each weight is the mean of the weights under each reading: %s', (_what, ...texts) => {
    const [first, ...others] = texts;
    const db = ledgerOf(...PEOPLE, ...mark(first, ...others));
    const alone = texts.map((text) => ofText(db, text));
    const together = weightsOf(candidatesForMark(db, 'm', asked));
    const names = new Set(alone.flatMap((one) => [...one.keys()]));
    expect(new Set(together.keys())).toEqual(names);
    for (const name of names) {
      const mean = alone.reduce((sum, one) => sum + (one.get(name) ?? 0), 0) / texts.length;
      expect((together.get(name) ?? 0) / mean).toBeCloseTo(1, 9);
    }
  });

  test('the answer shows every reading, and which one fits each candidate best', () => {
    const db = ledgerOf(...PEOPLE, ...mark('Lieut. Ferrand', 'Lieut. J. Ferrond'));
    const answer = candidatesForMark(db, 'm', asked);
    expect(answer.mark.readings.map(({ id, text, by, reading }) => [id, text, by, reading.surname])).toEqual([
      ['m1', 'Lieut. Ferrand', null, 'Ferrand'],
      ['r1', 'Lieut. J. Ferrond', 'second reader', 'Ferrond'],
    ]);
    const best = new Map(answer.candidates.map(({ person, readAs }) => [person.key, readAs]));
    expect(best.get('ferrand')).toBe('m1');
    expect(best.get('ferrond')).toBe('r1');
    for (const { tenures } of answer.candidates) expect(new Set(tenures).size).toBe(tenures.length);
  });

  test('one reading, and words just read, are answered as ever', () => {
    const db = ledgerOf(...PEOPLE, ...mark('Lieut. Ferrand'));
    const answer = candidatesForMark(db, 'm', asked);
    expect(answer.mark.readings).toHaveLength(1);
    expect(answer.candidates[0]?.readAs).toBe('m1');
    expect(weightsOf(answer)).toEqual(ofText(db, 'Lieut. Ferrand'));
    const words = candidatesForText(db, { text: 'Lieut. Ferrand', role: 'owner', parts: {} }, asked);
    expect(words.mark.readings.map(({ id }) => id)).toEqual([null]);
    expect(words.candidates[0]?.readAs).toBeNull();
  });

  test.each<[what: string, undo: (db: Db) => void]>([
    ['set aside', (db) => void addTo(db, [{ type: 'setAside', record: 'r1', why: 'a slip' }])],
    ['withdrawn', (db) => withdrawReading(db)],
  ])('a reading that is %s does not count', (_what, undo) => {
    const plain = ledgerOf(...PEOPLE, ...mark('Lieut. Ferrand'));
    const db = ledgerOf(...PEOPLE, ...mark('Lieut. Ferrand', 'Lieut. Ferrond'));
    undo(db);
    expect(weightsOf(candidatesForMark(db, 'm', asked))).toEqual(weightsOf(candidatesForMark(plain, 'm', asked)));
  });

  test('the order of the readings changes no weight', () => {
    const one = ledgerOf(...PEOPLE, ...mark('Lieut. Ferrand', 'Lieut. Ferrond', 'Capt. Holt'));
    const other = ledgerOf(...PEOPLE, ...mark('Lieut. Ferrand', 'Capt. Holt', 'Lieut. Ferrond'));
    const [a, b] = [one, other].map((db) => weightsOf(candidatesForMark(db, 'm', asked)));
    for (const [name, weight] of a ?? []) expect(b?.get(name)).toBeCloseTo(weight, 12);
  });

  test('rank, corps and place given for the mark count for every reading, a surname for its own text', () => {
    const given = { rank: 'Captain', surname: 'Ferrand' };
    const db = ledgerOf(
      ...PEOPLE,
      ...mark('Ferrand', 'Holt').map((line) => (line.type === 'mark' ? { ...line, ...given } : line)),
    );
    const { readings } = candidatesForMark(db, 'm', asked).mark;
    expect(readings.map(({ reading }) => [reading.rank, reading.surname])).toEqual([
      ['Captain', 'Ferrand'],
      ['Captain', 'Holt'],
    ]);
  });

  test('a conclusion can hang on a reading', () => {
    const db = ledgerOf(...PEOPLE, ...mark('Lieut. Hult', 'Lieut. Ferrand'));
    const hangs = new Map(candidatesForMark(db, 'm', asked).candidates.map((each) => [each.person.key, each.hangsOn]));
    expect(hangs.get('ferrand')).toContain('r1');
    expect(hangs.get('hult')).not.toContain('r1');
  });

  test('who held the object is reckoned with all readings too', () => {
    const db = ledgerOf(...PEOPLE, ...mark('Lieut. Ferrand', 'Lieut. Ferrond', 'Capt. Holt'));
    const shares = candidatesForMark(db, 'm', { tried: 0 });
    for (const { person, share } of provenanceOf(db, '214', 3).holders) {
      const alone =
        person === null
          ? shares.unrecorded.share
          : shares.candidates.filter((each) => each.person.id === person.id).reduce((sum, each) => sum + each.share, 0);
      expect(share).toBeCloseTo(alone, 3);
    }
  });

  test('look-ups bear on each reading', () => {
    const db = ledgerOf(...PEOPLE, ...mark('Lieut. Ferrand', 'Lieut. Ferrond'));
    const { lookups, marks } = lookupsFor(db, 'm', {
      limit: 50,
      cost: { usual: 0, ofSeries: new Map() },
      plan: undefined,
    });
    expect(marks).toHaveLength(1);
    expect(lookups.flatMap(({ surname }) => (surname === undefined ? [] : [surname]))).toEqual(
      expect.arrayContaining(['Ferrand', 'Ferrond']),
    );
  });
});
