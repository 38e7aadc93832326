import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { describe, expect, test } from 'vitest';
import { careersInAnswer, careersWeights } from '../../src/inquiry/careers.ts';
import { certainPlacings } from '../../src/inquiry/careers-certain.ts';
import { type CareerDecision, recordDecisions } from '../../src/inquiry/careers-decisions.ts';
import { careersFound } from '../../src/inquiry/careers-found.ts';
import { tenuresOf } from '../../src/inquiry/tenures.ts';
import { record } from '../../src/ledger/journal.ts';
import { kindNamed } from '../../src/ledger/kinds.ts';
import type { Db } from '../../src/ledger/open.ts';
import { recordPlacings } from '../../src/ledger/placings.ts';
import { type Recording, recording } from '../../src/ledger/recording.ts';
import { amendRecord } from '../../src/ledger/records.ts';
import { undoAct } from '../../src/ledger/undo.ts';
import { verifyLedger } from '../../src/ledger/verify.ts';
import { addTo, type Line, ledgerOf, removeLedgersAfterEach } from './made-up-ledger.ts';

removeLedgersAfterEach();

const ORIGIN = { at: '2020-01-01T00:00:00.000Z', who: 'tester', command: 'test', why: undefined, program: 'test' };
const WANTED = { people: 1000, doubts: 1000 };

/** The lists of the examples, as invented as all there, with who is who in them. */
const CELLS = readFileSync(resolve(import.meta.dirname, '../../examples/lists.csv'), 'utf8')
  .trim()
  .split('\n')
  .slice(1)
  .map((line) => line.split(',') as [string, string, string, string, string, string, string, string, string, string]);

const LISTS: readonly Line[] = [
  { type: 'series', key: 'al', name: 'Annual List of the Coast Survey', service: 'army', lagDays: 60 },
  ...[...new Map(CELLS.map(([, label, asAt]) => [label, asAt]))].map(
    ([label, asAt]): Line => ({ type: 'edition', key: `al-${label}`, series: 'al', label, asAt }),
  ),
];
const ENTRIES = CELLS.map(
  ([, label, , , name, rank, corps, dated, page, kind]): Line => ({
    type: 'entry',
    edition: `al-${label}`,
    name,
    rank,
    corps,
    page,
    kind,
    ...(dated === '' ? {} : { dated }),
  }),
);
const TRUTH = CELLS.map(([, , , person]) => person);

const acting = <T>(db: Db, work: (into: Recording) => T): { result: T; act: number } => {
  const { result, act } = record(db, ORIGIN, (opened) => work(recording(db, opened)));
  return { result, act: act?.id ?? 0 };
};

function accept(db: Db): number {
  const found = careersFound(db, 'all');
  return acting(db, (into) => recordPlacings(into, found.source.facts, certainPlacings(found))).act;
}

function decide(db: Db, ...decisions: CareerDecision[]) {
  const found = careersFound(db, 'all');
  return acting(db, (into) => recordDecisions(into, found, decisions));
}

/** Bearers by entry: `e1` → `p3`. */
const bearers = (db: Db): Map<number, number> =>
  new Map(
    db.prepare('SELECT entry_id, person_id FROM bearer WHERE person_id IS NOT NULL ORDER BY entry_id').raw().all() as [
      number,
      number,
    ][],
  );

/** A captain of two lists, his namesake, and somebody quite different: too few to tell much by. */
const SMALL: readonly Line[] = [
  { type: 'series', key: 'al', name: 'Annual List', service: 'army' },
  ...[1834, 1835, 1836, 1837].map(
    (year): Line => ({ type: 'edition', key: `al-${year}`, series: 'al', label: `${year}`, asAt: `${year}-01-01` }),
  ),
  ...[1834, 1835].map(
    (year): Line => ({
      type: 'entry',
      edition: `al-${year}`,
      name: 'J. Ferrand',
      rank: 'Captain',
      corps: '2nd Fencibles',
      dated: '5 May 1833',
    }),
  ),
  { type: 'entry', edition: 'al-1836', name: 'Julian Ferrand', rank: 'Major', corps: '5th Rangers' },
  { type: 'entry', edition: 'al-1837', name: 'Julian Holt-Ferrand', rank: 'Major', corps: '5th Rangers' },
];

