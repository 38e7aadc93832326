import type { Act, Cell } from './journal.ts';
import type { Db } from './open.ts';
import { prepared } from './prepared.ts';

/** One line of an edition as the ledger holds it; `row` is this version of it, `id` the record. */
export type EntryRow = {
  readonly surname_id: number;
  readonly edition_id: number;
  readonly row: number;
  readonly act_id: number;
  readonly name_id: number;
  readonly rank_id: number;
  readonly corps_id: number | null;
  readonly dated_id: number | null;
  readonly page: string | number | null;
  readonly person_id: number | null;
  readonly appointment: string | null;
  readonly id: number | null;
  readonly key: string | null;
  readonly note: string | null;
};

export type NewEntry = Omit<EntryRow, 'row' | 'act_id'>;

/** The integers of a row in the order in which they are hashed; 0 stands for null, which no number here can be. */
const HASHED = 9;

export const nextEntryRow = (db: Db): number =>
  (prepared(db, 'SELECT first_row + row_count FROM entry_run ORDER BY first_row DESC LIMIT 1', 'pluck').get() as
    | number
    | undefined) ?? 1;

/** A page number is kept as a number, anything else that stands for one (`xii`, `213*`) as text. */
export const pageCell = (page: string): string | number => (/^[1-9]\d{0,8}$/.test(page) ? Number(page) : page);

/** Adds entries one act at a time, in the order of the table's key whatever order they come in. */
export function addEntries(db: Db, act: Act, entries: readonly NewEntry[]): number[] {
  if (entries.length === 0) return [];
  let next = nextEntryRow(db);
  const numbered = entries.map((entry) => ({ ...entry, row: 0 }));
  // Numbers run in reading order within an edition, so that one run covers as many as possible.
  const byEdition = [...numbered.keys()].sort(
    (a, b) => (numbered[a]?.edition_id ?? 0) - (numbered[b]?.edition_id ?? 0) || a - b,
  );
  let run: { first_row: number; edition_id: number; row_count: number; surname_id: number | null } | undefined;
  const runs: (typeof run & object)[] = [];
  for (const index of byEdition) {
    const entry = numbered[index];
    if (!entry) continue;
    entry.row = next++;
    if (run && run.edition_id === entry.edition_id) {
      run.row_count += 1;
      if (run.surname_id !== entry.surname_id) run.surname_id = null;
    } else {
      run = { first_row: entry.row, edition_id: entry.edition_id, row_count: 1, surname_id: entry.surname_id };
      runs.push(run);
    }
  }
  for (const each of runs) act.insert('entry_run', each);
  const digest = act.digest('entry');
  const insert = db.prepare(
    'INSERT INTO entry (surname_id, edition_id, row, act_id, name_id, rank_id, corps_id, dated_id, page, person_id, appointment, id, key, note) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)',
  );
  for (const e of [...numbered].sort(
    (a, b) => a.surname_id - b.surname_id || a.edition_id - b.edition_id || a.row - b.row,
  )) {
    insert.run(
      e.surname_id,
      e.edition_id,
      e.row,
      act.id,
      e.name_id,
      e.rank_id,
      e.corps_id,
      e.dated_id,
      e.page,
      e.person_id,
      e.appointment,
      e.id,
      e.key,
      e.note,
    );
  }
  noteBearers(
    db,
    entries.flatMap(({ person_id, surname_id }) => (person_id === null ? [] : [[person_id, surname_id] as const])),
  );
  const integers = new Int32Array(HASHED);
  for (const index of byEdition) digestEntry(digest, integers, numbered[index] as (typeof numbered)[number]);
  return numbered.map((each) => each.row);
}

/** Notes under which surnames the entries of people stand. */
export function noteBearers(db: Db, pairs: Iterable<readonly [person: number, surname: number]>): void {
  const note = db.prepare('INSERT OR IGNORE INTO bearer_surname (person_id, surname_id) VALUES (?, ?)');
  for (const [person, surname] of pairs) note.run(person, surname);
}

/** Counts one entry into the hash of its act; entries are hashed in the order of their numbers. */
export function digestEntry(
  digest: ReturnType<Act['digest']>,
  integers: Int32Array,
  e: NewEntry & { row: number },
): void {
  integers.set(hashedIntegers(e));
  digest.addIntegers(integers, HASHED);
  const texts = textsOf(e);
  if (texts !== undefined) digest.addText(texts);
}

const hashedIntegers = (e: NewEntry & { row: number }): number[] => [
  e.surname_id,
  e.edition_id,
  e.row,
  e.name_id,
  e.rank_id,
  e.corps_id ?? 0,
  e.dated_id ?? 0,
  typeof e.page === 'number' ? e.page : 0,
  e.person_id ?? 0,
];

function textsOf(e: NewEntry): string | undefined {
  const texts: Record<string, Cell> = {};
  if (typeof e.page === 'string') texts['page'] = e.page;
  for (const field of ['appointment', 'id', 'key', 'note'] as const) if (e[field] !== null) texts[field] = e[field];
  return Object.keys(texts).length === 0 ? undefined : JSON.stringify(texts);
}

