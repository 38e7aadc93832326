import { createHash } from 'node:crypto';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Cell, RowDigest, record } from '../../src/ledger/journal.ts';
import { kindNamed } from '../../src/ledger/kinds.ts';
import type { Db } from '../../src/ledger/open.ts';
import { addRecord } from '../../src/ledger/records.ts';
import { inOneAct, newLedger, ORIGIN } from './new-ledger.ts';

const count = (db: Db, table: string) => db.prepare(`SELECT count(*) FROM "${table}"`).pluck().get();
const person = kindNamed('person');

describe('an act is recorded whole or not at all', () => {
  test('what fails leaves nothing', () => {
    const db = newLedger();
    expect(() =>
      inOneAct(db, (into) => {
        addRecord(into, person, { name: 'Anne Ferrand' });
        throw new Error('power cut');
      }),
    ).toThrow('power cut');
    for (const table of ['act', 'seal', 'person', 'printed_name', 'surname']) expect(count(db, table)).toBe(0);
  });

  test('what is only tried leaves nothing, and says what it would do', () => {
    const db = newLedger();
    const { result, act } = record(db, ORIGIN, ({ insert }) => insert('surname', { id: 1, text: 'Holt' }), {
      dryRun: true,
    });
    expect([result, act?.id, act?.rows]).toEqual([undefined, 1, 1]);
    for (const table of ['act', 'seal', 'surname']) expect(count(db, table)).toBe(0);
  });

  test('an act without rows leaves no trace, and its number is free', () => {
    const db = newLedger();
    expect(inOneAct(db, () => 'nothing')).toEqual({ result: 'nothing', act: undefined });
    expect(inOneAct(db, (into) => addRecord(into, person, { name: 'Anne Ferrand' })).act?.id).toBe(1);
  });

  test('rows are only added', () => {
    const db = newLedger();
    inOneAct(db, (into) => addRecord(into, person, { name: 'Anne Ferrand' }));
    const tables = db
      .prepare("SELECT DISTINCT tbl_name FROM sqlite_schema WHERE type = 'trigger'")
      .pluck()
      .all() as string[];
    expect(tables).toEqual(
      expect.arrayContaining(['act', 'seal', 'standing', 'replaced', 'person', 'entry', 'entry_run']),
    );
    expect(() => db.exec("UPDATE person SET key = 'x'")).toThrow('never changed');
    expect(() => db.exec('DELETE FROM act')).toThrow('never deleted');
  });
});

/** The bytes of a row as the journal says that it hashes them, written down with nothing clever. */
function plainBytes(cells: readonly Cell[], places: readonly number[]): Buffer {
  const head = (type: number, value: number) => {
    const bytes = Buffer.alloc(9);
    bytes[0] = type;
    bytes.writeDoubleLE(value, 1);
    return bytes;
  };
  const inOrder = places.map((place, index) => [place, cells[index] ?? null] as const).sort(([a], [b]) => a - b);
  const parts = inOrder.flatMap(([place, cell]) => {
    if (cell === null) return [];
    if (typeof cell === 'string') return [Buffer.of(place), head(3, Buffer.byteLength(cell)), Buffer.from(cell)];
    if (Buffer.isBuffer(cell)) return [Buffer.of(place), head(4, cell.length), cell];
    return [Buffer.of(place), head(1, Number(cell))];
  });
  return Buffer.concat([...parts, Buffer.of(255)]);
}

/** The checks of rows as the journal keeps them: FNV-1a over each row, in plain big numbers. */
function plainChecks(...rows: (readonly (readonly [place: number, cell: string | number])[])[]): Buffer {
  const int32 = (value: number) => [...Buffer.from(Int32Array.of(value).buffer)];
  const octets = (cell: string | number): number[] =>
    typeof cell === 'number'
      ? [...Buffer.from(Float64Array.of(cell).buffer)]
      : [...int32(cell.length), ...Buffer.from(cell, 'utf16le')];
  const check = (row: readonly (readonly [number, string | number])[]): number =>
    Number(
      row
        .flatMap(([place, cell]) => [...int32(place), ...octets(cell)])
        .reduce((hash, octet) => ((hash ^ BigInt(octet)) * 16_777_619n) % 2n ** 32n, 2_166_136_261n),
    );
  return Buffer.from(Uint32Array.from(rows, check).buffer);
}

const sha256 = (...parts: (Buffer | string)[]): Buffer =>
  parts.reduce((hash, part) => hash.update(part), createHash('sha256')).digest();

