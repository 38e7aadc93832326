import type { EntryColumns } from './entry-bulk.ts';
import type { Db } from './open.ts';

/** A line of a file that is a recorded one but for one thing. `field` is what differs. */
export type DifferingRow = { readonly row: number; readonly entry: number; readonly field: DifferingField };
export type DifferingField = 'name' | 'rank' | 'corps' | 'dated' | 'page' | 'kind';

type Recorded = {
  readonly entry: number;
  readonly name: number | null;
  readonly rank: number | null;
  readonly corps: number | null;
  readonly dated: number | null;
  readonly page: string | number | null;
  readonly kind: string | null;
  readonly person: number | null;
};

const FIELDS: readonly DifferingField[] = ['name', 'rank', 'corps', 'dated', 'page', 'kind'];

/**
 * Lines that are neither known nor new: those that one thing alone tells from a line that the same edition has under the
 * same surname, and that no line of the file says. Such a line is a correction, or a slip in one of the two; a name may
 * differ only where both are given to one person. Each recorded line answers for one of the file.
 */
export function differingRows(
  db: Db,
  columns: EntryColumns,
  known: Uint8Array,
  editionsWithEntries: ReadonlySet<number>,
): DifferingRow[] {
  const groups = new Map<string, number[]>();
  for (let row = 0; row < columns.count; row += 1) {
    if (known[row] === 1 || !editionsWithEntries.has(columns.edition[row] as number)) continue;
    const group = `${columns.surname[row]} ${columns.edition[row]}`;
    const others = groups.get(group);
    if (others) others.push(row);
    else groups.set(group, [row]);
  }
  if (groups.size === 0) return [];
  const taken = knownByGroup(columns, known, groups);
  const there = db.prepare(
    `SELECT coalesce(id, row) AS entry, name_id AS name, rank_id AS rank, corps_id AS corps, dated_id AS dated, page, appointment AS kind, person_id AS person
       FROM current_entry WHERE surname_id = ? AND edition_id = ? ORDER BY 1`,
  );
  return [...groups].flatMap(([group, rows]) => {
    const recorded = there.all(...group.split(' ').map(Number)) as Recorded[];
    const left = withoutTaken(recorded, taken.get(group) ?? []);
    return rows.flatMap((row) => {
      const line = lineAt(columns, row);
      for (const [at, other] of left.entries()) {
        const field = onlyDifference(line, other);
        if (field === undefined) continue;
        left.splice(at, 1);
        return [{ row, entry: other.entry, field }];
      }
      return [];
    });
  });
}

type Line = Omit<Recorded, 'entry'>;

function lineAt(columns: EntryColumns, row: number): Line {
  const some = (column: Int32Array): number | null => (column[row] as number) || null;
  return {
    name: some(columns.name),
    rank: some(columns.rank),
    corps: some(columns.corps),
    dated: some(columns.dated),
    page: columns.pages[columns.page[row] as number] ?? null,
    kind: columns.appointments[columns.appointment[row] as number] ?? null,
    person: some(columns.person),
  };
}

/** Lines of the file that are known, in the groups that are looked into. */
function knownByGroup(
  columns: EntryColumns,
  known: Uint8Array,
  groups: ReadonlyMap<string, unknown>,
): Map<string, Line[]> {
  const taken = new Map<string, Line[]>();
  for (let row = 0; row < columns.count; row += 1) {
    if (known[row] !== 1) continue;
    const group = `${columns.surname[row]} ${columns.edition[row]}`;
    if (!groups.has(group)) continue;
    const others = taken.get(group);
    if (others) others.push(lineAt(columns, row));
    else taken.set(group, [lineAt(columns, row)]);
  }
  return taken;
}

function withoutTaken(recorded: readonly Recorded[], taken: readonly Line[]): Recorded[] {
  const left = [...recorded];
  for (const line of taken) {
    const at = left.findIndex(
      (other) => other.person === line.person && FIELDS.every((field) => other[field] === line[field]),
    );
    if (at >= 0) left.splice(at, 1);
  }
  return left;
}

/** A person that only one of the two names is no difference: it may have been found since. */
function onlyDifference(line: Line, other: Line): DifferingField | undefined {
  if (line.person !== null && other.person !== null && line.person !== other.person) return undefined;
  const different = FIELDS.filter((field) => line[field] !== other[field]);
  const [only, another] = different;
  if (only === undefined || another !== undefined) return undefined;
  return only === 'name' && (line.person === null || line.person !== other.person) ? undefined : only;
}