describe('the certain joins', () => {
  test('nobody is put together with anybody else, and nearly everything is placed', () => {
    const db = ledgerOf(...LISTS, ...ENTRIES);
    const before = careersInAnswer(careersFound(db, 'all'), WANTED);
    expect(before.entries).toEqual({ all: ENTRIES.length, placed: 0, unplaced: ENTRIES.length });
    expect(before.editions).toEqual({ all: 24, whole: 24 });
    accept(db);
    const placed = bearers(db);
    expect(placed.size).toBe(before.certain.entries);
    expect(placed.size / ENTRIES.length).toBeGreaterThan(0.95);
    const truthOf = new Map<number, Set<string | undefined>>();
    for (const [entry, person] of placed) truthOf.set(person, (truthOf.get(person) ?? new Set()).add(TRUTH[entry - 1]));
    expect(truthOf.size).toBe(before.certain.newPeople);
    for (const truths of truthOf.values()) expect(truths.size).toBe(1);
    const after = careersInAnswer(careersFound(db, 'all'), WANTED);
    expect(after.certain.entries).toBe(0);
    expect(after.doubts.length).toBe(before.doubts.length);
    expect(verifyLedger(db)).toEqual([]);
  });

  test('every link has its reason, and the new people can be asked about', () => {
    const db = ledgerOf(...LISTS, ...ENTRIES);
    accept(db);
    const whys = db.prepare('SELECT why FROM current_link').pluck().all() as string[];
    expect(whys.every((why) => why.length > 5)).toBe(true);
    expect(whys.some((why) => why.includes('surname: the same'))).toBe(true);
    const { tenures } = tenuresOf(db, 'Silas Penhow');
    expect(tenures.map(({ rank }) => rank)).toContain('Major');
  });

  test('those that are somebody’s already stay so, and take in their like', () => {
    const [first] = CELLS;
    const known: Line[] = [
      { type: 'person', key: 'known', name: 'Matthias Drewe' },
      ...ENTRIES.map((line, at) => (at === 0 ? { ...line, person: 'known' } : line)),
    ];
    const db = ledgerOf(...LISTS, ...known);
    const answer = careersInAnswer(careersFound(db, 'all'), WANTED);
    const own = answer.people.find(({ person }) => person?.key === 'known');
    expect(own?.added.length).toBe(TRUTH.filter((truth) => truth === first?.[3]).length - 1);
    accept(db);
    expect([...bearers(db)].filter(([, person]) => person === 1).map(([entry]) => TRUTH[entry - 1])).toEqual(
      TRUTH.filter((truth) => truth === first?.[3]),
    );
  });

  test('one act, and undo takes all of it back', () => {
    const db = ledgerOf(...LISTS, ...ENTRIES);
    const act = accept(db);
    expect(act).toBe(2);
    acting(db, ({ act: opened }) => undoAct(db, opened, act));
    expect(bearers(db).size).toBe(0);
    expect(db.prepare('SELECT count(*) FROM current_person').pluck().get()).toBe(0);
    expect(careersInAnswer(careersFound(db, 'all'), WANTED).certain.entries).toBeGreaterThan(500);
    expect(verifyLedger(db)).toEqual([]);
  });

  test('who was taken off a line is not put back on it', () => {
    const db = ledgerOf(...LISTS, ...ENTRIES);
    accept(db);
    const [link, entry, person] = db
      .prepare('SELECT id, entry_id, person_id FROM current_link WHERE entry_id = 100')
      .raw()
      .get() as [number, number, number];
    acting(db, (into) => amendRecord(into, kindNamed('link'), link, { person: null }, 'misread'));
    expect(bearers(db).has(entry)).toBe(false);
    accept(db);
    expect(bearers(db).get(entry)).not.toBe(person);
    expect(db.prepare('SELECT count(*) FROM bearer WHERE entry_id = ?').pluck().get(entry)).toBe(1);
  });
});

