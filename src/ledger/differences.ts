import { corpsKey } from '../services/corps-key.ts';
import { fold } from '../services/fold.ts';
import type { Cell } from './journal.ts';
import type { Field, Kind } from './kind.ts';
import type { Db } from './open.ts';

type Cells = Readonly<Record<string, Cell | undefined>>;

/** What a record that comes from elsewhere says otherwise, and what it says where the one here is silent. */
export type Differences = { readonly otherwise: readonly Field[]; readonly more: readonly Field[] };

/** Compares what is meant, not how it is worded: "1 Jan. 1834" is 1834-01-01, "Lieut." is a lieutenant. */
export function differencesOf(db: Db, kind: Kind, here: Cells, there: Cells): Differences {
  const otherwise: Field[] = [];
  const more: Field[] = [];
  for (const field of kind.fields) {
    const [mine, theirs] = [here[field.column] ?? null, there[field.column] ?? null];
    if (theirs === null || isAlike(db, field, mine, theirs)) continue;
    if (mine === null && field.otherwise === undefined) more.push(field);
    else otherwise.push(field);
  }
  return { otherwise, more };
}

/** Whether two cells of a field mean the same. */
export function isAlike(db: Db, field: Field, a: Cell, b: Cell): boolean {
  if (a === null || b === null) return (a ?? field.otherwise ?? null) === (b ?? field.otherwise ?? null);
  if (String(a) === String(b)) return true;
  const rows = (sql: string): [unknown, unknown] => {
    const read = db.prepare(sql).raw();
    return [JSON.stringify(read.get(a)), JSON.stringify(read.get(b))];
  };
  switch (field.type) {
    case 'date': {
      const [one, other] = rows(
        'SELECT from_day, until_day, approximate, uncertain, printed FROM date_expression WHERE id = ?',
      );
      return one === other;
    }
    case 'rank': {
      const [one, other] = rows('SELECT service, rank FROM rank_style WHERE id = ?');
      return one === other;
    }
    case 'corps': {
      const read = db.prepare('SELECT text FROM corps_style WHERE id = ?').pluck();
      return corpsKey(String(read.get(a))) === corpsKey(String(read.get(b)));
    }
    case 'name': {
      const read = db
        .prepare(
          'SELECT s.text AS surname, n.forenames, n.suffix FROM printed_name AS n JOIN surname AS s ON s.id = n.surname_id WHERE n.id = ?',
        )
        .raw();
      const parts = (cell: Cell): string =>
        (read.get(cell) as (string | null)[]).map((part) => plain(part ?? '')).join();
      return parts(a) === parts(b);
    }
    case 'texts': {
      const list = (cell: Cell): string[] => (JSON.parse(String(cell)) as string[]).map(plain).sort();
      return list(a).join('\n') === list(b).join('\n');
    }
    case 'text':
      return plain(String(a)) === plain(String(b));
    default:
      return false;
  }
}

/** A text without what no two people write alike: case, accents, spaces, full stops and commas. */
const plain = (text: string): string =>
  fold(text)
    .replaceAll(/[\s.,]+/g, ' ')
    .trim();
