import { HeldbyError } from '../errors.ts';
import type { NameParts } from '../ledger/dictionary.ts';
import { pageCell } from '../ledger/entries.ts';
import { addEntriesInBulk, type EntryColumns, knownEntries } from '../ledger/entry-bulk.ts';
import { differingRows } from '../ledger/find-differing.ts';
import { APPOINTMENT_KINDS, kindNamed } from '../ledger/kinds.ts';
import { editionNamed, knownPeople, type SeriesRow, seriesNamed } from '../ledger/list-lookups.ts';
import type { Recording } from '../ledger/recording.ts';
import { addRecord, freeRow, keepNumbers } from '../ledger/records.ts';
import { datesOfEdition, datesOfSeries, nearer } from '../ledger/series-dates.ts';
import { shippedLadder, shippedServices } from '../services/ladder.ts';
import { readRank } from '../services/read-rank.ts';
import type { DateOptions } from '../time/reading-options.ts';
import type { Day } from '../time/span.ts';
import type { CodedList } from './coded-list.ts';
import type { ColumnValues } from './column-values.ts';
import { refuseDittos } from './list-dittos.ts';
import { ListFaults } from './list-faults.ts';
import type { ListField } from './list-fields.ts';

export type ListOptions = {
  readonly series?: string | undefined;
  readonly service?: string | undefined;
  /** Lines that one thing alone tells from a recorded one are left out, not only told. */
  readonly leaveDiffering?: boolean | undefined;
};

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
  notes.push(...afterTheEdition(list, editions, dated));
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
  const entries = addEntriesInBulk(into.db, into.act, left === list.count ? columns : without(columns, known, left));
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
    notes,
  };
}

/** Lines with a date of rank after the day as at which their edition stands: nothing is refused, but it looks wrong. */
function afterTheEdition(list: CodedList, { ids, asAt }: Editions, dated: Dates): string[] {
  const notes: string[] = [];
  let more = 0;
  let [edition, until] = [-1, Number.POSITIVE_INFINITY];
  for (let row = 0; row < list.count; row += 1) {
    const begins = dated.begins.get(dated.ids[row] as number);
    if (begins === undefined) continue;
    if (ids[row] !== edition) {
      edition = ids[row] as number;
      until = asAt.get(edition)?.until ?? Number.POSITIVE_INFINITY;
    }
    if (begins < until) continue;
    if (notes.length < LOOKED_AT)
      notes.push(`Line ${list.lines[row]} looks wrong: it is dated ${textAt(list, 'dated', row)}, after its edition.`);
    else more += 1;
  }
  return more === 0 ? notes : [...notes, `… and ${more} more that are dated after their edition.`];
}

const LOOKED_AT = 10;

/** What a cell says; empty where there is none. */
function textAt(list: CodedList, field: ListField, row: number): string {
  const code = list.codes[field]?.[row] ?? -1;
  return code < 0 ? '' : (list.values[field]?.text(code) ?? '');
}

/** Ids of a column's values for each row, 0 where the cell is empty; each distinct value is looked at once. */
function idsOf(list: CodedList, field: ListField, faults: ListFaults, id: (text: string) => number): Int32Array {
  const codes = list.codes[field];
  const values = list.values[field];
  const ids = new Int32Array(list.count);
  if (!codes || !values) return ids;
  const idOfCode = new Int32Array(values.size);
  for (let code = 0; code < values.size; code += 1)
    faults.of(field, values, code, () => (idOfCode[code] = id(values.text(code))));
  for (let row = 0; row < list.count; row += 1) {
    const code = codes[row] as number;
    if (code >= 0) ids[row] = idOfCode[code] as number;
  }
  return ids;
}

/** Counted from the date of the paper: another day in each edition. */
const OF_THE_PAPER = /\b(?:ult|inst|prox|curr?t)/i;

/** The dates of lines, 0 for none, with the first day of each. */
type Dates = { readonly ids: Int32Array; readonly begins: ReadonlyMap<number, Day> };

/** The dates of the lines as their editions write them, each wording read once for all that write alike. */
function datesOf(into: Recording, list: CodedList, editions: Editions, faults: ListFaults): Dates {
  const codes = list.codes.dated;
  const values = list.values.dated;
  const begins = new Map<number, Day>();
  if (!codes || !values) return { ids: new Int32Array(list.count), begins };
  const read = (text: string, options: DateOptions | undefined): number => {
    const { id, from } = into.words.date(text, null, options);
    begins.set(id, from);
    return id;
  };
  const ofPaper = Array.from({ length: values.size }, (_, code) => OF_THE_PAPER.test(values.text(code))).includes(true);
  into.act.flush();
  type Alike = { readonly options: DateOptions; readonly ids: Int32Array };
  const alike = new Map<string, Alike>();
  const ofEdition = new Map<number, Alike>();
  for (const edition of editions.asAt.keys()) {
    const { reference, ...others } = datesOfEdition(into.db, edition);
    const options = nearer(ofPaper && reference !== undefined ? { ...others, reference } : others, into.dates);
    const signature = JSON.stringify(options);
    const group = alike.get(signature) ?? { options, ids: new Int32Array(values.size) };
    alike.set(signature, group);
    ofEdition.set(edition, group);
  }
  const [first, another] = [...alike.values()];
  if (another === undefined) return { ids: idsOf(list, 'dated', faults, (text) => read(text, first?.options)), begins };
  const ids = new Int32Array(list.count);
  for (let row = 0; row < list.count; row += 1) {
    const code = codes[row] as number;
    const group = ofEdition.get(editions.ids[row] as number);
    if (code < 0 || group === undefined) continue;
    const known = group.ids[code] as number;
    ids[row] =
      known > 0
        ? known
        : (faults.at(list.lines[row] as number, 'dated', () => read(values.text(code), group.options)) ?? 0);
    group.ids[code] = ids[row] as number;
  }
  return { ids, begins };
}

