import { changedSinceSealed, type Finding } from './changed-since-sealed.ts';
import { derivedFindings } from './derived.ts';
import { digestEntries } from './entries.ts';
import { type Cell, CHECKED, checksOf, columnPlaces, previousHash, RowDigest, sealOf } from './journal.ts';
import type { Db } from './open.ts';
import { photoFindings } from './photos.ts';
import { foreignIn } from './schema.ts';

/** Tables whose rows an act's seal covers, in no particular order; entries and checks are counted apart. */
function sealedTables(db: Db): string[] {
  const tables = db
    .prepare("SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%'")
    .pluck()
    .all() as string[];
  return tables.filter(
    (table) => !['act', 'seal', 'entry', 'surname_index', 'bearer_surname', CHECKED].includes(table),
  );
}

/**
 * Looks the whole ledger through: that SQLite finds it sound, that no row refers to one that is not there, and that the
 * hash of every act is that of its rows and of the act before; that what is kept beside the records is what they say when
 * it is worked out anew. Pictures beside it are there, and what they were. Where tables, indexes or views
 * are other than heldby made, nothing more is looked at: to read rows could run what somebody else put there.
 */
export function verifyLedger(db: Db): Finding[] {
  const findings: Finding[] = [];
  const foreign = foreignIn(db);
  // Reading runs no trigger; a column, an index or a view can hold anything.
  const mayBeRead = foreign.every((each) => each.startsWith('trigger '));
  if (foreign.length > 0) findings.push({ what: foreignWords(foreign, mayBeRead), where: 'the file' });
  if (!mayBeRead) return findings;
  for (const message of db.pragma('integrity_check', { simple: false }) as { integrity_check: string }[]) {
    if (message.integrity_check !== 'ok') findings.push({ what: message.integrity_check, where: 'the file' });
  }
  for (const row of db.pragma('foreign_key_check') as { table: string; rowid: number | null; parent: string }[]) {
    findings.push({
      what: `a row refers to a ${row.parent} that is not there`,
      where: `${row.table} ${row.rowid ?? ''}`.trim(),
    });
  }
  findings.push(...strayEntries(db), ...brokenSeals(db), ...entriesBesideRuns(db));
  findings.push(...derivedFindings(db), ...photoFindings(db));
  return findings;
}

const MOST_NAMED = 5;

function foreignWords(foreign: readonly string[], mayBeRead: boolean): string {
  const more = foreign.length > MOST_NAMED ? ` and ${foreign.length - MOST_NAMED} more` : '';
  const named = `${foreign.slice(0, MOST_NAMED).join(', ')}${more}`;
  return `tables, views or triggers are other than heldby made: ${named}${mayBeRead ? '' : '; its rows were not looked at'}`;
}

/** Entries have no foreign keys of their own; see the migration. */
function strayEntries(db: Db): Finding[] {
  const parents: readonly [column: string, table: string, key: string][] = [
    ['surname_id', 'surname', 'id'],
    ['edition_id', 'edition', 'row'],
    ['act_id', 'act', 'id'],
    ['name_id', 'printed_name', 'id'],
    ['rank_id', 'rank_style', 'id'],
    ['corps_id', 'corps_style', 'id'],
    ['dated_id', 'date_expression', 'id'],
    ['person_id', 'person', 'row'],
  ];
  return parents.flatMap(([column, table, key]) => {
    const stray = db
      .prepare(
        `SELECT count(*) FROM entry WHERE ${column} IS NOT NULL AND ${column} NOT IN (SELECT ${key} FROM ${table})`,
      )
      .pluck()
      .get() as number;
    return stray === 0 ? [] : [{ what: `${stray} entries refer to a ${table} that is not there`, where: 'entry' }];
  });
}

/** Entries are hashed by the runs that say where they lie: an act must have as many as its runs hold. */
function entriesBesideRuns(db: Db): Finding[] {
  const rows = db
    .prepare(
      `SELECT act_id, sum(there) AS there, sum(meant) AS meant FROM (
         SELECT act_id, count(*) AS there, 0 AS meant FROM entry GROUP BY act_id
         UNION ALL SELECT act_id, 0, sum(row_count) FROM entry_run GROUP BY act_id) GROUP BY act_id HAVING sum(there) <> sum(meant)`,
    )
    .all() as { act_id: number; there: number; meant: number }[];
  return rows.map(({ act_id, there, meant }) => ({
    what: `the act has ${there} entries, and recorded ${meant}`,
    where: `act ${act_id}`,
  }));
}

