import { entriesOfPeople } from './entries.ts';
import type { Cell } from './journal.ts';
import type { Field, Kind } from './kind.ts';
import { kindNamed } from './kinds.ts';
import type { Db } from './open.ts';
import { prepared } from './prepared.ts';
import { currentRow } from './records.ts';

/** A record as it is shown and exported: its fields by name, as texts and numbers, references as ids. */
export type ShownRecord = {
  readonly id: string;
  readonly key: string | null;
  readonly type: string;
  readonly act: number;
  readonly fields: Readonly<Record<string, unknown>>;
};

/** One current record. */
export function readRecord(db: Db, kind: Kind, id: number): ShownRecord | undefined {
  const row = currentRow(db, kind, id);
  return row === undefined ? undefined : shownRecord(db, kind, row);
}

/**
 * Reads current entries that these people bear, by their ids; undefined of any other. Their rows are read together, where
 * one by one each would be searched for.
 */
export function entriesBorneBy(db: Db, people: readonly number[]): (id: string) => ShownRecord | undefined {
  const entry = kindNamed('entry');
  const rows = new Map(entriesOfPeople(db, people).map((row) => [`${entry.prefix}${row.id ?? row.row}`, row]));
  return (id) => {
    const row = rows.get(id);
    return row && shownRecord(db, entry, row);
  };
}

/** What a row says, in words. */
export function shownRecord(db: Db, kind: Kind, row: Readonly<Record<string, Cell>>): ShownRecord {
  const fields: Record<string, unknown> = {};
  for (const field of kind.fields) {
    const cell = row[field.column] ?? null;
    if (cell !== null) Object.assign(fields, fieldsOf(db, field, cell));
    else if (field.otherwise !== undefined) fields[field.name] = field.otherwise;
  }
  return {
    id: `${kind.prefix}${row['id'] ?? row['row']}`,
    key: (row['key'] ?? null) as string | null,
    type: kind.kind,
    act: Number(row['act_id']),
    fields,
  };
}

function fieldsOf(db: Db, field: Field, cell: Cell): Record<string, unknown> {
  switch (field.type) {
    case 'date': {
      const row = prepared(db, 'SELECT text, printed FROM date_expression WHERE id = ?').get(cell) as {
        text: string;
        printed: string | null;
      };
      return { [field.name]: row.text, ...(row.printed === null ? {} : { [`${field.name}AsPrinted`]: row.printed }) };
    }
    case 'name': {
      const row = prepared(
        db,
        'SELECT n.text, s.text AS surname, n.forenames, n.honours, n.suffix FROM printed_name AS n JOIN surname AS s ON s.id = n.surname_id WHERE n.id = ?',
      ).get(cell) as Record<string, string | null>;
      const parts = Object.fromEntries(
        (['surname', 'forenames', 'honours', 'suffix'] as const).flatMap((part) =>
          row[part] === null ? [] : [[part, row[part]]],
        ),
      );
      return { [field.name]: row['text'], ...parts };
    }
    case 'rank': {
      const row = prepared(db, 'SELECT text, service FROM rank_style WHERE id = ?').get(cell) as {
        text: string;
        service: string;
      };
      return { [field.name]: row.text, service: row.service };
    }
    case 'corps':
      return {
        [field.name]: (prepared(db, 'SELECT text FROM corps_style WHERE id = ?').get(cell) as { text: string }).text,
      };
    case 'texts':
      return { [field.name]: JSON.parse(String(cell)) };
    case 'ref':
      return { [field.name]: `${kindNamed(field.to).prefix}${cell}` };
    case 'text':
      return { [field.name]: String(cell) };
    default:
      return { [field.name]: typeof cell === 'number' || typeof cell === 'bigint' ? Number(cell) : cell };
  }
}

/** Every current record of a kind, in the order of recording. */
export function* currentRecords(db: Db, kind: Kind): Iterable<ShownRecord> {
  // Read whole before anything else is asked: one connection answers one question at a time.
  const rows = prepared(db, `SELECT row FROM "current_${kind.table}" ORDER BY row`, 'pluck').all() as number[];
  if (kind.kind === 'entry') {
    for (const row of prepared(db, 'SELECT * FROM current_entry ORDER BY edition_id, row').all() as Record<
      string,
      Cell
    >[])
      yield shownRecord(db, kind, row);
    return;
  }
  const read = prepared(db, `SELECT * FROM "${kind.table}" WHERE row = ?`);
  for (const row of rows) yield shownRecord(db, kind, read.get(row) as Record<string, Cell>);
}

/** Current records of a kind of which one column names a record; at most a hundred. */
export const idsNaming = (db: Db, kind: Kind, column: string, row: number): number[] =>
  prepared(db, `SELECT id FROM "current_${kind.table}" WHERE "${column}" = ? ORDER BY id LIMIT 100`, 'pluck').all(
    row,
  ) as number[];
