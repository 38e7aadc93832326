import { createHash, type Hash } from 'node:crypto';
import { HeldbyError } from '../errors.ts';
import type { Db } from './open.ts';
import { NO_CELLS, RowChecks, withBytes, withInteger, withNumber, withText } from './row-check.ts';

/** Who records, when, with which command and why; handed in, because the ledger does not read the clock. */
export type ActOrigin = {
  readonly at: string;
  readonly who: string;
  readonly command: string;
  readonly why: string | undefined;
  readonly program: string;
};

export type Cell = string | number | bigint | Buffer | null;

/** One act while it is being recorded. Rows of one table must come in the order of its primary key. */
export type Act = {
  readonly id: number;
  /** Adds a row and counts it into the act's hash. `columns` leaves out act_id, which is put in. */
  insert(table: string, row: Readonly<Record<string, Cell>>): void;
  /** The same for many rows of one shape: give the columns once, then the cells of each row in their order. */
  inserter(table: string, columns: readonly string[], batched?: boolean): (cells: readonly Cell[]) => void;
  /** Writes the rows that batched inserters hold back; before anything reads them. */
  flush(): void;
  /** For rows that were added by another way: counts them into the hash as `insert` would. */
  digest(table: string): RowDigest;
};

export type Sealed = { readonly id: number; readonly rows: number; readonly hash: string };

/**
 * Records one act in one transaction: all of it or nothing. An act without rows leaves no trace.
 * @param options `undoes`: the act that is taken back, or how to find it while nobody else can record.
 * @returns what `work` returned, with the act that was sealed, if it recorded anything.
 */
export function record<T>(
  db: Db,
  origin: ActOrigin,
  work: (act: Act) => T,
  options: { dryRun?: boolean; undoes?: number | (() => number) } = {},
): { result: T; act: Sealed | undefined } {
  class DryRun extends Error {}
  let outcome: { result: T; act: Sealed | undefined } | undefined;
  const run = db.transaction(() => {
    const id = ((db.prepare('SELECT max(id) FROM act').pluck().get() as number | null) ?? 0) + 1;
    const undoes = typeof options.undoes === 'function' ? options.undoes() : (options.undoes ?? null);
    if (undoes !== null && db.prepare('SELECT 1 FROM act WHERE id = ?').get(undoes) === undefined)
      throw new HeldbyError('REFERENCE', `There is no act ${undoes}.`, 'See the acts: heldby history');
    const fields = [id, origin.at, origin.who, origin.command, origin.why ?? null, origin.program, undoes] as const;
    db.prepare('INSERT INTO act (id, at, who, command, why, program, undoes) VALUES (?, ?, ?, ?, ?, ?, ?)').run(fields);
    const digests = new Map<string, RowDigest>();
    const digest = (table: string) => {
      const known = digests.get(table);
      if (known) return known;
      const made = new RowDigest();
      digests.set(table, made);
      return made;
    };
    const inserter = (table: string, columns: readonly string[], batched = false) => {
      const names = ['act_id', ...columns].map((name) => `"${name}"`).join(', ');
      const insertOf = (rows: number) =>
        db.prepare(
          `INSERT INTO "${table}" (${names}) VALUES ${Array(rows)
            .fill(`(${id}${', ?'.repeat(columns.length)})`)
            .join(', ')}`,
        );
      const places = columnPlaces(db, table);
      const counted = digest(table).counter(columns.map((column) => places.get(column) ?? 0));
      if (!batched) {
        const statement = insertOf(1);
        return (cells: readonly Cell[]) => {
          statement.run(cells);
          counted(cells);
        };
      }
      const statement = insertOf(ROWS_A_BATCH);
      let waiting: Cell[] = [];
      const single = insertOf(1);
      flushes.push(() => {
        if (waiting.length === ROWS_A_BATCH * columns.length) statement.run(waiting);
        else
          for (let at = 0; at < waiting.length; at += columns.length)
            single.run(waiting.slice(at, at + columns.length));
        waiting = [];
      });
      return (cells: readonly Cell[]) => {
        waiting.push(...cells);
        // All of them, in the order in which they were first needed: a name's row refers to its surname's.
        if (waiting.length === ROWS_A_BATCH * columns.length) flush();
        counted(cells);
      };
    };
    const flushes: (() => void)[] = [];
    const flush = () => {
      for (const each of flushes) each();
    };
    const inserters = new Map<string, (cells: readonly Cell[]) => void>();
    const insert = (table: string, row: Readonly<Record<string, Cell>>) => {
      const columns = Object.keys(row);
      const signature = `${table} ${columns.join()}`;
      const known = inserters.get(signature) ?? inserter(table, columns);
      inserters.set(signature, known);
      known(Object.values(row));
    };
    const result = work({ id, insert, inserter, flush, digest });
    flush();
    const rows = [...digests.values()].reduce((sum, each) => sum + each.rows, 0);
    if (rows === 0 && options.undoes === undefined) {
      outcome = { result, act: undefined };
      throw new DryRun();
    }
    for (const checks of checksOf(digests)) insert(CHECKED, checks);
    const hash = sealOf(previousHash(db, id), fields, digests);
    db.prepare('INSERT INTO seal (act_id, row_count, hash) VALUES (?, ?, ?)').run(id, rows, hash);
    outcome = { result, act: { id, rows, hash: hash.toString('hex') } };
    if (options.dryRun) throw new DryRun();
  });
  try {
    run.immediate();
  } catch (error) {
    if (!(error instanceof DryRun)) throw error;
  }
  if (!outcome) throw new Error('an act ended without an outcome');
  return outcome;
}

/** The table of checks: sealed as others are, but not counted among the rows of an act. */
export const CHECKED = 'row_check';

