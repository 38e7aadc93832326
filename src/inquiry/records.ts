import { HeldbyError } from '../errors.ts';
import { type Bearing, bearingReader } from '../ledger/bearers.ts';
import type { Kind } from '../ledger/kind.ts';
import { kindNamed, parseId } from '../ledger/kinds.ts';
import type { Db } from '../ledger/open.ts';
import { type PersonName, personName, samePeople } from '../ledger/people.ts';
import { photoPath, photosOf } from '../ledger/photos.ts';
import { currentRecords, idsNaming, readRecord, type ShownRecord } from '../ledger/reading-records.ts';
import { restingOn } from '../ledger/records.ts';
import { resolveAny, resolveRef } from '../ledger/refs.ts';
import { type ActRow, actsOfRecord } from '../ledger/undo.ts';
import { fold } from '../services/fold.ts';
import { besideEntry } from './find-beside.ts';

/** Whose an entry is, by which link and why; null where it is nobody's yet. */
export type Borne = { readonly person: PersonName | null; readonly link: string | null; readonly why: string | null };

export type RecordAnswer = {
  readonly record: ShownRecord;
  /** Of an entry. */
  readonly borne?: Borne;
  /** What the records are called to which its fields refer. */
  readonly about: Readonly<Record<string, string>>;
  readonly resting: readonly string[];
  readonly neighbours: readonly { readonly title: string; readonly items: readonly string[] }[];
  readonly acts: readonly ActRow[];
};

/** One record with what is around it. */
export function recordShown(db: Db, words: string): RecordAnswer {
  const id = parseId(resolveAny(db, words));
  const record = id && readRecord(db, id.kind, id.row);
  if (!id || !record)
    throw new HeldbyError('REFERENCE', `There is no record "${words}".`, 'Look it up: heldby list KIND');
  return {
    record,
    ...(id.kind.kind === 'entry' ? { borne: borneBy(db, record) } : {}),
    about: calledFields(db, id.kind, record),
    resting: restingOn(db, id.kind, id.row),
    neighbours:
      id.kind.kind === 'entry'
        ? besideInLines(db, id.row)
        : [
            ...(id.kind.kind === 'person' ? otherRecords(db, id.row) : []),
            ...around(db, id.kind, id.row),
            ...pictures(db, record),
          ],
    acts: actsOfRecord(db, id.kind.table, id.row),
  };
}

function bearingOf(db: Db, { id, fields }: ShownRecord): Bearing {
  const recorded = typeof fields['person'] === 'string' ? parseId(fields['person'])?.row : undefined;
  return bearingReader(db)(Number(id.slice(1)), recorded);
}

function bearerId(db: Db, record: ShownRecord): string | undefined {
  const { person } = bearingOf(db, record);
  return person === undefined ? undefined : `p${person}`;
}

function borneBy(db: Db, record: ShownRecord): Borne {
  const { person, decision } = bearingOf(db, record);
  return {
    person: person === undefined ? null : personName(db, person),
    link: decision?.link ?? null,
    why: decision?.why ?? null,
  };
}

export type ListedRecord = ShownRecord & {
  readonly called: string;
  /** Of an entry: the person whose it is now. */
  readonly borneBy?: string | null;
};

/** The records of a kind whose fields hold the words asked for; a field that is a reference takes any words for it. */
export function listOf(
  db: Db,
  kind: Kind,
  filters: readonly { readonly field: string; readonly value: string }[],
  limit: number,
): { kind: string; total: number; records: ListedRecord[] } {
  const tests = filters.map(({ field, value }) => testFor(db, kind, field, value));
  const records: ListedRecord[] = [];
  let total = 0;
  for (const record of currentRecords(db, kind)) {
    if (!tests.every((test) => test(record))) continue;
    total += 1;
    if (records.length >= limit) continue;
    const called = calledRecord(db, kind, record);
    records.push({ ...record, called, ...(kind.kind === 'entry' ? { borneBy: bearerId(db, record) ?? null } : {}) });
  }
  return { kind: kind.kind, total, records };
}

