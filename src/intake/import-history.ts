import { HeldbyError, isFaultOfInput } from '../errors.ts';
import { isContentKey } from '../ledger/content-key.ts';
import { type ActOrigin, record } from '../ledger/journal.ts';
import type { Kind } from '../ledger/kind.ts';
import { findKind, KINDS, kindNamed, parseId } from '../ledger/kinds.ts';
import type { Db } from '../ledger/open.ts';
import { type Draft, type Recording, recording } from '../ledger/recording.ts';
import { addRecord, amendRecord, withdrawRecord } from '../ledger/records.ts';
import { addSourceFile } from '../ledger/source-files.ts';
import { refreshSurnameIndex } from '../ledger/surname-search.ts';
import { lastActId, undoAct } from '../ledger/undo.ts';
import { type PictureNote, type Pictures, withPicture } from './pictures.ts';

export type HistoryEntry = {
  readonly number: number;
  readonly type: string;
  readonly fields: Readonly<Record<string, unknown>>;
};
export type HistoryAct = { readonly head: HistoryEntry; readonly lines: readonly HistoryEntry[] };

/** Whether a text is a history: its first line is an act. */
export const isHistory = (text: string): boolean => /^\ufeff?\s*\{\s*"type"\s*:\s*"act"/.test(text);

/**
 * Records a history again, act by act: with the number, the day, the person, the command and the reason that each had,
 * also those that were undone. All of it or nothing, and into an empty ledger only.
 * @throws HeldbyError CONFLICT where the ledger holds anything; INPUT_FILE with the line that cannot be recorded.
 */
export function importHistory(
  db: Db,
  text: string,
  dryRun = false,
  pictures: Pictures = { file: undefined, keep: false },
  note: PictureNote = () => {},
): { readonly acts: number; readonly records: number } {
  if (lastActId(db) > 0)
    throw new HeldbyError(
      'CONFLICT',
      'A history can be read into an empty ledger only.',
      'Make one and name it: heldby init NEW.sqlite, then heldby --ledger NEW.sqlite import FILE',
    );
  const acts = actsIn(text);
  const ids = new Map<string, string>();
  let records = 0;
  class DryRun extends Error {}
  try {
    db.transaction(() => {
      for (const act of acts)
        records += recordActAgain(db, act, ids, (draft) => withPicture(db, draft, pictures, note));
      if (dryRun) throw new DryRun();
    })();
  } catch (error) {
    if (!(error instanceof DryRun)) throw error;
  }
  refreshSurnameIndex(db);
  return { acts: acts.length, records };
}

/** The acts of a history. @throws HeldbyError INPUT_FILE */
export function actsIn(text: string): HistoryAct[] {
  const acts: { head: HistoryEntry; lines: HistoryEntry[] }[] = [];
  for (const [index, source] of text
    .replace(/^\ufeff/, '')
    .split('\n')
    .entries()) {
    if (source.trim() === '') continue;
    const line = lineOf(source, index + 1);
    if (line.type === 'act') acts.push({ head: line, lines: [] });
    else acts.at(-1)?.lines.push(line);
  }
  return acts;
}

function lineOf(source: string, number: number): HistoryEntry {
  let value: unknown;
  try {
    value = JSON.parse(source);
  } catch {
    value = undefined;
  }
  if (typeof value !== 'object' || value === null || Array.isArray(value))
    throw atLine(number, 'The line is no JSON object.', 'Write the history again: heldby export --all --acts');
  const { type, ...fields } = value as Record<string, unknown>;
  return { number, type: String(type), fields };
}

function recordActAgain(
  db: Db,
  { head, lines }: HistoryAct,
  ids: Map<string, string>,
  pictured: (draft: Draft) => Draft,
): number {
  const undoes = head.fields['undoes'];
  const target = typeof undoes === 'number' ? undoes : undefined;
  const { act } = record(
    db,
    originOf(head),
    (sealed) => {
      const into = recording(db, sealed);
      if (target !== undefined) inPlace(head.number, () => undoAct(db, sealed, target));
      for (const line of grouped(lines))
        inPlace(line.number, () =>
          recordLine(into, line.type === 'photo' ? { ...line, fields: pictured(line.fields) } : line, ids),
        );
      for (const file of filesIn(head)) addSourceFile(into, file);
    },
    target === undefined ? {} : { undoes: target },
  );
  if (act?.id !== head.fields['act'])
    throw atLine(head.number, `The act would have another number than ${head.fields['act']}.`, 'The file has a gap.');
  return lines.length;
}

/** Who recorded an act, when, with what command and why. @throws HeldbyError INPUT_FILE */
export function originOf({ number, fields }: HistoryEntry): ActOrigin {
  const text = (name: string): string => {
    const value = fields[name];
    if (typeof value !== 'string') throw atLine(number, `The act does not say ${name}.`, 'The file is not whole.');
    return value;
  };
  const why = fields['why'];
  return {
    at: text('at'),
    who: text('who'),
    command: text('command'),
    why: typeof why === 'string' ? why : undefined,
    program: text('program'),
  };
}

/** Files that an act imported. */
export function filesIn({ fields }: HistoryEntry): { name: string; sha256: string; options: string }[] {
  const files = Array.isArray(fields['files']) ? (fields['files'] as Record<string, unknown>[]) : [];
  return files.map((file) => ({
    name: String(file['name']),
    sha256: String(file['sha256']),
    options: String(file['options']),
  }));
}

type NameValue = Readonly<Record<string, string | null>>;
const isName = (value: unknown): value is NameValue =>
  typeof value === 'object' && value !== null && 'printed' in value && 'surname' in value;

/** A name stands with its parts as they were told apart. */
const partsOf = (field: string, { printed, ...parts }: NameValue): Record<string, unknown> => ({
  [field]: printed,
  ...Object.fromEntries(Object.entries(parts).filter(([, part]) => part !== null)),
});

/** Corrections of several fields of one record, one after the other, are one version of it. */
export function grouped(lines: readonly HistoryEntry[]): HistoryEntry[] {
  const groups: HistoryEntry[] = [];
  for (const line of lines) {
    if (line.type !== 'amendment') {
      groups.push(line);
      continue;
    }
    const { record: named, field, value, asPrinted, why } = line.fields;
    const change = {
      ...(isName(value) ? partsOf(String(field), value) : { [String(field)]: value ?? null }),
      ...(asPrinted === undefined ? {} : { [`${String(field)}AsPrinted`]: asPrinted }),
    };
    const last = groups.at(-1);
    if (
      last?.type === 'amendment' &&
      last.fields['record'] === named &&
      !(String(field) in Object(last.fields['change']))
    ) {
      const together = { ...(last.fields['change'] as object), ...change };
      groups[groups.length - 1] = { ...last, fields: { ...last.fields, change: together } };
    } else groups.push({ number: line.number, type: line.type, fields: { record: named, why, change } });
  }
  return groups;
}

function recordLine(into: Recording, { type, fields }: HistoryEntry, ids: Map<string, string>): void {
  if (type === 'amendment' || type === 'withdrawal') {
    const id = parseId(idOf(ids, KINDS, String(fields['record'])));
    if (!id) throw new HeldbyError('REFERENCE', `There is no record ${fields['record']}.`, 'The file is not whole.');
    const why = typeof fields['why'] === 'string' ? fields['why'] : null;
    if (type === 'withdrawal') withdrawRecord(into, id.kind, id.row, why);
    else amendRecord(into, id.kind, id.row, withIds(ids, id.kind, fields['change'] as Draft), why);
    return;
  }
  const kind = findKind(type);
  if (!kind) throw new HeldbyError('VALUE', `There is no type of record "${type}".`, 'The file is of another program.');
  const { key, ownKey, ...draft } = fields;
  // One that was made to write the record is no key of the record's.
  const told = typeof key !== 'string' || isContentKey(key, kind, draft) ? null : key;
  const own = typeof ownKey === 'string' ? ownKey : told;
  const id = addRecord(into, kind, withIds(ids, kind, draft), own);
  ids.set(`${kind.kind} ${key}`, id);
}

/** Fields with the numbers of this ledger where they name other records of the history. */
function withIds(ids: ReadonlyMap<string, string>, kind: Kind, draft: Draft): Draft {
  const known: Record<string, unknown> = { ...draft };
  for (const field of kind.fields) {
    const words = known[field.name];
    if (typeof words !== 'string') continue;
    if (field.type === 'ref') known[field.name] = idOf(ids, [kindNamed(field.to)], words);
    else if (field.type === 'any-ref')
      known[field.name] = idOf(ids, field.to === 'all' ? KINDS : field.to.map(kindNamed), words);
  }
  return known;
}

/** `person 214` names the kind where a key is used in several. */
function idOf(ids: ReadonlyMap<string, string>, kinds: readonly Kind[], words: string): string {
  const [only, another] = kinds.flatMap(({ kind }) => ids.get(`${kind} ${words}`) ?? []);
  return (another === undefined ? only : undefined) ?? ids.get(words) ?? words;
}

/** @throws HeldbyError with the line of the file. */
export function inPlace(number: number, work: () => void): void {
  try {
    work();
  } catch (error) {
    if (!isFaultOfInput(error)) throw error;
    throw atLine(number, error.message, error.hint);
  }
}

const atLine = (number: number, message: string, hint: string): HeldbyError =>
  new HeldbyError('INPUT_FILE', `Line ${number}: ${message}`, `Nothing was recorded. ${hint}`, `line ${number}`);
