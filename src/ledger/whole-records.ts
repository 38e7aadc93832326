import type { Cell } from './journal.ts';
import type { Field, Kind, KindName } from './kind.ts';
import { kindNamed } from './kinds.ts';
import type { Db } from './open.ts';

/** One version of a record with its words; references are ids of the ledger (`p12`). */
export type WholeRecord = {
  readonly kind: KindName;
  readonly row: number;
  /** The number of the record, which is the row of its first version. */
  readonly id: number;
  readonly key: string | null;
  readonly act: number;
  readonly fields: Readonly<Record<string, unknown>>;
};

type Row = Readonly<Record<string, Cell>>;

const LATEST_DECIDES: readonly KindName[] = ['assumption', 'link'];

/** Reads records by the thousand: every word of the dictionaries is looked up once and remembered. */
export type RecordReader = ReturnType<typeof recordReader>;

export function recordReader(db: Db) {
  const words = wordReader(db);
  const shown = (kind: Kind, row: Row): WholeRecord => ({
    kind: kind.kind,
    row: Number(row['row']),
    id: Number(row['id'] ?? row['row']),
    key: (row['key'] ?? null) as string | null,
    act: Number(row['act_id']),
    fields: Object.fromEntries(
      kind.fields.flatMap((field) => {
        const cell = row[field.column] ?? null;
        if (cell === null) return field.otherwise === undefined ? [] : [[field.name, field.otherwise]];
        return words(field, cell);
      }),
    ),
  });
  return {
    /**
     * Every current record of a kind.
     * 1. Entries: by edition, then as first recorded. 2. Kinds of which the latest decides: as last recorded.
     * 3. The others: as first recorded.
     */
    *current(kind: Kind): Iterable<WholeRecord> {
      const order =
        kind.kind === 'entry' ? 'edition_id, coalesce(id, row)' : LATEST_DECIDES.includes(kind.kind) ? 'row' : 'id';
      const rows = db.prepare(`SELECT * FROM "current_${kind.table}" ORDER BY ${order}`).iterate() as Iterable<Row>;
      for (const row of rows) yield shown(kind, row);
    },
    /** How a record stood when it was first recorded, for those that have been corrected since. */
    *firstOfCorrected(kind: Kind): Iterable<WholeRecord> {
      const id = kind.kind === 'entry' ? 'coalesce(x.id, x.row)' : 'x.id';
      const rows = db
        .prepare(
          `SELECT f.* FROM "current_${kind.table}" AS x JOIN "${kind.table}" AS f ON f.row = ${id} WHERE x.row <> ${id}`,
        )
        .iterate() as Iterable<Row>;
      for (const row of rows) yield shown(kind, row);
    },
    /** Everything that one act recorded, kind by kind in the order given, then in the order of the rows. */
    *ofAct(act: number, kinds: readonly KindName[]): Iterable<WholeRecord> {
      for (const kind of kinds.map(kindNamed)) {
        const rows = db
          .prepare(`SELECT * FROM "${kind.table}" WHERE act_id = ? ORDER BY row`)
          .iterate(act) as Iterable<Row>;
        for (const row of rows) yield shown(kind, row);
      }
    },
    /** What a row of a record says. */
    row: (kind: Kind, row: object): WholeRecord => shown(kind, row as Row),
    /** One version of a record. */
    version(kind: Kind, row: number): WholeRecord | undefined {
      const found = db.prepare(`SELECT * FROM "${kind.table}" WHERE row = ?`).get(row) as Row | undefined;
      return found && shown(kind, found);
    },
  };
}

/** The fields that a cell stands for. A name gives its parts too, a rank its service, a date what the page shows. */
function wordReader(db: Db): (field: Field, cell: Exclude<Cell, null>) => [string, unknown][] {
  const remembered = <T>(sql: string): ((cell: Cell) => T) => {
    const statement = db.prepare(sql);
    const known = new Map<Cell, T>();
    return (cell) => {
      const value = known.get(cell) ?? (statement.get(cell) as T);
      known.set(cell, value);
      return value;
    };
  };
  const date = remembered<{ text: string; printed: string | null }>(
    'SELECT text, printed FROM date_expression WHERE id = ?',
  );
  const name = remembered<Record<'text' | 'surname' | 'forenames' | 'honours' | 'suffix', string | null>>(
    'SELECT n.text, s.text AS surname, n.forenames, n.honours, n.suffix FROM printed_name AS n JOIN surname AS s ON s.id = n.surname_id WHERE n.id = ?',
  );
  const rank = remembered<{ text: string; service: string }>('SELECT text, service FROM rank_style WHERE id = ?');
  const corps = remembered<{ text: string }>('SELECT text FROM corps_style WHERE id = ?');
  return (field, cell) => {
    switch (field.type) {
      case 'date': {
        const { text, printed } = date(cell);
        return printed === null
          ? [[field.name, text]]
          : [
              [field.name, text],
              [`${field.name}AsPrinted`, printed],
            ];
      }
      case 'name': {
        const { text, ...parts } = name(cell);
        return [[field.name, text], ...Object.entries(parts).filter(([, part]) => part !== null)];
      }
      case 'rank': {
        const { text, service } = rank(cell);
        return [
          [field.name, text],
          ['service', service],
        ];
      }
      case 'corps':
        return [[field.name, corps(cell).text]];
      case 'texts':
        return [[field.name, JSON.parse(String(cell))]];
      case 'ref':
        return [[field.name, `${kindNamed(field.to).prefix}${cell}`]];
      case 'whole':
        return [[field.name, Number(cell)]];
      default:
        return [[field.name, String(cell)]];
    }
  };
}