/** By which each row of an act is known again: the checks of its rows, table by table in the order of their names. */
export const checksOf = (digests: ReadonlyMap<string, RowDigest>): { part: number; table: string; checks: Buffer }[] =>
  [...digests]
    .filter(([table, { rows }]) => rows > 0 && table !== CHECKED)
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([table, { checks }], part) => {
      const { buffer, byteOffset, byteLength } = checks.values();
      return { part, table, checks: Buffer.from(buffer, byteOffset, byteLength) };
    });

/** The place of each column in its table, from 0. */
export const columnPlaces = (db: Db, table: string): ReadonlyMap<string, number> =>
  new Map((db.pragma(`table_info("${table}")`) as { cid: number; name: string }[]).map(({ cid, name }) => [name, cid]));

/** The hash of the last act before this one; 32 zero bytes before the first. */
export const previousHash = (db: Db, actId: number): Buffer =>
  (db.prepare('SELECT hash FROM seal WHERE act_id < ? ORDER BY act_id DESC LIMIT 1').pluck().get(actId) as
    | Buffer
    | undefined) ?? Buffer.alloc(32);

/** SHA-256 over the hash before, the act's own fields, and each table's name, number of rows and digest, by name. */
export function sealOf(before: Buffer, actFields: readonly Cell[], digests: ReadonlyMap<string, RowDigest>): Buffer {
  const own = new RowDigest();
  own.counter([...actFields.keys()])(actFields);
  const hash = createHash('sha256').update(before).update(own.finish());
  for (const table of [...digests.keys()].sort()) {
    const digest = digests.get(table);
    if (digest && digest.rows > 0) hash.update(`${table} ${digest.rows} `).update(digest.finish());
  }
  return hash.digest();
}

/** Rows that a batched inserter writes in one statement: as fast as it gets. */
const ROWS_A_BATCH = 50;

const BUFFER_BYTES = 1 << 16;
const NO_BUFFER = Buffer.alloc(0);
/** A type byte and eight bytes of value or length. */
const CELL_BYTES = 9;
/** Behind every row; no table has so many columns. */
const ROW_END = 255;

/**
 * SHA-256 over rows: for each cell that is not null, in the order of the table's columns, the column's place and the
 * value (a type byte, then the number, or the length and the bytes). Nulls are left out, so that a column which a later
 * migration adds at the end leaves old seals as they are.
 */
export class RowDigest {
  rows = 0;
  /** Of each row by itself. */
  readonly checks = new RowChecks();
  readonly #hash: Hash = createHash('sha256');
  #buffer = NO_BUFFER;
  #used = 0;

  /** Counts rows of one shape: `places` are those of the cells' columns in the table. */
  counter(places: readonly number[]): (cells: readonly Cell[]) => void {
    const order = [...places.keys()].sort((a, b) => (places[a] ?? 0) - (places[b] ?? 0));
    return (cells) => {
      this.rows += 1;
      let check = NO_CELLS;
      for (const index of order) {
        const cell = cells[index] ?? null;
        if (cell === null) continue;
        this.#room(1);
        this.#buffer[this.#used++] = places[index] ?? 0;
        this.#cell(cell);
        check = withCell(withInteger(check, places[index] ?? 0), cell);
      }
      this.checks.add(check);
      this.#room(1);
      this.#buffer[this.#used++] = ROW_END;
    };
  }

  /** Rows that are made of integers only, `width` of them a row; several calls add up to the same as one. */
  addIntegers(values: Int32Array, width: number): void {
    this.rows += values.length / width;
    this.#flush();
    this.#hash.update(new Uint8Array(values.buffer, values.byteOffset, values.byteLength));
    this.checks.addIntegers(values, width);
  }

  /** Belongs to the row that was added last. */
  addText(text: string): void {
    this.#text(text);
    this.checks.amend((check) => withText(check, text));
  }

  /** To be called when no rows come for a while: of many acts side by side each would keep a buffer of its own. */
  rest(): void {
    this.#flush();
    this.#buffer = NO_BUFFER;
  }

  finish(): Buffer {
    this.#flush();
    return this.#hash.copy().digest();
  }

  #cell(cell: Exclude<Cell, null>): void {
    if (typeof cell === 'string') {
      this.#text(cell);
    } else if (Buffer.isBuffer(cell)) {
      this.#head(4, cell.length);
      this.#flush();
      this.#hash.update(cell);
    } else {
      this.#head(1, Number(cell));
    }
  }

  #text(text: string): void {
    const bytes = Buffer.byteLength(text, 'utf8');
    this.#head(3, bytes);
    if (bytes > BUFFER_BYTES) {
      this.#flush();
      this.#hash.update(text, 'utf8');
      return;
    }
    this.#room(bytes);
    this.#used += this.#buffer.write(text, this.#used, 'utf8');
  }

  #head(type: number, value: number): void {
    this.#room(CELL_BYTES);
    this.#buffer[this.#used] = type;
    this.#buffer.writeDoubleLE(value, this.#used + 1);
    this.#used += CELL_BYTES;
  }

  #room(bytes: number): void {
    if (this.#used + bytes <= this.#buffer.length) return;
    this.#flush();
    if (this.#buffer.length === 0) this.#buffer = Buffer.allocUnsafe(BUFFER_BYTES);
  }

  #flush(): void {
    if (this.#used > 0) this.#hash.update(this.#buffer.subarray(0, this.#used));
    this.#used = 0;
  }
}

function withCell(check: number, cell: Exclude<Cell, null>): number {
  if (typeof cell === 'string') return withText(check, cell);
  return Buffer.isBuffer(cell) ? withBytes(withInteger(check, cell.length), cell) : withNumber(check, Number(cell));
}
