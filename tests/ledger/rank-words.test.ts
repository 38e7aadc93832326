import { describe, expect, test } from 'vitest';
import { rankNote } from '../../src/cli/rank-notes.ts';
import { kindNamed } from '../../src/ledger/kinds.ts';
import type { Db } from '../../src/ledger/open.ts';
import { readRecord } from '../../src/ledger/reading-records.ts';
import { addRecord } from '../../src/ledger/records.ts';
import { inOneAct, newLedger } from './new-ledger.ts';

function ledger(): Db {
  const db = newLedger();
  inOneAct(db, (into) => {
    addRecord(into, kindNamed('series'), { name: 'Annual List of the Coast Survey', service: 'army' });
    into.act.flush();
    addRecord(into, kindNamed('edition'), { series: 's1', label: '1834', asAt: '1834-01-01' });
  });
  return db;
}

const entry = (db: Db, rank: string, more: Record<string, string> = {}): string =>
  inOneAct(db, (into) => addRecord(into, kindNamed('entry'), { edition: 'ed1', name: 'T. Holt', rank, ...more }))
    .result;

const kindOf = (db: Db, id: string): unknown => readRecord(db, kindNamed('entry'), Number(id.slice(1)))?.fields['kind'];

describe('the words of a rank say how it was held', () => {
  test.each<[rank: string, kind: string]>([
    ['Bt. Major', 'brevet'],
    ['Major (brevet)', 'brevet'],
    ['Local Major', 'local'],
    ['Lt.-Col. (local)', 'local'],
    ['Temp. Capt.', 'temporary'],
    ['T/Major', 'temporary'],
    ['A/Capt.', 'acting'],
    ['Actg. Lieut.', 'acting'],
    ['Capt.', 'substantive'],
    ['Capt. h.p.', 'half-pay'],
    ['½ p. Lieut.', 'half-pay'],
    ['Capt. retired', 'retired'],
    ['Bt. Maj. h.p.', 'brevet'],
  ])('%s', (rank, kind) => {
    const db = ledger();
    expect(kindOf(db, entry(db, rank))).toBe(kind);
  });

  test('a kind that is given counts', () => {
    const db = ledger();
    expect(kindOf(db, entry(db, 'Bt. Major', { kind: 'staff' }))).toBe('staff');
  });
});

describe('what is worth saying of a rank', () => {
  test.each<[rank: string, note: RegExp | undefined]>([
    ['Bt. Major', /^Recorded as brevet, as "Bt. Major" says/],
    ['Capt h.p.', /^Recorded as half-pay, as "Capt h.p." says: the rank was kept, the post was not.*--event half-pay/],
    ['Retd. Capt.', /^Recorded as retired, as "Retd. Capt." says.*--event retired/],
    ['Troop Quartermaster', /^Troop Quartermaster is known in the army ladder until about 1810 only\.$/],
    ['Lieut. and Adjt.', /^Adjutant was held beside it/],
    ['Capt.', undefined],
  ])('%s', (rank, note) => {
    const db = ledger();
    const said = rankNote(db, entry(db, rank));
    if (note === undefined) expect(said).toBeUndefined();
    else expect(said).toMatch(note);
  });

  test('two ranks in one text are refused', () => {
    const db = ledger();
    expect(() => entry(db, 'Capt. and Bt. Major')).toThrow(
      expect.objectContaining({ code: 'RANK', message: expect.stringContaining('names Captain and Major') }),
    );
  });
});