describe('the hash of an act', () => {
  const cell: fc.Arbitrary<Cell> = fc.oneof(
    fc.constant(null),
    fc.integer(),
    fc.double({ noNaN: true }),
    fc.string({ unit: 'grapheme', maxLength: 12 }),
    fc.integer({ min: 65_400, max: 65_700 }).map((length) => 'é'.repeat(length / 2)),
    fc.uint8Array({ maxLength: 20 }).map((bytes) => Buffer.from(bytes)),
  );

  test('of rows: SHA-256 over their cells, wherever buffers end', () =>
    fc.assert(
      fc.property(
        fc.array(fc.tuple(cell, cell, cell), { maxLength: 40 }),
        fc.shuffledSubarray([2, 5, 9], { minLength: 3 }),
        (rows, places) => {
          const digest = new RowDigest();
          const add = digest.counter(places);
          for (const row of rows) add(row);
          expect(digest.rows).toBe(rows.length);
          expect(digest.finish()).toEqual(sha256(...rows.map((row) => plainBytes(row, places))));
        },
      ),
      { seed: 20_261_125, numRuns: 150 },
    ));

  test('a column that is null counts for nothing, so that a later one changes no old hash', () => {
    const [narrow, wide] = [new RowDigest(), new RowDigest()];
    narrow.counter([0, 1])(['Holt', 3]);
    wide.counter([0, 1, 2])(['Holt', 3, null]);
    expect(wide.finish()).toEqual(narrow.finish());
  });

  test('covers the one before, the act, and each table by its name', () => {
    const db = newLedger();
    const first = inOneAct(db, (into) => addRecord(into, kindNamed('service'), { name: 'lights' })).act;
    const second = inOneAct(db, ({ act }) => {
      act.insert('surname', { id: 1, text: 'Holt' });
      act.insert('corps_style', { id: 1, text: '2nd Fencibles' });
      act.insert('surname', { id: 2, text: 'Ferrand' });
    }).act;
    const actBytes = (id: number) =>
      sha256(
        plainBytes([id, ORIGIN.at, ORIGIN.who, ORIGIN.command, null, ORIGIN.program, null], [0, 1, 2, 3, 4, 5, 6]),
      );
    const service = sha256(plainBytes([1, 1, null, 'lights'], [0, 1, 3, 4]));
    const corps = sha256(plainBytes([1, '2nd Fencibles'], [0, 2]));
    const surnames = sha256(plainBytes([1, 'Holt'], [0, 2]), plainBytes([2, 'Ferrand'], [0, 2]));
    const checks = (part: number, table: string, kept: Buffer) => plainBytes([part, table, kept], [1, 2, 3]);
    const ofFirst = sha256(
      checks(
        0,
        'service',
        plainChecks([
          [0, 1],
          [1, 1],
          [4, 'lights'],
        ]),
      ),
    );
    const ofSecond = sha256(
      checks(
        0,
        'corps_style',
        plainChecks([
          [0, 1],
          [2, '2nd Fencibles'],
        ]),
      ),
      checks(
        1,
        'surname',
        plainChecks(
          [
            [0, 1],
            [2, 'Holt'],
          ],
          [
            [0, 2],
            [2, 'Ferrand'],
          ],
        ),
      ),
    );
    const one = sha256(Buffer.alloc(32), actBytes(1), 'row_check 1 ', ofFirst, 'service 1 ', service);
    expect(first?.hash).toBe(one.toString('hex'));
    expect(second).toEqual({
      id: 2,
      rows: 3,
      hash: sha256(
        one,
        actBytes(2),
        'corps_style 1 ',
        corps,
        'row_check 2 ',
        ofSecond,
        'surname 2 ',
        surnames,
      ).toString('hex'),
    });
  });
});

test('rows that are written in batches are all there, in their order, and hashed as one by one', () => {
  const rows = Array.from({ length: 173 }, (_, i) => [i + 1, `Name ${i}`] as const);
  const [single, batched] = [newLedger(), newLedger()];
  const one = inOneAct(single, ({ act }) => rows.map(([id, text]) => act.insert('surname', { id, text })));
  const many = inOneAct(batched, ({ act }) => {
    const add = act.inserter('surname', ['id', 'text'], true);
    for (const row of rows) add(row);
  });
  const stored = (db: Db) => db.prepare('SELECT id, text FROM surname ORDER BY id').raw().all();
  expect(stored(batched)).toEqual(rows);
  expect(stored(single)).toEqual(rows);
  expect(many.act).toEqual(one.act);
});
