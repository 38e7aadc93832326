import { digestEntry, type EntryRow, nextEntryRow, noteBearers } from './entries.ts';
import type { Act, Cell } from './journal.ts';
import type { Db } from './open.ts';

/**
 * Many entries as columns of numbers, in reading order. All numbers are ids of the dictionaries and records; 0 stands
 * for nothing. `page` and `appointment` are codes into the two short lists.
 */
export type EntryColumns = {
  readonly count: number;
  readonly surname: Int32Array;
  readonly edition: Int32Array;
  readonly name: Int32Array;
  readonly rank: Int32Array;
  readonly corps: Int32Array;
  readonly dated: Int32Array;
  readonly page: Int32Array;
  readonly pages: readonly (string | number | null)[];
  readonly person: Int32Array;
  readonly appointment: Int32Array;
  readonly appointments: readonly (string | null)[];
  readonly note?: Int32Array;
  readonly notes?: readonly (string | null)[];
};

const ROWS_A_STATEMENT = 100;
const HASHED = 9;
const HASH_BATCH_ROWS = 4096;

/**
 * Appends entries in the order of the table's key, so that every page of it is written once. The order comes from two
 * counting sorts, first by edition to number the rows, then by surname; both keep the reading order.
 * @returns how many were added.
 */
export function addEntriesInBulk(db: Db, act: Act, columns: EntryColumns): number {
  const { count } = columns;
  if (count === 0) return 0;
  const firstRow = nextEntryRow(db);
  const byEdition = stableOrder(columns.edition, undefined, count);
  const rows = new Int32Array(count);
  for (let position = 0; position < count; position += 1) rows[byEdition[position] as number] = firstRow + position;
  addRuns(act, columns, byEdition, firstRow);
  const order = stableOrder(columns.surname, byEdition, count);

  // Hardly any list has an appointment of another kind, and a cell that is not bound costs nothing.
  const someAppointment = columns.appointment.some((each) => each > 0);
  const someNote = columns.note?.some((each) => each > 0) === true;
  const named = [
    'surname_id',
    'edition_id',
    'row',
    'name_id',
    'rank_id',
    'corps_id',
    'dated_id',
    'page',
    'person_id',
    ...(someAppointment ? ['appointment'] : []),
    ...(someNote ? ['note'] : []),
  ];
  const width = named.length;
  const insert = (rowsInStatement: number) =>
    db.prepare(
      `INSERT INTO entry (${named.join(', ')}, act_id) VALUES ${Array(rowsInStatement)
        .fill(`(${'?, '.repeat(width)}${act.id})`)
        .join(', ')}`,
    );
  const many = insert(ROWS_A_STATEMENT);
  const cells: Cell[] = new Array(ROWS_A_STATEMENT * width).fill(null);
  let filled = 0;

  const { surname, edition, name, rank, corps, dated, page, pages, person, appointment, appointments } = columns;
  for (let position = 0; position < count; position += 1) {
    const i = order[position] as number;
    cells[filled] = surname[i] as number;
    cells[filled + 1] = edition[i] as number;
    cells[filled + 2] = rows[i] as number;
    cells[filled + 3] = name[i] as number;
    cells[filled + 4] = rank[i] as number;
    cells[filled + 5] = (corps[i] as number) || null;
    cells[filled + 6] = (dated[i] as number) || null;
    cells[filled + 7] = pages[page[i] as number] ?? null;
    cells[filled + 8] = (person[i] as number) || null;
    if (someAppointment) cells[filled + 9] = appointments[appointment[i] as number] ?? null;
    if (someNote) cells[filled + width - 1] = noteAt(columns, i);
    filled += width;
    if (filled === cells.length) {
      many.run(cells);
      filled = 0;
    }
  }
  if (filled > 0) insert(filled / width).run(cells.slice(0, filled));
  noteBearers(db, bearers(columns, order));
  digestAll(act, columns, byEdition, rows);
  return count;
}

/** Each person with each of their surnames; a pair may come again. */
function* bearers({ person, surname, count }: EntryColumns, order: Int32Array): Iterable<readonly [number, number]> {
  let largest = 0;
  for (let i = 0; i < count; i += 1) if ((person[i] as number) > largest) largest = person[i] as number;
  const lastSurname = new Int32Array(largest + 1);
  for (let position = 0; position < count; position += 1) {
    const i = order[position] as number;
    const who = person[i] as number;
    if (who === 0 || lastSurname[who] === surname[i]) continue;
    lastSurname[who] = surname[i] as number;
    yield [who, surname[i] as number];
  }
}