type Editions = {
  ids: Int32Array;
  asAt: Map<number, { from: Day; until: Day }>;
  service: Map<number, string>;
  withEntries: Set<number>;
  made: number;
};

/** Editions by series, label and day; unknown ones are made. */
function editionsOf(
  into: Recording,
  list: CodedList,
  options: ListOptions,
  faults: ListFaults,
  notes: string[],
): Editions {
  const { series: seriesCodes, edition: editionCodes, as_at: asAtCodes } = list.codes;
  if (!editionCodes) throw missing(list, 'edition', 'edition');
  if (!seriesCodes && options.series === undefined) throw missing(list, 'series', 'series (or name it with --series)');
  if (seriesCodes && options.series !== undefined)
    notes.push(`The file names its series itself: --series ${options.series} is not used.`);
  const found: Editions = {
    ids: new Int32Array(list.count),
    asAt: new Map(),
    service: new Map(),
    withEntries: new Set(),
    made: 0,
  };
  const bySeries = new Map<string, SeriesRow>();
  const byCodes = new Map<string, number>();
  const keyOf = (row: number): string =>
    `${seriesCodes ? seriesCodes[row] : -1} ${editionCodes[row]} ${asAtCodes ? asAtCodes[row] : -1}`;
  let last = [-2, -2, -2, 0];
  for (let row = 0; row < list.count; row += 1) {
    const series = seriesCodes ? (seriesCodes[row] as number) : -1;
    const edition = editionCodes[row] as number;
    const asAt = asAtCodes ? (asAtCodes[row] as number) : -1;
    if (series !== last[0] || edition !== last[1] || asAt !== last[2]) {
      const signature = keyOf(row);
      let id = byCodes.get(signature);
      if (id === undefined) {
        id = faults.at(
          list.lines[row] as number,
          edition < 0 ? 'edition' : seriesCodes && series < 0 ? 'series' : 'as_at',
          () => {
            if (edition < 0)
              throw new HeldbyError('VALUE', 'The edition is not given.', 'Give the edition of every row.');
            const seriesName = series >= 0 ? (list.values.series?.text(series) ?? '') : (options.series ?? '');
            if (seriesName === '')
              throw new HeldbyError(
                'VALUE',
                'The series is not given.',
                'Give the series of every row, or name it with --series.',
              );
            const known = bySeries.get(seriesName) ?? seriesFor(into, list, seriesName, options, notes);
            bySeries.set(seriesName, known);
            return editionFor(
              into,
              list,
              known,
              list.values.edition?.text(edition) ?? '',
              asAt >= 0 ? list.values.as_at?.text(asAt) : undefined,
              found,
              notes,
            );
          },
          { keyOf, key: signature },
        );
        byCodes.set(signature, id ?? 0);
      }
      last = [series, edition, asAt, id ?? 0];
    }
    found.ids[row] = last[3] as number;
  }
  return found;
}

function seriesFor(into: Recording, list: CodedList, name: string, options: ListOptions, notes: string[]): SeriesRow {
  const known = seriesNamed(into.db, name);
  if (known) return known;
  const service = options.service ?? guessedService(list) ?? name;
  const id = Number(addRecord(into, kindNamed('series'), { name, service }).slice(kindNamed('series').prefix.length));
  notes.push(
    `Made the series "${name}" in the service ${service}${options.service === undefined ? ' (taken from its ranks; say another with --service)' : ''}.`,
  );
  return { id, service };
}

/** The shipped service whose ladder knows most of the ranks of the file, the first of several; none that knows none. */
function guessedService({ values }: CodedList): string | undefined {
  const ranks = values.rank;
  if (!ranks) return undefined;
  const texts = Array.from({ length: ranks.size }, (_, code) => ranks.text(code));
  const known = shippedServices().map((service) => {
    const ladder = shippedLadder(service);
    const count = ladder
      ? texts.filter((text) => readRank(text, ladder, { column: true }).kind !== 'unknown').length
      : 0;
    return { service, count };
  });
  const best = known.reduce((a, b) => (b.count > a.count ? b : a), { service: '', count: 0 });
  return best.count === 0 ? undefined : best.service;
}