const COLUMNS =
  'surname_id, edition_id, row, act_id, name_id, rank_id, corps_id, dated_id, page, person_id, appointment, id, key, note';

/** The current version of an entry by its id. */
export function entryById(db: Db, id: number): EntryRow | undefined {
  const later = prepared(db, `SELECT ${COLUMNS} FROM current_entry WHERE id = ?`).get(id) as EntryRow | undefined;
  if (later) return later;
  const run = prepared(
    db,
    'SELECT edition_id, surname_id FROM entry_run WHERE first_row <= ? AND first_row + row_count > ? ORDER BY first_row DESC LIMIT 1',
  ).get(id, id) as { edition_id: number; surname_id: number | null } | undefined;
  if (!run) return undefined;
  if (run.surname_id !== null) {
    return prepared(db, `SELECT ${COLUMNS} FROM current_entry WHERE surname_id = ? AND edition_id = ? AND row = ?`).get(
      run.surname_id,
      run.edition_id,
      id,
    ) as EntryRow | undefined;
  }
  // A run of many surnames: one step down the tree for each surname there is, a few hundredths of a second at most.
  return prepared(
    db,
    `SELECT ${COLUMNS.replaceAll(/\w+/g, 'e.$&')} FROM surname AS s CROSS JOIN current_entry AS e ON e.surname_id = s.id AND e.edition_id = ? AND e.row = ?`,
  ).get(run.edition_id, id) as EntryRow | undefined;
}

/**
 * Where current entries are read from: the table itself while no act is void, no entry replaced and no past state asked,
 * for then every row of it is current, and the view has nothing to leave out.
 */
function currentEntries(db: Db): 'entry' | 'current_entry' {
  const all = prepared(
    db,
    `SELECT NOT EXISTS (SELECT 1 FROM standing) AND NOT EXISTS (SELECT 1 FROM replaced WHERE kind = 'entry')
         AND NOT EXISTS (SELECT 1 FROM temp.sqlite_schema)`,
    'pluck',
  ).get();
  return all === 1 ? 'entry' : 'current_entry';
}

/** A row of the columns above: reading thousands as arrays and naming their cells here is quicker than as objects. */
function borneRow(cells: readonly Cell[]): EntryRow & { readonly bearer: number } {
  const [
    surname_id,
    edition_id,
    row,
    act_id,
    name_id,
    rank_id,
    corps_id,
    dated_id,
    page,
    person_id,
    appointment,
    id,
    key,
    note,
  ] = cells;
  return {
    surname_id,
    edition_id,
    row,
    act_id,
    name_id,
    rank_id,
    corps_id,
    dated_id,
    page,
    person_id,
    appointment,
    id,
    key,
    note,
    bearer: person_id,
  } as EntryRow & { bearer: number };
}

/**
 * Current entries that people bear, by person: those recorded with them, found in the clusters of their surnames, and
 * those that a later decision gave them, without those that it took away.
 */
export function entriesOfPeople(db: Db, people: readonly number[]): (EntryRow & { readonly bearer: number })[] {
  const surnames = prepared(db, 'SELECT surname_id FROM bearer_surname WHERE person_id = ?', 'pluck');
  const cluster = prepared(
    db,
    `SELECT ${COLUMNS} FROM ${currentEntries(db)} WHERE surname_id = ? AND person_id IN (SELECT value FROM json_each(?))`,
    'raw',
  );
  const bySurname = new Map<number, number[]>();
  for (const person of people) {
    for (const surname of surnames.all(person) as number[]) {
      const others = bySurname.get(surname);
      if (others) others.push(person);
      else bySurname.set(surname, [person]);
    }
  }
  const recorded = [...bySurname].flatMap(([surname, bearers]) =>
    (cluster.all(surname, JSON.stringify(bearers)) as Cell[][]).map(borneRow),
  );
  if (prepared(db, 'SELECT 1 FROM link LIMIT 1').get() === undefined) return recorded;
  const decided = decidedEntries(
    db,
    recorded.map(({ id, row }) => id ?? row),
  );
  return [...recorded.filter(({ id, row }) => !decided.has(id ?? row)), ...givenEntries(db, people, bySurname)];
}

/** Current entries under some surnames of which nobody is said to be the bearer. */
export const unplacedEntries = (db: Db, surnameIds: readonly number[]): EntryRow[] =>
  prepared(
    db,
    `SELECT ${COLUMNS} FROM current_entry WHERE surname_id IN (SELECT value FROM json_each(@ids)) AND row IN (
         SELECT entry_row FROM bearer WHERE surname_id IN (SELECT value FROM json_each(@ids)) AND person_id IS NULL)`,
  ).all({ ids: JSON.stringify(surnameIds) }) as EntryRow[];

