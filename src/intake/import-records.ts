import { HeldbyError, isFaultOfInput } from '../errors.ts';
import { bearingReader } from '../ledger/bearers.ts';
import type { Kind } from '../ledger/kind.ts';
import { findKind, KINDS, kindNamed, parseId } from '../ledger/kinds.ts';
import type { Db } from '../ledger/open.ts';
import { printedNameOf } from '../ledger/people.ts';
import type { Draft, Recording } from '../ledger/recording.ts';
import {
  addRecord,
  amendRecord,
  currentRow,
  hasSaid,
  isKnown,
  isWithdrawn,
  keepNumbers,
  withdrawRecord,
} from '../ledger/records.ts';
import { idOfKey, resolveAny, resolveRef } from '../ledger/refs.ts';
import { GIVEN_DATE_OPTIONS } from '../time/given-options.ts';
import { FileFaults } from './accept-good-faults.ts';
import { type Pictures, withPicture } from './pictures.ts';

export type RecordsImport = {
  readonly added: ReadonlyMap<string, number>;
  readonly known: number;
  /** Entries recorded of which nothing in the file says whose they are. */
  readonly unplaced: number;
  /** What is worth knowing: pictures of which no copy is kept. */
  readonly notes: readonly string[];
};

export type Line = {
  readonly number: number;
  readonly type: string;
  readonly key: string | null;
  readonly draft: Draft;
};

const FAULTS_SHOWN = 10;
/** Beyond so many it is no use to go on: the file is not what it is taken for. */
const FAULTS_KEPT = 10_000;

/**
 * Records of any kind from JSON Lines: one object a line, `type` first, `key` the sender's own name for it. Lines may
 * refer to each other by key in any order. A record that the ledger has already is passed over.
 * @throws HeldbyError INPUT_FILE: the first ten faults by line and field.
 */
export function importRecords(
  into: Recording,
  text: string,
  pictures: Pictures = { file: undefined, keep: false },
): RecordsImport {
  const notes: string[] = [];
  const faults: { line: number; error: HeldbyError }[] = [];
  const lines = parseLines(text, faults);
  const doubled = refuseDoubledKeys(lines, faults);
  const added = new Map<string, number>();
  let known = 0;
  const own: OwnKeys = new Map();
  const withoutPerson: number[] = [];
  const pictured = (line: Line): Line => {
    if (line.type !== 'photo') return line;
    const draft = withPicture(into.db, line.draft, pictures, (note) => notes.push(note), line.key);
    completePicture(into, line.key, draft);
    return { ...line, draft };
  };
  const recorded = numberedFirst(
    into,
    lines.map((each) => (doubled.has(each) ? { ...each, key: null } : each)),
  );
  for (const line of inOrder(recorded)) {
    try {
      if (recordLine(into, pictured(line), own, withoutPerson)) added.set(line.type, (added.get(line.type) ?? 0) + 1);
      else known += 1;
    } catch (error) {
      if (!isFaultOfInput(error)) throw error;
      faults.push({ line: line.number, error });
      if (faults.length > FAULTS_KEPT) break;
    }
  }
  throwFaults(faults);
  into.act.flush();
  const bearing = bearingReader(into.db);
  const unplaced = withoutPerson.filter((id) => bearing(id, undefined).person === undefined).length;
  return { added, known, unplaced, notes };
}

/** Ids of the records of this file by kind and key: a key of the file means its own record, whatever ids there are. */
type OwnKeys = Map<string, string>;

/**
 * Lines whose keys are to be their ids too (`p7`) change places with others of their kind, so that they come before
 * these, in the order of the ids; all else stays where it is.
 */
function numberedFirst(into: Recording, lines: readonly Line[]): Line[] {
  const ordered = [...lines];
  const placesOf = new Map<string, number[]>();
  for (const [place, { type }] of lines.entries()) {
    const places = placesOf.get(type);
    if (places) places.push(place);
    else placesOf.set(type, [place]);
  }
  for (const kind of KINDS) {
    const places = placesOf.get(kind.kind) ?? [];
    const own = new Map(places.map((place) => [lines[place]?.key ?? `line ${place}`, lines[place] as Line]));
    const numbers = keepNumbers(into, kind, own.keys());
    if (numbers.size === 0) continue;
    const numbered = new Set([...numbers.keys()].map((key) => own.get(key) as Line));
    const rest = places.map((place) => lines[place] as Line).filter((line) => !numbered.has(line));
    for (const [at, line] of [...numbered, ...rest].entries()) ordered[places[at] as number] = line;
  }
  return ordered;
}

