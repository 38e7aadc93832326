import { markDays } from '../attribution/candidate.ts';
import { sharesOf } from '../attribution/candidates.ts';
import { assumptionsOf } from '../ledger/assumed.ts';
import { type EntryRow, entriesOfPeople, entryById, unplacedEntries } from '../ledger/entries.ts';
import { evidenceReader } from '../ledger/evidence.ts';
import type { KindName } from '../ledger/kind.ts';
import { kindNamed, parseId } from '../ledger/kinds.ts';
import { markById } from '../ledger/marks.ts';
import { editionsOfServices, idsOf, kinOf, recordsNaming, serviceOfEdition, surnamesBorne } from '../ledger/naming.ts';
import type { Db } from '../ledger/open.ts';
import { samePeople } from '../ledger/people.ts';
import { currentRow } from '../ledger/records.ts';
import { recordReader, type WholeRecord } from '../ledger/whole-records.ts';
import { foldName } from '../names/pattern.ts';
import { nearestBeyond } from './beyond-reading.ts';
import { candidateInputs } from './candidate-inputs.ts';
import type { ExportedRecord } from './export.ts';
import { exportOrder } from './export.ts';
import { keyBook } from './export-keys.ts';
import { markDaysOf, objectDays } from './mark-dating.ts';
import { questionOfReadings, readingsOfMark } from './mark-question.ts';
import { namesHolder } from './naming-roles.ts';

/** Kinds that a house sets for everything it works out; they are few, and all of them go along. */
const SHARED = ['service', 'rank', 'corps', 'condition', 'assumption'] as const;

/**
 * Objects with everything that their answers rest on: marks, features, readings, pictures and attributions; whoever can
 * be meant by a mark, with entries, notices, names, kin, searches and findings who is who; the editions of the services'
 * lists, looked into or not; conditions of service, facts, assumptions that were changed, and what was set aside. Asked
 * the same, a ledger that holds nothing else gives the same answers.
 * @param objects their ids, as numbers.
 */
export function bundleOf(db: Db, objects: readonly number[]): { objects: string[]; records: ExportedRecord[] } {
  const records = written(db, gathered(db, objects));
  const keys = records.flatMap(({ type, key }) => (type === 'object' ? [key] : []));
  return { objects: keys, records };
}

/** Kinds of which only the last record about a thing counts, with the column that says what it is about. */
const LATEST_DECIDES = [
  ['assumption', 'name'],
  ['link', 'entry_id'],
] as const;

function keepLatest(db: Db, ids: ReadonlyMap<KindName, Set<number>>, kind: KindName, column: string): void {
  const last = new Map<unknown, number>();
  for (const id of ids.get(kind) ?? []) {
    const about = currentRow(db, kindNamed(kind), id)?.[column];
    const before = last.get(about);
    if (before !== undefined) ids.get(kind)?.delete(Math.min(before, id));
    last.set(about, Math.max(before ?? id, id));
  }
}

type Chosen = {
  readonly ids: ReadonlyMap<KindName, ReadonlySet<number>>;
  readonly entries: ReadonlyMap<number, EntryRow>;
};

function gathered(db: Db, objects: readonly number[]): Chosen {
  const ids = new Map<KindName, Set<number>>();
  const entries = new Map<number, EntryRow>();
  const of = (kind: KindName): number[] => [...(ids.get(kind) ?? [])];
  const add = (kind: KindName, more: Iterable<number>): void => {
    const known = ids.get(kind) ?? new Set<number>();
    for (const id of more) known.add(id);
    ids.set(kind, known);
  };
  const addNaming = (kind: KindName, kinds: Parameters<typeof recordsNaming>[3]): void => {
    for (const found of recordsNaming(db, kindNamed(kind), of(kind), kinds)) add(found.kind, [found.id]);
  };
  const addEntries = (rows: readonly EntryRow[]): void => {
    for (const row of rows) entries.set(row.id ?? row.row, row);
  };

  add('object', objects);
  addNaming('object', ['feature', 'mark', 'photo']);
  addNaming('mark', ['reading', 'clue', 'attribution', 'photo']);
  const meant = whoIsMeant(db, of('mark'));
  const together = samePeople(db);
  add('person', [...meant.people, ...attributed(db, of('attribution'))].flatMap(together));
  add('person', kinOf(db, of('person')).flatMap(together));
  addNaming('person', ['name', 'notice', 'kin', 'search', 'same']);
  const people = new Set(of('person'));
  for (const { id } of recordsNaming(db, kindNamed('person'), [...people], ['differ'])) {
    const row = currentRow(db, kindNamed('differ'), id);
    if (people.has(Number(row?.['person_id'])) && people.has(Number(row?.['other_id']))) add('differ', [id]);
  }
  addEntries(entriesOfPeople(db, [...people]));
  addEntries(unplacedEntries(db, meant.surnames));
  add('entry', entries.keys());
  addNaming('entry', ['link']);
  add('search', sweepsOf(db, new Set(surnamesBorne(db, [...people]).map(foldName)), meant.sweeps));
  for (const kind of SHARED) add(kind, idsOf(db, kind));
  for (const [kind, column] of LATEST_DECIDES) keepLatest(db, ids, kind, column);
  add(
    'fact',
    factsNamed(db, [...of('feature').map((id) => ['feature', id]), ...of('clue').map((id) => ['clue', id])] as [
      KindName,
      number,
    ][]),
  );
  const editions = [...entries.values()].map((entry) => entry.edition_id);
  const services = [...new Set(editions)].flatMap((edition) => serviceOfEdition(db, edition) ?? []);
  add('edition', editionsOfServices(db, [...new Set([...services, ...meant.services])]));
  addReferred(db, ids, entries, add);
  for (const kind of [...ids.keys()]) if (kind !== 'setAside') addNaming(kind, ['setAside']);
  return { ids, entries };
}