describe('decisions', () => {
  const same = (one: string, other: string): CareerDecision => ({ one, other, decision: 'same', why: 'the same hand' });
  const differ = (one: string, other: string): CareerDecision => ({ one, other, decision: 'differ', why: undefined });

  test('two lines are one: a person is made under the fuller name', () => {
    const db = ledgerOf(...SMALL);
    const { result } = decide(db, same('e1', 'e3'));
    const placed = bearers(db);
    expect(placed.get(1)).toBe(placed.get(3));
    expect(result.newPeople).toBe(1);
    expect(result.findings).toEqual([]);
    expect(db.prepare('SELECT DISTINCT why FROM current_link').pluck().all()).toEqual(['the same hand']);
  });

  test('they are not: two people, kept apart for good', () => {
    const db = ledgerOf(...SMALL);
    const { result } = decide(db, differ('e1', 'e3'));
    const placed = bearers(db);
    expect(placed.get(1)).not.toBe(placed.get(3));
    expect(result.findings).toEqual(['df1']);
    expect(result.newPeople).toBe(2);
    accept(db);
    expect(bearers(db).get(1)).not.toBe(bearers(db).get(3));
  });

  test('two people on record are found to be one', () => {
    const db = ledgerOf(...SMALL);
    decide(db, differ('e1', 'e4'), same('e3', 'e4'));
    const { result } = decide(db, { ...same('p1', 'p1') });
    expect(result.findings).toEqual([]);
    const other = ledgerOf(
      { type: 'person', key: 'a', name: 'J. Ferrand' },
      { type: 'person', key: 'b', name: 'Julian Ferrand' },
      ...SMALL.map((line) =>
        line.type === 'entry' ? { ...line, person: line['edition'] === 'al-1834' ? 'a' : 'b' } : line,
      ),
    );
    expect(decide(other, same('e1', 'e3')).result.findings).toEqual(['sm1']);
    expect(decide(other, same('e1', 'e4')).result.findings).toEqual([]);
    expect(() => decide(other, differ('p1', 'p2'))).toThrow('found to be one');
  });

  test('one line is taken from the person who bears it', () => {
    const db = ledgerOf(
      { type: 'person', key: 'a', name: 'J. Ferrand' },
      ...SMALL.map((line) => (line.type === 'entry' ? { ...line, person: 'a' } : line)),
    );
    const { result } = decide(db, differ('e1', 'e4'));
    expect(result).toMatchObject({ links: 1, newPeople: 1, findings: ['df1'] });
    expect([...bearers(db)]).toEqual([
      [1, 1],
      [2, 1],
      [3, 1],
      [4, 2],
    ]);
  });

  test('a name was changed: one person with both names, each in its time', () => {
    const db = ledgerOf(...SMALL);
    const { result } = decide(db, { one: 'e3', other: 'e4', decision: 'renamed', why: 'by licence' });
    expect(result.findings).toEqual(['nm1']);
    const placed = bearers(db);
    expect(placed.get(3)).toBe(placed.get(4));
    const name = db
      .prepare(
        'SELECT n.text, d.text AS day FROM current_name_form AS f JOIN printed_name AS n ON n.id = f.name_id JOIN date_expression AS d ON d.id = f.from_id',
      )
      .get();
    expect(name).toEqual({ text: 'Julian Holt-Ferrand', day: '1836-01-01' });
  });

  test('a name was changed, where the later one is on record: the earlier in its time', () => {
    const db = ledgerOf(
      { type: 'person', key: 'h', name: 'Julian Holt-Ferrand' },
      ...SMALL.map((line) => (line['edition'] === 'al-1837' ? { ...line, person: 'h' } : line)),
    );
    decide(db, { one: 'e3', other: 'e4', decision: 'renamed', why: undefined });
    const name = db
      .prepare(
        'SELECT n.text, d.text AS day FROM current_name_form AS f JOIN printed_name AS n ON n.id = f.name_id JOIN date_expression AS d ON d.id = f.to_id',
      )
      .get();
    expect(name).toEqual({ text: 'Julian Ferrand', day: '1837-01-01' });
    expect(bearers(db).get(3)).toBe(1);
  });

  test('what is settled is not asked again', () => {
    const db = ledgerOf(...LISTS, ...ENTRIES);
    accept(db);
    const { doubts } = careersInAnswer(careersFound(db, 'all'), WANTED);
    expect(doubts.length).toBeGreaterThan(0);
    decide(
      db,
      ...doubts.map(({ one, other }): CareerDecision => {
        const [a, b] = [one, other].map(({ id }) => TRUTH[Number(id.slice(1)) - 1]);
        return { one: one.id, other: other.id, decision: a === b ? 'same' : 'differ', why: 'looked up' };
      }),
    );
    const asked = new Set(doubts.map(({ one, other }) => `${one.id} ${other.id}`));
    const left = careersInAnswer(careersFound(db, 'all'), WANTED).doubts;
    expect(left.filter(({ one, other }) => asked.has(`${one.id} ${other.id}`))).toEqual([]);
    expect(verifyLedger(db)).toEqual([]);
  });

  test('an entry that there is not', () => {
    expect(() => decide(ledgerOf(...SMALL), { ...same('e1', 'e99'), where: 'line 3' })).toThrow(
      'There is no entry or person e99.',
    );
    expect(() => decide(ledgerOf(...SMALL), same('e1', 'Ferrand'))).toThrow('There is no entry or person Ferrand.');
  });
});