/** Two lines that say the same are one record; two that say different things cannot have one key. */
export function refuseDoubledKeys(
  lines: readonly Line[],
  faults: { line: number; error: HeldbyError }[],
): ReadonlySet<Line> {
  const doubled = new Set<Line>();
  const first = new Map<string, Line>();
  for (const line of lines) {
    if (line.key === null || line.type === 'amendment' || line.type === 'withdrawal') continue;
    const name = `${line.type} ${line.key}`;
    const other = first.get(name);
    if (other === undefined) first.set(name, line);
    else if (JSON.stringify(other.draft) !== JSON.stringify(line.draft)) {
      doubled.add(line);
      faults.push({
        line: line.number,
        error: new HeldbyError(
          'INPUT_FILE',
          `The key "${line.key}" stands on line ${other.number} too, for something else.`,
          'Give one of the two another key.',
          'key',
        ),
      });
    }
  }
  return doubled;
}

/** A picture that was recorded without a copy, and comes now. */
function completePicture(into: Recording, key: string | null, { sha256, bytes }: Draft): void {
  const photo = kindNamed('photo');
  const id = key === null || sha256 === undefined ? undefined : parseId(idOfKey(into.db, photo, key) ?? '');
  if (id === undefined || currentRow(into.db, photo, id.row)?.['sha256'] !== null) return;
  amendRecord(into, photo, id.row, { sha256, bytes }, 'its picture came');
}

/** True when the line was recorded, false when the ledger knows it. */
function recordLine(into: Recording, line: Line, own: OwnKeys, withoutPerson: number[]): boolean {
  if (line.type === 'amendment' || line.type === 'withdrawal') {
    const record = line.draft['record'];
    return correctionLine(into, {
      ...line,
      draft: { ...line.draft, ...(typeof record === 'string' ? { record: ownId(into.db, own, KINDS, record) } : {}) },
    });
  }
  const kind = kindOf(line);
  const draft: Record<string, unknown> = { ...line.draft };
  for (const field of kind.fields) {
    const words = draft[field.name];
    if (typeof words !== 'string') continue;
    if (field.type === 'ref') draft[field.name] = ownId(into.db, own, [kindNamed(field.to)], words);
    else if (field.type === 'any-ref')
      draft[field.name] = ownId(into.db, own, field.to === 'all' ? KINDS : field.to.map(kindNamed), words);
  }
  if (kind.kind === 'entry') nameBearer(into, draft);
  const isNew = !isKnown(into, kind, draft, line.key);
  const id = isNew
    ? addRecord(into, kind, draft, line.key)
    : line.key === null
      ? undefined
      : idOfKey(into.db, kind, line.key);
  if (isNew && id !== undefined && kind.kind === 'entry' && !draft['person']) withoutPerson.push(Number(id.slice(1)));
  if (line.key !== null && id !== undefined) own.set(`${kind.kind} ${line.key}`, id);
  return isNew;
}

/** An entry that says who is listed, but not how the line is printed, has the name that the person is recorded under. */
function nameBearer(into: Recording, draft: Record<string, unknown>): void {
  const { person } = draft;
  const isNamed = [draft['name'], draft['surname']].some((name) => name !== undefined && name !== null && name !== '');
  if (isNamed || typeof person !== 'string') return;
  into.act.flush();
  draft['name'] = printedNameOf(into.db, resolveRef(into.db, kindNamed('person'), person));
}

/**
 * The id that stands for a key of this file; `person 214` names the kind where a key is used in several. Lines name each
 * other by their sender's keys, also in a later file: what looks like an id (`p1`) is first taken for such a key.
 */
