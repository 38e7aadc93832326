import { HeldbyError } from '../errors.ts';
import { pageCell } from '../ledger/entries.ts';
import { addEntriesInBulk, type EntryColumns, knownEntries } from '../ledger/entry-bulk.ts';
import { differingRows } from '../ledger/find-differing.ts';
import { APPOINTMENT_KINDS, kindNamed } from '../ledger/kinds.ts';
import { knownPeople } from '../ledger/list-lookups.ts';
import type { Recording } from '../ledger/recording.ts';
import { freeRow, keepNumbers } from '../ledger/records.ts';
import type { CodedList } from './coded-list.ts';
import type { ColumnValues } from './column-values.ts';
import { idsOf, missing, textAt } from './list-column.ts';
import { datesOf, doubtfulDates } from './list-dates.ts';
import { refuseDittos } from './list-dittos.ts';
import { type Editions, editionsOf, type ListOptions } from './list-editions.ts';
import { ListFaults } from './list-faults.ts';
import { type Names, namesOf } from './list-names.ts';

/** A line that one thing alone tells from a line that the edition has: a namesake, or a slip in one of the two. */
export type DifferingLine = {
  readonly line: number;
  readonly id: string;
  readonly field: string;
  readonly value: string;
};

export type ListImport = {
  readonly entries: number;
  readonly known: number;
  readonly differing: readonly DifferingLine[];
  readonly editions: number;
  readonly people: number;
  /** Entries recorded without saying whose they are. */
  readonly unplaced: number;
  /** What was taken for granted, to be told. */
  readonly notes: readonly string[];
};

/**
 * Records the entries of a coded list. All or nothing: the first ten faults are named by line and column, with the
 * number of the rest.
 * @throws HeldbyError INPUT_FILE
 */
export function importList(into: Recording, list: CodedList, options: ListOptions): ListImport {
  const faults = new ListFaults(list);
  const notes: string[] = [];
  for (const field of ['rank'] as const) if (!list.codes[field]) throw missing(list, field, 'rank');
  if (!list.codes.name && !list.codes.surname) throw missing(list, 'name', 'name (or surname)');
  refuseDittos(list, faults);

  const editions = editionsOf(into, list, options, faults, notes);
  const names = namesOf(into, list, faults);
  const ranks = ranksOf(into, list, editions, faults);
  const dated = datesOf(into, list, editions, faults);
  const corps = idsOf(list, 'corps', faults, (text) => into.words.corps(text));
  const appointment = kindsOf(list, faults, ranks.appointment);
  faults.throwIfAny();
  notes.push(...doubtfulDates(list, editions, dated));
  const people = peopleOf(into, list, names, faults);
  faults.throwIfAny();

  const pages: (string | number | null)[] = [null];
  const page = idsOf(list, 'page', faults, (text) => pages.push(pageCell(text)) - 1);
  const said: (string | null)[] = [null];
  const note = idsOf(list, 'note', faults, (text) => said.push(text) - 1);
  const appointments = [null, ...APPOINTMENT_KINDS.slice(1)];
  const columns: EntryColumns = {
    count: list.count,
    surname: names.surnames,
    edition: editions.ids,
    name: names.ids,
    rank: ranks.ids,
    corps,
    dated: dated.ids,
    page,
    pages,
    person: people.ids,
    appointment,
    appointments,
    note,
    notes: said,
  };
  into.act.flush();
  const known = knownEntries(into.db, columns, editions.withEntries);
  const knownCount = known.reduce((sum, each) => sum + each, 0);
  const differing = differingRows(into.db, columns, known, editions.withEntries);
  if (options.leaveDiffering) for (const { row } of differing) known[row] = 1;
  const left = list.count - knownCount - (options.leaveDiffering ? differing.length : 0);
  const recorded = left === list.count ? columns : without(columns, known, left);
  const entries = addEntriesInBulk(into.db, into.act, recorded);
  return {
    entries,
    known: knownCount,
    differing: differing.map(({ row, entry, field }) => ({
      line: list.lines[row] as number,
      id: `e${entry}`,
      field,
      value: textAt(list, field, row),
    })),
    editions: editions.made,
    people: people.made,
    unplaced: recorded.person.reduce((sum, person) => sum + (person === 0 ? 1 : 0), 0),
    notes,
  };
}