function brokenSeals(db: Db): Finding[] {
  const digests = new Map<number, Map<string, RowDigest>>();
  const digestOf = (act: number, table: string): RowDigest => {
    const tables = digests.get(act) ?? new Map<string, RowDigest>();
    digests.set(act, tables);
    const digest = tables.get(table) ?? new RowDigest();
    tables.set(table, digest);
    return digest;
  };
  const tables = sealedTables(db);
  for (const table of [...tables, CHECKED]) digestTable(db, table, digestOf);
  digestEntries(db, digestOf);
  const findings: Finding[] = [];
  const acts = db
    .prepare(
      'SELECT a.id, a.at, a.who, a.command, a.why, a.program, a.undoes, s.hash, s.row_count FROM act AS a LEFT JOIN seal AS s ON s.act_id = a.id ORDER BY a.id',
    )
    .all() as Record<string, Cell>[];
  let expected = 1;
  for (const act of acts) {
    const id = Number(act['id']);
    if (id !== expected) findings.push({ what: `act ${expected} is missing`, where: `act ${expected}` });
    expected = id + 1;
    const fields = ['id', 'at', 'who', 'command', 'why', 'program', 'undoes'].map((field) => act[field] ?? null);
    const hash = sealOf(previousHash(db, id), fields, digests.get(id) ?? new Map());
    if (!Buffer.isBuffer(act['hash'])) findings.push({ what: 'the act has no seal', where: `act ${id}` });
    else if (!hash.equals(act['hash']))
      findings.push(
        ...(sealOf(previousHash(db, id), fields, withOwnChecks(db, digests.get(id))).equals(act['hash'])
          ? [{ what: 'by which its rows are known again is not as it was recorded', where: `act ${id}` }]
          : changedSinceSealed(db, id, digests.get(id) ?? new Map(), [...tables, 'entry'])),
      );
    const rows = [...(digests.get(id) ?? [])].reduce(
      (sum, [table, digest]) => sum + (table === CHECKED ? 0 : digest.rows),
      0,
    );
    if (act['row_count'] !== null && Number(act['row_count']) !== rows)
      findings.push({ what: `the act has ${rows} rows, and was sealed with ${act['row_count']}`, where: `act ${id}` });
    digests.delete(id);
  }
  for (const id of digests.keys())
    findings.push({ what: `rows name act ${id}, which is not there`, where: `act ${id}` });
  return findings;
}

/** The digests of an act as they are if the checks that are kept of its rows are those of the rows that are there. */
function withOwnChecks(db: Db, digests: ReadonlyMap<string, RowDigest> = new Map()): Map<string, RowDigest> {
  const own = new RowDigest();
  const columns = ['part', 'table', 'checks'] as const;
  const places = columnPlaces(db, CHECKED);
  const count = own.counter(columns.map((column) => places.get(column) as number));
  for (const row of checksOf(digests)) count(columns.map((column) => row[column]));
  return new Map([...digests, [CHECKED, own]]);
}

function digestTable(db: Db, table: string, digestOf: (act: number, table: string) => RowDigest): void {
  const places = columnPlaces(db, table);
  const columns = [...places.keys()];
  const actAt = columns.indexOf('act_id');
  const others = columns.map((_, index) => index).filter((index) => index !== actAt);
  let last: { act: number; digest: RowDigest; count: (cells: readonly Cell[]) => void } | undefined;
  const key = columns.includes('row')
    ? '"row"'
    : columns.includes('first_row')
      ? 'first_row'
      : columns.includes('part')
        ? 'part'
        : 'id';
  for (const row of db.prepare(`SELECT * FROM "${table}" ORDER BY ${key}`).raw().iterate() as IterableIterator<
    Cell[]
  >) {
    const act = Number(row[actAt]);
    if (last?.act !== act) {
      last?.digest.rest();
      const digest = digestOf(act, table);
      last = { act, digest, count: digest.counter(others) };
    }
    last.count(others.map((index) => row[index] ?? null));
  }
  last?.digest.rest();
}