function editionFor(
  into: Recording,
  list: CodedList,
  series: SeriesRow,
  label: string,
  asAt: string | undefined,
  found: Editions,
  notes: string[],
): number {
  const known = editionNamed(into.db, series.id, label);
  if (known) {
    if (asAt !== undefined) {
      const given = into.words.date(asAt, null, nearer(datesOfSeries(into.db, series.id), into.dates));
      if (given.from !== known.asAt.from || given.until !== known.asAt.until) {
        throw new HeldbyError(
          'CONFLICT',
          `Edition ${label} is recorded as at another day than "${asAt}".`,
          `Mend the file, or the record: heldby amend ed${known.id} asAt "${asAt}" --why …`,
        );
      }
    }
    if (known.hasEntries) found.withEntries.add(known.id);
    found.asAt.set(known.id, known.asAt);
    found.service.set(known.id, series.service);
    return known.id;
  }
  if (asAt === undefined && list.codes.as_at)
    throw new HeldbyError(
      'VALUE',
      `Edition ${label} is new, and the row has no as_at.`,
      'Say as at which day the edition stands.',
    );
  if (asAt === undefined)
    notes.push(`Edition ${label} is taken to stand as at ${label}: the file has no as_at column.`);
  const id = Number(
    addRecord({ ...into, asListsWrite: true }, kindNamed('edition'), {
      series: `s${series.id}`,
      label,
      asAt: asAt ?? label,
    }).slice(kindNamed('edition').prefix.length),
  );
  const span = into.words.date(asAt ?? label, null, nearer(datesOfSeries(into.db, series.id), into.dates));
  found.asAt.set(id, span);
  found.service.set(id, series.service);
  found.made += 1;
  return id;
}

type Names = { ids: Int32Array; surnames: Int32Array };

/** Names as printed, or made of a surname and forenames given apart. */
function namesOf(into: Recording, list: CodedList, faults: ListFaults): Names {
  const { name, surname, forenames } = list.codes;
  if (name && !surname) return printedNamesOf(into, list, name, faults);
  const names: Names = { ids: new Int32Array(list.count), surnames: new Int32Array(list.count) };
  const known = new Map<number, { id: number; surnameId: number }>();
  const width = (list.values.name?.size ?? 0) + 1;
  const widthOfForenames = (list.values.forenames?.size ?? 0) + 1;
  const codeOf = (codes: Int32Array | undefined, row: number): number => (codes ? (codes[row] as number) : -1);
  const keyOf = (row: number): number => {
    const [n, s] = [codeOf(name, row), codeOf(surname, row)];
    return s < 0 ? n + 1 : ((s + 1) * widthOfForenames + codeOf(forenames, row) + 1) * width + n + 1;
  };
  for (let row = 0; row < list.count; row += 1) {
    const [n, s, f] = [codeOf(name, row), codeOf(surname, row), codeOf(forenames, row)];
    const signature = keyOf(row);
    let found = known.get(signature);
    if (!found) {
      const read = (): { id: number; surnameId: number } => {
        if (n < 0 && s < 0) throw new HeldbyError('VALUE', 'The row has no name.', 'Give a name, or a surname.');
        const printed = n >= 0 ? list.values.name?.text(n) : undefined;
        if (s < 0) return into.words.name(printed ?? '');
        const parts: NameParts = {
          surname: list.values.surname?.text(s) ?? '',
          forenames: f >= 0 ? (list.values.forenames?.text(f) ?? null) : null,
          honours: null,
          suffix: null,
        };
        return into.words.name(
          printed ?? (parts.forenames === null ? parts.surname : `${parts.forenames} ${parts.surname}`),
          parts,
        );
      };
      found = faults.at(list.lines[row] as number, surname ? 'surname' : 'name', read, { keyOf, key: signature }) ?? {
        id: 0,
        surnameId: 0,
      };
      known.set(signature, found);
    }
    names.ids[row] = found.id;
    names.surnames[row] = found.surnameId;
  }
  return names;
}

/** Every distinct name is read once. */
function printedNamesOf(into: Recording, list: CodedList, codes: Int32Array, faults: ListFaults): Names {
  const values = list.values.name as ColumnValues;
  const idOfCode = new Int32Array(values.size);
  const surnameOfCode = new Int32Array(values.size);
  for (let code = 0; code < values.size; code += 1) {
    faults.of('name', values, code, () => {
      const { id, surnameId } = into.words.name(values.text(code));
      idOfCode[code] = id;
      surnameOfCode[code] = surnameId;
    });
  }
  const names: Names = { ids: new Int32Array(list.count), surnames: new Int32Array(list.count) };
  for (let row = 0; row < list.count; row += 1) {
    const code = codes[row] as number;
    if (code < 0) {
      faults.at(list.lines[row] as number, 'name', () => {
        throw new HeldbyError('VALUE', 'The row has no name.', 'Give the name as it is printed.');
      });
      continue;
    }
    names.ids[row] = idOfCode[code] as number;
    names.surnames[row] = surnameOfCode[code] as number;
  }
  return names;
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

const missing = (list: CodedList, field: string, called: string) =>
  new HeldbyError(
    'INPUT_FILE',
    `The file has no column for ${called}.`,
    `Say which one it is: --map ${field}=COLUMN. Not used so far: ${list.ignored.join(', ') || 'none'}.`,
    'line 1',
  );