/** Counts the entries into the hash of their act, in the order of their numbers. */
function digestAll(act: Act, columns: EntryColumns, byEdition: Int32Array, rows: Int32Array): void {
  const digest = act.digest('entry');
  const integers = new Int32Array(HASH_BATCH_ROWS * HASHED);
  const single = new Int32Array(HASHED);
  let filled = 0;
  const flush = () => {
    if (filled > 0) digest.addIntegers(integers.subarray(0, filled), HASHED);
    filled = 0;
  };
  const { surname, edition, name, rank, corps, dated, page, pages, person, appointment, appointments } = columns;
  for (let position = 0; position < columns.count; position += 1) {
    const i = byEdition[position] as number;
    const pageCell = pages[page[i] as number] ?? null;
    const kind = appointments[appointment[i] as number] ?? null;
    if (kind !== null || typeof pageCell === 'string' || noteAt(columns, i) !== null) {
      flush();
      digestEntry(digest, single, entryAt(columns, rows, i, pageCell, kind));
      continue;
    }
    integers[filled] = surname[i] as number;
    integers[filled + 1] = edition[i] as number;
    integers[filled + 2] = rows[i] as number;
    integers[filled + 3] = name[i] as number;
    integers[filled + 4] = rank[i] as number;
    integers[filled + 5] = corps[i] as number;
    integers[filled + 6] = dated[i] as number;
    integers[filled + 7] = pageCell ?? 0;
    integers[filled + 8] = person[i] as number;
    filled += HASHED;
    if (filled === integers.length) flush();
  }
  flush();
}

const noteAt = ({ note, notes }: EntryColumns, i: number): string | null =>
  note === undefined ? null : (notes?.[note[i] as number] ?? null);

function entryAt(
  c: EntryColumns,
  rows: Int32Array,
  i: number,
  page: string | number | null,
  appointment: string | null,
): Omit<EntryRow, 'act_id'> {
  const some = (column: Int32Array) => (column[i] as number) || null;
  return {
    surname_id: c.surname[i] as number,
    edition_id: c.edition[i] as number,
    row: rows[i] as number,
    name_id: c.name[i] as number,
    rank_id: c.rank[i] as number,
    corps_id: some(c.corps),
    dated_id: some(c.dated),
    page,
    person_id: some(c.person),
    appointment,
    id: null,
    key: null,
    note: noteAt(c, i),
  };
}

function addRuns(act: Act, { edition, surname, count }: EntryColumns, byEdition: Int32Array, firstRow: number): void {
  for (let from = 0; from < count; ) {
    const first = byEdition[from] as number;
    let until = from + 1;
    let oneSurname = true;
    while (until < count && edition[byEdition[until] as number] === edition[first]) {
      if (surname[byEdition[until] as number] !== surname[first]) oneSurname = false;
      until += 1;
    }
    act.insert('entry_run', {
      first_row: firstRow + from,
      edition_id: edition[first] as number,
      row_count: until - from,
      surname_id: oneSurname ? (surname[first] as number) : null,
    });
    from = until;
  }
}

/** Places of the rows by their key, those of one key in the order of `before`. Keys are small whole numbers. */
function stableOrder(key: Int32Array, before: Int32Array | undefined, count: number): Int32Array {
  let largest = 0;
  for (let i = 0; i < count; i += 1) if ((key[i] as number) > largest) largest = key[i] as number;
  const places = new Int32Array(largest + 2);
  for (let i = 0; i < count; i += 1) places[(key[i] as number) + 1] = (places[(key[i] as number) + 1] as number) + 1;
  for (let k = 1; k < places.length; k += 1) places[k] = (places[k] as number) + (places[k - 1] as number);
  const order = new Int32Array(count);
  for (let position = 0; position < count; position += 1) {
    const i = before ? (before[position] as number) : position;
    const k = key[i] as number;
    order[places[k] as number] = i;
    places[k] = (places[k] as number) + 1;
  }
  return order;
}

/**
 * Marks the rows that the ledger holds already, so that a list imported again in parts adds only what is new. Rows
 * alike in every column are counted: as many as the ledger has are known, any more are new.
 */
export function knownEntries(db: Db, columns: EntryColumns, editionsWithEntries: ReadonlySet<number>): Uint8Array {
  const known = new Uint8Array(columns.count);
  if (editionsWithEntries.size === 0) return known;
  const there = db.prepare(
    'SELECT name_id, rank_id, corps_id, dated_id, page, person_id, appointment, note FROM current_entry WHERE surname_id = ? AND edition_id = ?',
  );
  const groups = new Map<string, Map<string, number>>();
  for (let i = 0; i < columns.count; i += 1) {
    const edition = columns.edition[i] as number;
    if (!editionsWithEntries.has(edition)) continue;
    const group = `${columns.surname[i]} ${edition}`;
    let counts = groups.get(group);
    if (!counts) {
      counts = new Map();
      for (const row of there.raw().all(columns.surname[i], edition) as Cell[][]) {
        const signature = JSON.stringify(row);
        counts.set(signature, (counts.get(signature) ?? 0) + 1);
      }
      groups.set(group, counts);
    }
    const some = (column: Int32Array) => (column[i] as number) || null;
    const signature = JSON.stringify([
      columns.name[i],
      columns.rank[i],
      some(columns.corps),
      some(columns.dated),
      columns.pages[columns.page[i] as number] ?? null,
      some(columns.person),
      columns.appointments[columns.appointment[i] as number] ?? null,
      noteAt(columns, i),
    ]);
    const left = counts.get(signature) ?? 0;
    if (left > 0) {
      known[i] = 1;
      counts.set(signature, left - 1);
    }
  }
  return known;
}