const LATEST_LINK = 'current_link AS l WHERE l.entry_id = coalesce(e.id, e.row) ORDER BY l.row DESC LIMIT 1';
/** Who bears the entry `e` now, in SQL: by the latest decision, else as it was recorded. */
export const BEARER_NOW = `iif(EXISTS (SELECT 1 FROM ${LATEST_LINK}), (SELECT l.person_id FROM ${LATEST_LINK}), e.person_id)`;

/** The same as lines to be compared with a mark, without what else they say. */
export function linesOfNobody(
  db: Db,
  surnameIds: readonly number[],
): { readonly id: number; readonly surname: number; readonly forenames: string | null }[] {
  const undecided = prepared(db, 'SELECT 1 FROM link LIMIT 1').get() === undefined;
  return prepared(
    db,
    `SELECT coalesce(e.id, e.row) AS id, e.surname_id AS surname, n.forenames FROM json_each(?) AS wanted
       CROSS JOIN ${currentEntries(db)} AS e ON e.surname_id = wanted.value CROSS JOIN printed_name AS n ON n.id = e.name_id
      WHERE ${undecided ? 'e.person_id' : BEARER_NOW} IS NULL`,
  ).all(JSON.stringify(surnameIds)) as { id: number; surname: number; forenames: string | null }[];
}

/** Which of these entries somebody has decided about since they were recorded. */
const decidedEntries = (db: Db, ids: readonly number[]): ReadonlySet<number> =>
  new Set(
    prepared(
      db,
      'SELECT DISTINCT entry_id FROM current_link WHERE entry_id IN (SELECT value FROM json_each(?))',
      'pluck',
    ).all(JSON.stringify(ids)) as number[],
  );

/**
 * Entries that a later decision gave to people: looked for in the clusters of the surnames under which their entries
 * stand, and one by one where they are in none of these.
 */
function givenEntries(
  db: Db,
  people: readonly number[],
  bySurname: ReadonlyMap<number, readonly number[]>,
): (EntryRow & { readonly bearer: number })[] {
  const given = new Map(
    prepared(
      db,
      `SELECT l.entry_id, l.person_id FROM current_link AS l WHERE l.person_id IN (SELECT value FROM json_each(?))
           AND NOT EXISTS (SELECT 1 FROM current_link AS m WHERE m.entry_id = l.entry_id AND m.row > l.row) ORDER BY l.row`,
      'raw',
    ).all(JSON.stringify(people)) as [entry: number, person: number][],
  );
  if (given.size === 0) return [];
  const cluster = prepared(
    db,
    `SELECT ${COLUMNS} FROM ${currentEntries(db)} WHERE surname_id = ? AND coalesce(id, row) IN (SELECT value FROM json_each(?))`,
    'raw',
  );
  const idsOf = new Map<number, number[]>();
  for (const [id, person] of given) {
    const others = idsOf.get(person);
    if (others) others.push(id);
    else idsOf.set(person, [id]);
  }
  const found = [...bySurname].flatMap(([surname, bearers]) => {
    const ids = bearers.flatMap((person) => idsOf.get(person) ?? []);
    return ids.length === 0 ? [] : (cluster.all(surname, JSON.stringify(ids)) as Cell[][]).map(borneRow);
  });
  const missing = new Set(given.keys());
  for (const { id, row } of found) missing.delete(id ?? row);
  for (const id of missing) {
    const entry = entryById(db, id);
    if (entry) found.push({ ...entry, bearer: 0 });
  }
  const place = new Map([...given.keys()].map((id, at) => [id, at]));
  const at = ({ id, row }: EntryRow): number => place.get(id ?? row) ?? 0;
  return found
    .map((entry) => ({ ...entry, bearer: given.get(entry.id ?? entry.row) as number }))
    .sort((a, b) => at(a) - at(b));
}

/** Hashes every entry of the ledger again, act by act in the order of their numbers, as they were when recorded. */
export function digestEntries(db: Db, digestOf: (act: number, table: string) => ReturnType<Act['digest']>): void {
  const runs = prepared(db, 'SELECT first_row, row_count, act_id FROM entry_run ORDER BY first_row', 'raw').all() as [
    number,
    number,
    number,
  ][];
  const [lastFirst = 1, lastCount = 0] = runs[runs.length - 1] ?? [];
  const integers = new Int32Array((lastFirst + lastCount) * HASHED);
  const texts = new Map<number, string>();
  for (const e of db.prepare(`SELECT ${COLUMNS} FROM entry`).iterate() as IterableIterator<EntryRow>) {
    if (e.row >= lastFirst + lastCount) continue; // in no run: its act's number of rows will tell
    integers.set(hashedIntegers(e), e.row * HASHED);
    const said = textsOf(e);
    if (said !== undefined) texts.set(e.row, said);
  }
  for (const [first, count, act] of runs) {
    const digest = digestOf(act, 'entry');
    for (let row = first; row < first + count; row += 1) {
      digest.addIntegers(integers.subarray(row * HASHED, (row + 1) * HASHED), HASHED);
      const said = texts.get(row);
      if (said !== undefined) digest.addText(said);
    }
    digest.rest();
  }
}