function ownId(db: Db, own: OwnKeys, kinds: readonly Kind[], words: string): string {
  const found = kinds.flatMap(({ kind }) => own.get(`${kind} ${words}`) ?? []);
  const [only, another] = found;
  const inFile = (another === undefined ? only : undefined) ?? own.get(words);
  if (inFile !== undefined || parseId(words) === undefined) return inFile ?? words;
  const [recorded, more] = kinds.flatMap((kind) => idOfKey(db, kind, words) ?? []);
  return (more === undefined ? recorded : undefined) ?? words;
}

function correctionLine(into: Recording, { type, draft }: Line): boolean {
  const reference = draft['record'];
  if (typeof reference !== 'string')
    throw new HeldbyError('VALUE', `An ${type} names the record it is about.`, 'Give "record".', 'record');
  const why = typeof draft['why'] === 'string' ? draft['why'].trim() : '';
  if (why === '') throw new HeldbyError('VALUE', `An ${type} needs its reason.`, 'Give "why".', 'why');
  if (isWithdrawn(into.db, reference)) return false;
  const id = parseId(resolveAny(into.db, reference));
  if (!id) throw new HeldbyError('REFERENCE', `There is no record ${reference}.`, 'Give its key.', 'record');
  if (type === 'withdrawal') {
    withdrawRecord(into, id.kind, id.row, why);
    return true;
  }
  if (typeof draft['field'] !== 'string')
    throw new HeldbyError('VALUE', 'An amendment names the field.', 'Give "field".', 'field');
  const change = changeSaid(id.kind, draft['field'], draft);
  // Said before, now or in a version since corrected again.
  if (hasSaid(into, id.kind, id.row, change)) return false;
  return amendRecord(into, id.kind, id.row, change, why);
}

/** The correction of a field, with what the page prints and how dates are written where the field is a date. */
function changeSaid(kind: Kind, name: string, draft: Draft): Draft {
  const isDate = kind.fields.some((field) => field.name === name && field.type === 'date');
  const beside = isDate ? ['asPrinted', ...GIVEN_DATE_OPTIONS] : [];
  const unknown = Object.keys(draft).find((each) => !['record', 'field', 'value', 'why', ...beside].includes(each));
  if (unknown !== undefined)
    throw new HeldbyError(
      'VALUE',
      `An amendment of ${name} has no ${unknown}.`,
      `It has record, field, value and why${isDate ? `, and for a date ${beside.join(', ')}` : ''}.`,
      unknown,
    );
  const change: Record<string, unknown> = { [name]: draft['value'] ?? null };
  for (const each of beside) {
    if (draft[each] !== undefined) change[each === 'asPrinted' ? `${name}AsPrinted` : each] = draft[each];
  }
  return change;
}

export function kindOf(line: Line): Kind {
  const kind = findKind(line.type);
  if (!kind)
    throw new HeldbyError(
      'VALUE',
      `There is no type of record "${line.type}".`,
      'One of: series, edition, person, name, kin, entry, search, notice, object, feature, mark, reading, photo, attribution, assumption …',
      'type',
    );
  return kind;
}

export function parseLines(text: string, faults: { line: number; error: HeldbyError }[]): Line[] {
  const lines: Line[] = [];
  for (const [index, source] of text
    .replace(/^\ufeff/, '')
    .split('\n')
    .entries()) {
    const number = index + 1;
    if (source.trim() === '') continue;
    try {
      lines.push(parseLine(source, number));
    } catch (error) {
      if (!isFaultOfInput(error)) throw error;
      faults.push({ line: number, error });
    }
  }
  return lines;
}

function parseLine(source: string, number: number): Line {
  let value: unknown;
  try {
    value = JSON.parse(source);
  } catch (error) {
    throw new HeldbyError(
      'INPUT_FILE',
      `The line is no JSON (${error instanceof Error ? error.message : 'unreadable'}).`,
      'Write one JSON object a line.',
    );
  }
  if (typeof value !== 'object' || value === null || Array.isArray(value))
    throw new HeldbyError('INPUT_FILE', 'The line is no JSON object.', 'Write {"type":…, …}.');
  const { type, key, ...draft } = value as Record<string, unknown>;
  if (typeof type !== 'string')
    throw new HeldbyError('INPUT_FILE', 'The line has no "type".', 'Write {"type":"person", …}.');
  if (key !== undefined && key !== null && typeof key !== 'string' && typeof key !== 'number')
    throw new HeldbyError('INPUT_FILE', '"key" is not a text.', 'Write it in quotation marks.');
  return { number, type, key: key === undefined || key === null ? null : String(key), draft };
}

