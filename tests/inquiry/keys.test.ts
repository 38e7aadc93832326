import { expect, test } from 'vitest';
import { withKeys } from '../../src/inquiry/keys.ts';
import { kindNamed } from '../../src/ledger/kinds.ts';
import { addRecord } from '../../src/ledger/records.ts';
import { inOneAct, newLedger } from '../ledger/new-ledger.ts';

test('the key stands behind each id of a record, null where it has none', () => {
  const db = newLedger();
  inOneAct(db, (into) => {
    addRecord(into, kindNamed('person'), { name: 'Thomas Holt' }, 'holt');
    addRecord(into, kindNamed('person'), { name: 'John Hale' });
  });
  const answer = {
    people: [{ id: 'p1', name: 'Thomas Holt' }, { id: 'p2' }, { id: 'p1', key: 'as it is' }, { id: null }],
    tenure: { id: 'p1.2', holder: { id: 'p1' } },
    act: { id: 1 },
    shares: [0.5, 0.5],
    nobody: null,
  };
  expect(withKeys(db, answer)).toEqual({
    ...answer,
    people: [
      { id: 'p1', key: 'holt', name: 'Thomas Holt' },
      { id: 'p2', key: null },
      { id: 'p1', key: 'as it is' },
      { id: null },
    ],
    tenure: { id: 'p1.2', holder: { id: 'p1', key: 'holt' } },
  });
  expect(Object.keys((withKeys(db, answer) as typeof answer).people[0] ?? {})).toEqual(['id', 'key', 'name']);
});
