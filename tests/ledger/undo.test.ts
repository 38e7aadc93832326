import Database from 'better-sqlite3';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { HeldbyError } from '../../src/errors.ts';
import { standAsOf } from '../../src/ledger/as-of.ts';
import type { KindName } from '../../src/ledger/kind.ts';
import { kindNamed } from '../../src/ledger/kinds.ts';
import type { Db } from '../../src/ledger/open.ts';
import type { Draft } from '../../src/ledger/recording.ts';
import { addRecord, amendRecord, withdrawRecord } from '../../src/ledger/records.ts';
import { undoAct } from '../../src/ledger/undo.ts';
import { verifyLedger } from '../../src/ledger/verify.ts';
import { inOneAct, newLedger } from './new-ledger.ts';

const person = kindNamed('person');

type Done =
  | { readonly does: 'add' | 'amend' | 'withdraw'; readonly who: number; readonly note: string }
  | { readonly does: 'undo'; readonly act: number };

/** Which acts count when all of these have been done; act 1 is the first. */
function counting(acts: readonly Done[]): Set<number> {
  const counts = new Set<number>();
  for (const [index, done] of acts.entries()) {
    counts.add(index + 1);
    if (done.does !== 'undo') continue;
    counts.delete(done.act);
    const undone = acts[done.act - 1];
    if (undone?.does === 'undo') counts.add(undone.act);
  }
  return counts;
}

/** What stands when those acts that count are done in their order: the note of each person. */
function standing(acts: readonly Done[]): Map<number, string> {
  const counts = counting(acts);
  const notes = new Map<number, string>();
  for (const [index, done] of acts.entries()) {
    if (!counts.has(index + 1) || done.does === 'undo') continue;
    if (done.does === 'withdraw') notes.delete(done.who);
    else notes.set(done.who, done.note);
  }
  return notes;
}

/** Whose record an act is about, or brings back, or takes away. */
const about = (acts: readonly Done[], act: number): number | undefined => {
  const done = acts[act - 1];
  return done?.does === 'undo' ? about(acts, done.act) : done?.who;
};

/** An act can be undone while it counts and nothing that counts was done to its record since. */
const canBeUndone = (acts: readonly Done[], act: number): boolean => {
  const counts = counting(acts);
  if (!counts.has(act)) return false;
  return !acts.some(
    (done, index) => index + 1 > act && done.does !== 'undo' && counts.has(index + 1) && done.who === about(acts, act),
  );
};

/** The notes of the people who are current, by the number in their names. */
const people = (db: Db): Map<number, string> => {
  const rows = db
    .prepare('SELECT n.text, p.note FROM current_person AS p JOIN printed_name AS n ON n.id = p.name_id')
    .all() as { text: string; note: string }[];
  const notes = new Map(rows.map(({ text, note }) => [Number(text.replace('Person ', '')), note]));
  expect(notes.size, 'one current version each').toBe(rows.length);
  return sorted(notes);
};

const sorted = (notes: Map<number, string>): Map<number, string> => new Map([...notes].sort(([a], [b]) => a - b));

/** The same ledger on another connection. */
const reopened = (bytes: Buffer): Db => new Database(bytes);

const plan = fc.array(
  fc.record({
    does: fc.constantFrom('add', 'amend', 'amend', 'withdraw', 'undo', 'undo'),
    at: fc.nat(),
    note: fc.string({ maxLength: 3 }),
  }),
  { minLength: 3, maxLength: 16 },
);

/** Does as planned what can be done, each in one act, and returns what was done. */
function carriedOut(
  db: Db,
  steps: readonly { does: string; at: number; note: string }[],
  undoesUndos: boolean,
): Done[] {
  const acts: Done[] = [];
  const ids: number[] = [];
  for (const { does, at, note } of steps) {
    const there = [...standing(acts).keys()];
    const who = there[at % Math.max(there.length, 1)] ?? 0;
    if (does === 'undo') {
      const act = (at % Math.max(acts.length, 1)) + 1;
      if (acts.length === 0 || (!undoesUndos && acts[act - 1]?.does === 'undo')) continue;
      const can = canBeUndone(acts, act);
      let refused: unknown;
      try {
        inOneAct(db, (into) => undoAct(db, into.act, act), act);
      } catch (error) {
        refused = error;
      }
      if (refused instanceof HeldbyError) expect(refused.code).toBe('CONFLICT');
      else if (refused !== undefined) throw refused;
      expect(refused === undefined, `undo ${act} after ${JSON.stringify(acts)}`).toBe(can);
      if (can) acts.push({ does: 'undo', act });
    } else if (does === 'add') {
      const said = `+${note}`.trim();
      const number = ids.length + 1;
      const { result: id } = inOneAct(db, (into) => addRecord(into, person, { name: `Person ${number}`, note: said }));
      ids.push(Number(id.slice(1)));
      acts.push({ does: 'add', who: number, note: said });
    } else if (who !== 0) {
      const said = `${acts.length} ${note}`.trim();
      inOneAct(db, (into) => {
        const id = ids[who - 1] ?? 0;
        if (does === 'amend') amendRecord(into, person, id, { note: said }, 'tried');
        else withdrawRecord(into, person, id, 'tried');
      });
      acts.push(does === 'amend' ? { does, who, note: said } : { does: 'withdraw', who, note: '' });
    }
  }
  return acts;
}

