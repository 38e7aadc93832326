import { describe, expect, test } from 'vitest';
import { candidatesForMark } from '../../src/inquiry/candidates.ts';
import { type Effect, effectOf } from '../../src/inquiry/effect.ts';
import { tenuresOf } from '../../src/inquiry/tenures.ts';
import { record } from '../../src/ledger/journal.ts';
import { kindNamed, parseId } from '../../src/ledger/kinds.ts';
import type { Db } from '../../src/ledger/open.ts';
import { type Recording, recording } from '../../src/ledger/recording.ts';
import { addRecord, amendRecord, withdrawRecord } from '../../src/ledger/records.ts';
import { type Line, ledgerOf, listOf, removeLedgersAfterEach, slope } from './made-up-ledger.ts';

removeLedgersAfterEach();

const entry = (year: number, person: string, rank: string, more: Partial<Line> = {}): Line => ({
  type: 'entry',
  edition: `al-${year}`,
  person,
  name: person,
  rank,
  corps: '2nd Fencibles',
  ...more,
});

const LINES: readonly Line[] = [
  ...listOf(1834, 1836, 1838, 1840),
  { type: 'person', key: 'ferrand', name: 'Julian Peter Ferrand' },
  { type: 'person', key: 'ferrold', name: 'John Ferrold' },
  { type: 'person', key: 'holt', name: 'Anne Holt' },
  entry(1834, 'ferrand', 'Lieut.'),
  entry(1836, 'ferrand', 'Lieut.', { dated: '5 May 1833' }),
  entry(1838, 'ferrand', 'Captain'),
  entry(1840, 'ferrold', 'Lieut.'),
  entry(1834, 'holt', 'Captain'),
  entry(1836, 'holt', 'Lieut.'),
  { type: 'search', edition: 'al-1840', surname: 'Ferrand', outcome: 'all taken' },
  slope('1800/1900'),
  { type: 'feature', object: 'slope', text: 'patent lock', window: '1830/..', force: 'hard' },
  { type: 'mark', key: 'm-a', object: 'slope', text: 'Lieut. J. Ferr[..]d', role: 'owner' },
  { type: 'mark', key: 'm-b', object: 'slope', text: 'Captain Holt', role: 'owner' },
];

/** What a trial says, and the ledger as it is afterwards. */
function trial(id: string, done: (into: Recording, row: number) => string): { effect: Effect; db: Db } {
  const db = ledgerOf(...LINES);
  const origin = { at: '2020-01-01T00:00:00.000Z', who: 'tester', command: 'test', why: undefined, program: 'test' };
  const { result } = record(
    db,
    origin,
    (act) => {
      const into = recording(db, act);
      return effectOf(db, [id], () => {
        const made = done(into, parseId(id)?.row ?? 0);
        act.flush();
        return made;
      });
    },
    { dryRun: true },
  );
  return { effect: result.effect, db };
}

const setAside = (id: string) =>
  trial(id, (into) => addRecord(into, kindNamed('setAside'), { record: id, why: 'a trial' }));
const amend = (id: string, change: Record<string, string>) =>
  trial(id, (into, row) => {
    amendRecord(into, (parseId(id) ?? expect.unreachable()).kind, row, change, 'a trial');
    return id;
  });
const withdraw = (id: string) =>
  trial(id, (into, row) => {
    withdrawRecord(into, (parseId(id) ?? expect.unreachable()).kind, row, 'a trial');
    return id;
  });

const told = ({ tenures }: Effect) =>
  tenures.map(
    ({ person, post, before, after }) =>
      `${person.id} ${post}: ${before?.start.latest ?? 'none'} to ${after?.start.latest ?? 'none'}`,
  );

describe('what a correction would change', () => {
  test('nothing', () => {
    const { effect } = setAside('e1');
    expect(effect).toMatchObject({ tenures: [], marks: [], objects: [], conflicts: { before: 0, after: 0 } });
  });

  test('bounds of tenures, and the shares of marks that rest on them', () => {
    const { effect, db } = setAside('e2');
    expect(told(effect)).toEqual([
      'p1 Lieutenant, 2nd Fencibles: 1833-05-05 to 1834-01-01',
      'p1 Captain, 2nd Fencibles: 1838-01-01 to 1838-01-01',
    ]);
    expect(effect.marks.map(({ id }) => id)).toEqual(['m1']);
    const [mark] = effect.marks;
    const answer = candidatesForMark(db, 'm1', { tried: 0 });
    expect(mark?.leader.before?.share).toBe(answer.candidates[0]?.share);
    expect(mark?.shares.length).toBeGreaterThan(0);
    for (const { before, after } of mark?.shares ?? []) expect(before).not.toBe(after);
  });

  test('a tenure that comes in, one that goes, and conflicts', () => {
    const { effect } = amend('e4', { person: 'p1' });
    expect(told(effect)).toContain('p2 Lieutenant, 2nd Fencibles: 1840-01-01 to none');
    expect(effect.conflicts).toEqual({ before: 0, after: 1 });
    expect(setAside('e6').effect.conflicts).toEqual({ before: 1, after: 0 });
  });

  test('a name, by which marks mean another', () => {
    const { effect } = amend('p1', { name: 'Julian Holt' });
    expect(effect.marks.map(({ id, leader }) => [id, leader.before?.person.id, leader.after?.person.id])).toEqual([
      ['m1', 'p2', 'p2'],
      ['m2', 'p3', expect.anything()],
    ]);
    expect(effect.marks[1]?.shares.find(({ person }) => person.id === 'p1')).toMatchObject({ before: null });
  });

  test('an object and its marks', () => {
    const { effect } = withdraw('f1');
    expect(effect.objects).toMatchObject([{ id: 'o1', ref: '214' }]);
    expect(effect.objects[0]?.before?.phrase).not.toBe(effect.objects[0]?.after?.phrase);
    expect(effect.marks.map(({ id }) => id)).toContain('m1');
  });

  test('an edition with all that stands in it', () => {
    const { effect } = amend('ed2', { asAt: '1837-01-01' });
    expect(effect.tenures.map(({ person }) => person.id)).toContain('p1');
  });

  test('a sweep', () => expect(withdraw('q1').effect.marks.map(({ id }) => id)).toEqual(['m1']));

  test('an assumption: every mark is looked at', () => {
    const db = ledgerOf(...LINES, { type: 'assumption', name: 'in-post.lieutenant', value: '20', why: 'counted' });
    const origin = { at: '2020-01-01T00:00:00.000Z', who: 'tester', command: 'test', why: undefined, program: 'test' };
    const { result } = record(
      db,
      origin,
      (act) =>
        effectOf(db, ['as1'], () => {
          amendRecord(recording(db, act), kindNamed('assumption'), 1, { value: '900' }, 'recounted');
          return 'as1';
        }),
      { dryRun: true },
    );
    expect(result.effect.marks.map(({ id }) => id)).toEqual(['m1']);
    expect(result.effect.marks[0]?.unrecorded.after).toBeGreaterThan(result.effect.marks[0]?.unrecorded.before ?? 1);
  });

  test('a trial leaves the ledger as it was', () => {
    const { db } = setAside('e2');
    const fresh = ledgerOf(...LINES);
    expect(tenuresOf(db, 'p1')).toEqual(tenuresOf(fresh, 'p1'));
    expect(db.prepare('SELECT max(id) FROM act').pluck().get()).toBe(1);
  });
});