/** A rank means what it meant in the service and at the time of its edition. */
function ranksOf(
  into: Recording,
  list: CodedList,
  editions: Editions,
  faults: ListFaults,
): { ids: Int32Array; appointment: Int32Array } {
  const codes = list.codes.rank as Int32Array;
  const values = list.values.rank as ColumnValues;
  const ids = new Int32Array(list.count);
  const appointment = new Int32Array(list.count);
  const known = new Map<number, { id: number; appointment: number }>();
  const keyOf = (row: number): number =>
    (codes[row] as number) < 0 ? -1 : (editions.ids[row] as number) * values.size + (codes[row] as number);
  let lastSignature = -1;
  let last = { id: 0, appointment: 0 };
  for (let row = 0; row < list.count; row += 1) {
    const edition = editions.ids[row] as number;
    const code = codes[row] as number;
    const signature = edition * values.size + code;
    if (signature !== lastSignature || code < 0) {
      const remembered = known.get(signature);
      if (remembered && code >= 0) last = remembered;
      else {
        const read = (): { id: number; appointment: number } => {
          if (code < 0) throw new HeldbyError('VALUE', 'The row has no rank.', 'Give the rank as it is printed.');
          const rank = into.words.rank(
            editions.service.get(edition) ?? '',
            values.text(code),
            editions.asAt.get(edition),
          );
          return {
            id: rank.id,
            appointment: Math.max(0, APPOINTMENT_KINDS.indexOf((rank.appointment ?? 'substantive') as 'substantive')),
          };
        };
        last = faults.at(list.lines[row] as number, 'rank', read, code < 0 ? undefined : { keyOf, key: signature }) ?? {
          id: 0,
          appointment: 0,
        };
        known.set(signature, last);
      }
      lastSignature = signature;
    }
    ids[row] = last.id;
    appointment[row] = last.appointment;
  }
  return { ids, appointment };
}

/** How each post was held: as the column says; where it says nothing, as the words of the rank say. */
function kindsOf(list: CodedList, faults: ListFaults, ofRanks: Int32Array): Int32Array {
  const { kind } = list.codes;
  if (!kind) return ofRanks;
  const said = idsOf(list, 'kind', faults, (text) => {
    const index = APPOINTMENT_KINDS.indexOf(text.toLowerCase() as 'substantive');
    if (index < 0)
      throw new HeldbyError(
        'VALUE',
        `"${text}" is no kind of appointment.`,
        `One of: ${APPOINTMENT_KINDS.join(', ')}.`,
      );
    return index;
  });
  return said.map((index, row) => ((kind[row] as number) < 0 ? (ofRanks[row] as number) : index));
}

/**
 * People by id or key; an unknown one is made, with the name of the first row. They are numbered in the order of their
 * surnames, in which their entries are stored: so the index of entries by person grows at its end. Those whose keys are
 * to be their ids come before.
 */
function peopleOf(
  into: Recording,
  list: CodedList,
  names: Names,
  faults: ListFaults,
): { ids: Int32Array; made: number } {
  const codes = list.codes.person;
  const values = list.values.person;
  const ids = new Int32Array(list.count);
  if (!codes || !values) return { ids, made: 0 };
  const firstRow = new Int32Array(values.size).fill(-1);
  for (let row = list.count - 1; row >= 0; row -= 1)
    if ((codes[row] as number) >= 0) firstRow[codes[row] as number] = row;
  const surnameOf = (code: number) => names.surnames[firstRow[code] as number] as number;
  const inOrder = Int32Array.from(firstRow.keys()).sort((a, b) => surnameOf(a) - surnameOf(b) || a - b);
  into.act.flush();
  const known = knownPeople(into.db);
  const idOfCode = new Int32Array(values.size);
  const person = kindNamed('person');
  const unknown = new Map<string, number>();
  for (const code of inOrder) {
    faults.of('person', values, code, () => {
      const key = values.text(code);
      const id = known(key);
      if (id === undefined) unknown.set(key, code);
      else idOfCode[code] = id;
    });
  }
  const add = into.act.inserter('person', ['row', 'id', 'key', 'name_id'], true);
  const numbered = keepNumbers(into, person, unknown.keys());
  const make = (key: string, code: number) => {
    const id = freeRow(into, person, key);
    add([id, id, key, names.ids[firstRow[code] as number] as number]);
    idOfCode[code] = id;
  };
  for (const key of numbered.keys()) make(key, unknown.get(key) as number);
  for (const [key, code] of unknown) if (!numbered.has(key)) make(key, code);
  for (let row = 0; row < list.count; row += 1) {
    const code = codes[row] as number;
    if (code >= 0) ids[row] = idOfCode[code] as number;
  }
  return { ids, made: unknown.size };
}

function without(columns: EntryColumns, known: Uint8Array, count: number): EntryColumns {
  const keep = (column: Int32Array) => column.filter((_, row) => known[row] === 0);
  return {
    ...columns,
    count,
    surname: keep(columns.surname),
    edition: keep(columns.edition),
    name: keep(columns.name),
    rank: keep(columns.rank),
    corps: keep(columns.corps),
    dated: keep(columns.dated),
    page: keep(columns.page),
    person: keep(columns.person),
    appointment: keep(columns.appointment),
    ...(columns.note === undefined ? {} : { note: keep(columns.note) }),
  };
}