function testFor(db: Db, kind: Kind, name: string, value: string): (record: ShownRecord) => boolean {
  const field = kind.fields.find((each) => each.name === name);
  if (field?.type === 'ref') {
    const id = `${kindNamed(field.to).prefix}${resolveRef(db, kindNamed(field.to), value)}`;
    if (kind.kind === 'entry' && name === 'person') return (record) => bearerId(db, record) === id;
    return (record) => record.fields[name] === id;
  }
  const known = field !== undefined || ['id', 'key', 'surname', 'forenames', 'service'].includes(name);
  if (!known)
    throw new HeldbyError(
      'USAGE',
      `${kind.called.charAt(0).toUpperCase()}${kind.called.slice(1)} has no field ${name}.`,
      `Its fields: ${kind.fields.map((each) => each.name).join(', ')}.`,
    );
  const wanted = fold(value);
  return (record) => {
    const said = name === 'id' ? record.id : name === 'key' ? record.key : record.fields[name];
    return (
      said !== undefined && said !== null && fold(Array.isArray(said) ? said.join(' ') : String(said)).includes(wanted)
    );
  };
}

/** A record in one line. */
export function calledRecord(db: Db, kind: Kind, record: ShownRecord): string {
  const { fields } = record;
  const f = (name: string): string =>
    fields[name] === undefined ? '' : Array.isArray(fields[name]) ? fields[name].join(', ') : String(fields[name]);
  const r = (name: string): string => (fields[name] === undefined ? '' : calledId(db, f(name)));
  const join = (...parts: string[]): string => parts.filter((part) => part !== '').join(', ');
  switch (kind.kind) {
    case 'series':
      return join(f('name'), f('service'), fields['lagDays'] === undefined ? '' : `lags up to ${f('lagDays')} days`);
    case 'edition':
      return join(`${r('series')} ${f('label')}`, `as at ${f('asAt')}`);
    case 'person':
      return join(
        personCalled(fields),
        fields['born'] === undefined ? '' : `born ${f('born')}`,
        fields['died'] === undefined ? '' : `died ${f('died')}`,
        f('places'),
      );
    case 'name':
      return join(
        `${r('person')}: ${personCalled(fields)}`,
        fields['from'] === undefined ? '' : `from ${f('from')}`,
        fields['to'] === undefined ? '' : `to ${f('to')}`,
      );
    case 'entry':
      return join(
        f('name'),
        f('rank'),
        f('corps'),
        fields['dated'] === undefined ? '' : `dated ${f('dated')}`,
        r('edition'),
        fields['page'] === undefined ? '' : `p. ${f('page')}`,
        fields['kind'] === 'substantive' ? '' : f('kind'),
        bearerCalled(db, record),
      );
    case 'search':
      return fields['outcome'] === 'not found'
        ? `${r('person')} not found in ${r('edition')}`
        : join(
            `every ${f('surname')} taken from ${r('edition')}`,
            fields['found'] === undefined ? '' : `${f('found')} found`,
          );
    case 'notice':
      return join(
        `${r('person')} ${f('event')}`,
        f('date'),
        f('rank'),
        f('corps'),
        fields['vice'] === undefined ? '' : `vice ${r('vice')}`,
        f('source'),
      );
    case 'object':
      return join(f('ref'), f('title'));
    case 'feature':
      return join(
        `${r('object')}: ${f('text')}`,
        f('window'),
        f('force') === 'hard' ? 'hard' : f('weight'),
        f('state'),
      );
    case 'mark':
      return join(`“${f('text')}”`, f('role'), f('technique'), f('where'), `on ${r('object')}`);
    case 'clue':
      return join(
        `${f('mark')}: “${f('text')}”`,
        f('window'),
        f('force') === 'usual' ? f('weight') : f('force'),
        f('fact'),
      );
    case 'fact':
      return join(`${f('name')}: ${f('text')}`, f('window'), f('force') === 'usual' ? f('weight') : f('force'));
    case 'reading':
      return join(`${f('mark')}: “${f('text')}”`, f('by'));
    case 'kin':
      return `${r('relative')} is ${f('relation')} of ${r('person')}`;
    case 'same':
      return `${r('person')} and ${r('other')} are one`;
    case 'differ':
      return `${r('person')} and ${r('other')} are not one`;
    case 'attribution':
      return join(`${f('mark')} to ${r('person')}`, f('grade'), f('why'));
    default:
      return join(...Object.values(fields).map((value) => (Array.isArray(value) ? value.join(', ') : String(value))));
  }
}

function bearerCalled(db: Db, record: ShownRecord): string {
  const bearer = bearerId(db, record);
  return bearer === undefined ? 'not placed' : `${bearer} ${calledId(db, bearer)}`;
}

const personCalled = (fields: ShownRecord['fields']): string =>
  [fields['forenames'], fields['surname'], fields['suffix']].filter((part) => part !== undefined).join(' ');