/** Every line behind those of the same file that it refers to; corrections last, in the order in which they stand. */
export function inOrder(lines: readonly Line[]): Line[] {
  const byKey = new Map<string, Line>();
  for (const line of lines) if (line.key !== null) byKey.set(`${findKind(line.type)?.kind} ${line.key}`, line);
  const ordered: Line[] = [];
  const seen = new Map<Line, 'open' | 'done'>();
  // A stack of its own: marks can lie over each other further than one function may call another.
  const visit = (first: Line): void => {
    const open = [first];
    for (let line = open.at(-1); line !== undefined; line = open.at(-1)) {
      const state = seen.get(line);
      if (state === undefined) {
        seen.set(line, 'open');
        for (const other of namedBy(line, byKey)) {
          if (seen.get(other) === 'open')
            throw new HeldbyError(
              'INPUT_FILE',
              `Line ${other.number} refers to itself by way of others.`,
              'A mark cannot lie over itself, nor a record rest on itself.',
              `line ${other.number}`,
            );
          if (seen.get(other) === undefined) open.push(other);
        }
        continue;
      }
      open.pop();
      if (state === 'done') continue;
      seen.set(line, 'done');
      ordered.push(line);
    }
  };
  const isLate = (line: Line) => ['amendment', 'withdrawal', 'setAside'].includes(line.type);
  // A service's ranks come before what is read by them, and lists before notices that take their service from them.
  const rankOfType = (line: Line) => ['service', 'rank', 'corps', 'series', 'edition', 'person'].indexOf(line.type);
  const early = lines.filter((line) => rankOfType(line) >= 0).sort((a, b) => rankOfType(a) - rankOfType(b));
  for (const line of early) visit(line);
  for (const line of lines) if (line.type === 'entry') visit(line);
  for (const line of lines) if (!isLate(line)) visit(line);
  for (const line of lines) if (isLate(line)) visit(line);
  return ordered;
}

/** The lines of the same file that a line refers to. */
function namedBy(line: Line, byKey: ReadonlyMap<string, Line>): Line[] {
  return (findKind(line.type)?.fields ?? []).flatMap((field) => {
    const words = line.draft[field.name];
    if (typeof words !== 'string') return [];
    const kinds = field.type === 'ref' ? [field.to] : field.type === 'any-ref' && field.to !== 'all' ? field.to : [];
    return kinds.flatMap((kind) => byKey.get(`${kind} ${words}`) ?? []);
  });
}

export function throwFaults(faults: readonly { line: number; error: HeldbyError }[]): void {
  const [first] = faults;
  if (!first) return;
  const place = ({ line, error }: { line: number; error: HeldbyError }) =>
    `line ${line}${error.where ? `, field ${error.where}` : ''}`;
  const where = place(first);
  const lines = faults.map(({ line, error }) => ({
    line,
    says: `${error.where ? `${error.where}: ` : ''}${error.message} ${error.hint}`,
  }));
  if (faults.length === 1)
    throw new FileFaults(
      `${where.charAt(0).toUpperCase()}${where.slice(1)}: ${first.error.message}`,
      `Nothing was recorded. ${first.error.hint}`,
      where,
      () => lines,
    );
  const shown = faults
    .slice(0, FAULTS_SHOWN)
    .map((fault) => `${place(fault)}: ${fault.error.message} ${fault.error.hint}`);
  const more = faults.length > FAULTS_SHOWN ? ['… and more'] : [];
  throw new FileFaults(
    `The file has faults:\n${[...shown, ...more].join('\n')}`,
    'Mend them and import the file again; nothing was recorded.',
    where,
    () => lines,
  );
}