describe('what is current after any acts and undos is what the acts that count would have made', () => {
  test.each<[rule: string, undoesUndos: boolean]>([
    ['acts undone', false],
    ['undos undone too', true],
  ])('%s', (_rule, undoesUndos) =>
    fc.assert(
      fc.property(plan, (steps) => {
        const db = newLedger();
        const acts = carriedOut(db, steps, undoesUndos);
        expect(people(db)).toEqual(sorted(standing(acts)));
        expect(verifyLedger(db)).toEqual([]);
        db.close();
      }),
      { seed: 20_261_125, numRuns: 100, endOnFailure: undoesUndos },
    ),
  );

  test('and was so after every act, asked now', () =>
    fc.assert(
      fc.property(plan, (steps) => {
        const db = newLedger();
        const acts = carriedOut(db, steps, false);
        const whole = db.serialize();
        db.close();
        for (let act = 1; act <= acts.length; act += 1) {
          const past = reopened(whole);
          standAsOf(past, act);
          expect(people(past), `after act ${act}`).toEqual(sorted(standing(acts.slice(0, act))));
          past.close();
        }
      }),
      { seed: 20_261_126, numRuns: 25 },
    ));
});

describe('an act is not undone while something rests on it', () => {
  const ledger = (records: readonly (readonly [KindName, Draft])[]) => {
    const db = newLedger();
    for (const [kind, draft] of records) inOneAct(db, (into) => addRecord(into, kindNamed(kind), draft));
    return db;
  };
  const LIST: readonly (readonly [KindName, Draft])[] = [
    ['series', { name: 'Annual List', service: 'army' }],
    ['edition', { series: 's1', label: '1834', asAt: '1834' }],
    ['person', { name: 'Julian Ferrand' }],
    ['entry', { edition: 'ed1', name: 'J. Ferrand', rank: 'Lieut.' }],
    ['object', { ref: '214', title: 'Writing slope' }],
    ['mark', { object: 'o1', text: 'J. FERRAND', role: 'owner' }],
  ];
  test.each<[rule: string, act: number, kind: KindName, draft: Draft]>([
    ['an edition on its series', 1, 'edition', { series: 's1', label: '1836', asAt: '1836' }],
    ['an entry on its edition', 2, 'entry', { edition: 'ed1', name: 'R. Holt', rank: 'Ensign' }],
    ['a notice on its person', 3, 'notice', { person: 'p1', event: 'died', date: '1850' }],
    ['kinship on either', 3, 'kin', { person: 'p2', relation: 'child', relative: 'p1' }],
    ['a link on its entry', 4, 'link', { entry: 'e1', person: 'p2' }],
    ['a setting aside on its record', 4, 'setAside', { record: 'e1', why: 'slid' }],
    ['a feature on its object', 5, 'feature', { object: 'o1', text: 'screws', window: '1850' }],
    ['a mark on the one beneath', 6, 'mark', { object: 'o1', text: 'HOLT', role: 'owner', over: 'm1' }],
    ['a photograph on its mark', 6, 'photo', { of: 'm1', file: 'flap.jpg' }],
    ['a conclusion on its mark', 6, 'attribution', { mark: 'm1', person: 'p2', why: 'tried' }],
  ])('%s', (_rule, act, kind, draft) => {
    const before: Draft = { name: 'Anne Holt' };
    const db = ledger([...LIST, ['person', before]]);
    const { act: last } = inOneAct(db, (into) => addRecord(into, kindNamed(kind), draft));
    expect(() => inOneAct(db, (into) => undoAct(db, into.act, act), act)).toThrow(
      expect.objectContaining({ code: 'CONFLICT', message: expect.stringContaining(String(last?.id)) }),
    );
    inOneAct(db, (into) => undoAct(db, into.act, 8), 8);
    expect(verifyLedger(db)).toEqual([]);
  });

  test('nor twice, nor one that is not there', () => {
    const db = ledger(LIST);
    inOneAct(db, (into) => undoAct(db, into.act, 6), 6);
    expect(() => inOneAct(db, (into) => undoAct(db, into.act, 6), 6)).toThrow(
      expect.objectContaining({ code: 'CONFLICT' }),
    );
    expect(() => inOneAct(db, (into) => undoAct(db, into.act, 99), 99)).toThrow(
      expect.objectContaining({ code: 'REFERENCE' }),
    );
  });

  test('what was undone does not come back beside what took its place', () => {
    const db = ledger([['person', { name: 'Julian Ferrand' }]]);
    inOneAct(db, (into) => undoAct(db, into.act, 1), 1);
    const series: Draft = { name: 'Annual List', service: 'army' };
    inOneAct(db, (into) => addRecord(into, kindNamed('series'), series));
    inOneAct(db, (into) => undoAct(db, into.act, 3), 3);
    inOneAct(db, (into) => addRecord(into, kindNamed('series'), series));
    expect(() => inOneAct(db, (into) => undoAct(db, into.act, 4), 4)).toThrow(
      expect.objectContaining({ code: 'CONFLICT' }),
    );
  });
});