describe('what is asked', () => {
  test('doubts in the order of what they settle, with their grounds; names that may have changed', () => {
    const answer = careersInAnswer(careersFound(ledgerOf(...LISTS, ...ENTRIES), 'all'), WANTED);
    for (const { grounds, chance, settles } of answer.doubts) {
      expect(grounds.length).toBeGreaterThan(3);
      expect(chance).toBeLessThan(0.96);
      expect(settles).toBeGreaterThan(0);
    }
    expect(answer.nameChanges.map(({ before, after }) => `${before} > ${after}`)).toContain(
      'P. Anstey > P. Anstey-Vole',
    );
  });

  test('a change of name is asked of two who are on record, until it is decided that they are two', () => {
    const changes = (db: ReturnType<typeof ledgerOf>) =>
      careersInAnswer(careersFound(db, 'all'), WANTED).nameChanges.filter(({ before }) => before === 'P. Anstey');
    const db = ledgerOf(...LISTS, ...ENTRIES);
    const [found] = changes(db);
    expect(found).toMatchObject({ after: 'P. Anstey-Vole', respelt: false });
    addTo(db, [
      { type: 'person', key: 'one', name: 'P. Anstey' },
      { type: 'person', key: 'other', name: 'P. Anstey-Vole' },
      { type: 'link', entry: found?.last.id, person: 'one', why: 'known' },
      { type: 'link', entry: found?.first.id, person: 'other', why: 'known' },
    ]);
    expect(changes(db)).toMatchObject([{ last: { person: { name: 'P. Anstey' } } }]);
    addTo(db, [{ type: 'differ', person: 'one', other: 'other', why: 'two' }]);
    expect(changes(db)).toEqual([]);
  });

  test('records of one person, and records set aside, are minded', () => {
    const people: Line[] = [
      { type: 'person', key: 'a', name: 'J. Ferrand' },
      { type: 'person', key: 'b', name: 'J. Ferrand' },
      { type: 'same', person: 'a', other: 'b', why: 'known' },
    ];
    const lines = SMALL.map((line) =>
      line['edition'] === 'al-1834'
        ? { ...line, person: 'a' }
        : line['edition'] === 'al-1835'
          ? { ...line, person: 'b' }
          : line,
    );
    const db = ledgerOf(...people, ...lines);
    const found = careersFound(db, 'all');
    expect(found.pieces.pieceOf[0]).toBe(found.pieces.pieceOf[1]);
    addTo(db, [{ type: 'setAside', record: 'e3', why: 'illegible' }]);
    expect(careersInAnswer(careersFound(db, 'all'), WANTED).entries.all).toBe(3);
  });

  test('weights: every level of every field with its shares', () => {
    const { rows, found, newShare } = careersWeights(careersFound(ledgerOf(...LISTS, ...ENTRIES), 'all'));
    expect(new Set(rows.map(({ field }) => field)).size).toBeGreaterThan(4);
    for (const { sameMan, twoMen, bits } of rows) expect(bits).toBeCloseTo(Math.log2(sameMan / twoMen), 6);
    expect(found.length).toBeGreaterThan(0);
    expect(newShare).toBeGreaterThan(0);
  });

  test('which editions count as whole', () => {
    const db = ledgerOf(...LISTS, ...ENTRIES);
    const whole = (which: 'all' | 'none' | 'by lines') =>
      careersInAnswer(careersFound(db, which), { people: 0, doubts: 0 }).editions.whole;
    expect([whole('all'), whole('none'), whole('by lines')]).toEqual([24, 0, 0]);
  });
});