type Meant = {
  readonly people: readonly number[];
  readonly surnames: readonly number[];
  readonly sweeps: readonly number[];
  readonly services: readonly string[];
};

/** Whoever is weighed for some marks, and the surnames, sweeps and services that the marks ask for. */
function whoIsMeant(db: Db, marks: readonly number[]): Meant {
  const assumptions = assumptionsOf(db);
  const read = evidenceReader(db, assumptions);
  const people = new Set<number>();
  const surnames = new Set<number>();
  const sweeps = new Set<number>();
  const services = new Set<string>();
  for (const id of marks) {
    const mark = markById(db, id);
    if (mark === undefined) continue;
    const days = markDaysOf(mark, objectDays(db, mark.object_id, read, assumptions), read, assumptions);
    const readings = readingsOfMark(db, mark, days.dated ? days.marking.window : undefined);
    const isNamed = readings.some(({ parts }) => parts.surname !== undefined);
    // A maker's mark without a name would mean everybody there is.
    if (!isNamed && !readings.some(({ parts }) => namesHolder(mark, parts))) continue;
    const question = questionOfReadings(db, assumptions, read, readings);
    for (const known of question.known.values()) {
      if (!isNamed && candidateInputs(known, question.sought, assumptions).length === 0) continue;
      for (const person of known.people) people.add(person);
    }
    const inputs = [...question.known.values()].flatMap((known) =>
      candidateInputs(known, question.sought, assumptions),
    );
    const when = markDays(days.marking.density);
    if (sharesOf({ mark: when, candidates: inputs, unrecorded: question.unrecorded }, assumptions).nobodyFits)
      for (const { person } of nearestBeyond(question, when)) people.add(Number(person.id.slice(1)));
    for (const surname of question.sought.surnameBits?.keys() ?? []) surnames.add(surname);
    for (const sweep of question.sweepIds) sweeps.add(Number(sweep.slice(1)));
    for (const { service } of question.sought.ranks) services.add(service);
  }
  return { people: [...people], surnames: [...surnames], sweeps: [...sweeps], services: [...services] };
}

const attributed = (db: Db, attributions: readonly number[]): number[] =>
  attributions.flatMap((id) => Number(currentRow(db, kindNamed('attribution'), id)?.['person_id'] ?? []));

/** Sweeps of the surnames that somebody bears, with those that a mark asks for. */
function sweepsOf(db: Db, surnames: ReadonlySet<string>, asked: readonly number[]): number[] {
  const own = idsOf(db, 'search').filter((id) => {
    const surname = currentRow(db, kindNamed('search'), id)?.['surname'];
    return typeof surname === 'string' && surnames.has(foldName(surname));
  });
  return [...own, ...asked];
}

/** Facts of the house's own shelf that records name. */
function factsNamed(db: Db, records: readonly (readonly [KindName, number])[]): number[] {
  const names = new Set(records.map(([kind, id]) => currentRow(db, kindNamed(kind), id)?.['fact']));
  return idsOf(db, 'fact').filter((id) => names.has(currentRow(db, kindNamed('fact'), id)?.['name'] ?? ''));
}

/** What the chosen records refer to, and what that refers to in its turn. */
function addReferred(
  db: Db,
  ids: ReadonlyMap<KindName, ReadonlySet<number>>,
  entries: Map<number, EntryRow>,
  add: (kind: KindName, more: Iterable<number>) => void,
): void {
  const order = [...exportOrder()].reverse();
  for (let before = -1, now = 0; before !== now; ) {
    before = now;
    for (const name of order) {
      const kind = kindNamed(name);
      for (const id of ids.get(name) ?? []) {
        const row: Readonly<Record<string, unknown>> | undefined =
          name === 'entry' ? (entries.get(id) ?? entryById(db, id)) : currentRow(db, kind, id);
        if (name === 'entry' && row !== undefined && !entries.has(id)) entries.set(id, row as EntryRow);
        for (const field of kind.fields) {
          const cell = row?.[field.column];
          if (field.type === 'ref' && typeof cell === 'number') add(field.to, [cell]);
          const named = field.type === 'any-ref' && typeof cell === 'string' ? parseId(cell) : undefined;
          if (named) add(named.kind.kind, [named.row]);
        }
      }
    }
    now = [...ids.values()].reduce((sum, each) => sum + each.size, 0);
  }
}

/** The chosen records as others read them, what is referred to before what refers to it. */
function written(db: Db, { ids, entries }: Chosen): ExportedRecord[] {
  const read = recordReader(db);
  const book = keyBook();
  return exportOrder().flatMap((name) => {
    const kind = kindNamed(name);
    const rows = [...(ids.get(name) ?? [])]
      .sort((a, b) => a - b)
      .flatMap((id): WholeRecord[] => {
        const row = name === 'entry' ? entries.get(id) : currentRow(db, kind, id);
        return row === undefined ? [] : [read.row(kind, row)];
      });
    const keyed = rows.map((record) => {
      const first = record.row === record.id ? record : (read.version(kind, record.id) ?? record);
      return { record, key: book.make(kind, record, first) };
    });
    for (const { record, key } of keyed) book.remember(kind, record.id, key);
    return keyed.map(({ record, key }): ExportedRecord => ({ type: name, key, fields: book.named(kind, record) }));
  });
}