/** What a record is called where another refers to it. */
function calledId(db: Db, id: string): string {
  const parsed = parseId(id);
  const record = parsed && readRecord(db, parsed.kind, parsed.row);
  if (!parsed || !record) return id;
  switch (parsed.kind.kind) {
    case 'series':
      return String(record.fields['name']);
    case 'edition':
      return `${calledId(db, String(record.fields['series']))} ${record.fields['label']}`;
    case 'person':
      return personCalled(record.fields);
    case 'object':
      return String(record.fields['ref']);
    default:
      return id;
  }
}

function calledFields(db: Db, kind: Kind, record: ShownRecord): Record<string, string> {
  const called: Record<string, string> = {};
  for (const field of kind.fields) {
    const value = record.fields[field.name];
    if (field.type !== 'ref' || typeof value !== 'string') continue;
    const words = calledId(db, value);
    if (words !== value) called[field.name] = words;
  }
  return called;
}

/** What lies around a record: what a person's names are, an object's features and marks, a mark's readings. */
function around(db: Db, kind: Kind, row: number): { title: string; items: string[] }[] {
  const lists: Partial<Record<Kind['kind'], readonly (readonly [string, Kind['kind'], string])[]>> = {
    person: [
      ['Other names', 'name', 'person_id'],
      ['Notices', 'notice', 'person_id'],
      ['Searches', 'search', 'person_id'],
      ['Kin', 'kin', 'person_id'],
    ],
    object: [
      ['Features', 'feature', 'object_id'],
      ['Marks', 'mark', 'object_id'],
    ],
    mark: [
      ['Readings', 'reading', 'mark_id'],
      ['Clues', 'clue', 'mark_id'],
      ['Attributions', 'attribution', 'mark_id'],
    ],
    series: [['Editions', 'edition', 'series_id']],
  };
  return (lists[kind.kind] ?? []).flatMap(([title, other, column]) => {
    const ids = idsNaming(db, kindNamed(other), column, row);
    const items = ids.flatMap((id) => {
      const record = readRecord(db, kindNamed(other), id);
      return record ? [`${record.id}  ${calledRecord(db, kindNamed(other), record)}`] : [];
    });
    return items.length === 0 ? [] : [{ title, items }];
  });
}

/** Other records of one person, and those of whom it is decided that they are somebody else. */
function otherRecords(db: Db, row: number): { title: string; items: string[] }[] {
  const called = (person: number): string => `p${person}  ${personName(db, person).name}`;
  const differ = kindNamed('differ');
  const apart = ['person_id', 'other_id'].flatMap((column) =>
    idsNaming(db, differ, column, row).flatMap((id) => {
      const { person, other } = readRecord(db, differ, id)?.fields ?? {};
      const them = parseId(String(person === `p${row}` ? other : person))?.row;
      return them === undefined ? [] : [`${called(them)}  (df${id})`];
    }),
  );
  const same = samePeople(db)(row).filter((person) => person !== row);
  return [
    { title: 'Recorded as one person with', items: same.map(called) },
    { title: 'Recorded as somebody else than', items: apart },
  ].filter(({ items }) => items.length > 0);
}

/** The pictures of a mark or an object; of a picture, where its copy is kept. */
function pictures(db: Db, { id, type, fields }: ShownRecord): { title: string; items: string[] }[] {
  const { sha256 } = fields;
  const items =
    type === 'mark' || type === 'object'
      ? photosOf(db, id).map((photo) => `ph${photo.id}  ${photo.file}`)
      : type === 'photo' && typeof sha256 === 'string'
        ? [photoPath(db.name, sha256)]
        : [];
  return items.length === 0 ? [] : [{ title: type === 'photo' ? 'Kept as' : 'Pictures', items }];
}

/** The lines printed before and after an entry, and those of the same person in the editions before and after. */
function besideInLines(db: Db, row: number): { title: string; items: string[] }[] {
  const entry = kindNamed('entry');
  const beside = besideEntry(db, row).flatMap(({ how, row: other }) => {
    const record = readRecord(db, entry, other);
    return record ? [{ how, item: `${record.id}  ${calledRecord(db, entry, record)}` }] : [];
  });
  return [
    { title: 'In the edition', hows: ['before', 'after'] as const },
    { title: 'The same person', hows: ['one edition earlier', 'one edition later'] as const },
  ].flatMap(({ title, hows }) => {
    const items = beside
      .filter(({ how }) => hows.some((each) => each === how))
      .map(({ how, item }) => `${how}: ${item}`);
    return items.length === 0 ? [] : [{ title, items }];
  });
}
