import { MARK_ROLES, readRoles, writtenRoles } from '../dating/mark-roles.ts';
import { HeldbyError } from '../errors.ts';
import { dateOptionsOf, GIVEN_DATE_OPTIONS } from '../time/given-options.ts';
import type { DateOptions } from '../time/reading-options.ts';
import { type Day, NO_END, NO_START } from '../time/span.ts';
import { checkedAssumption } from './assumed.ts';
import type { NameParts } from './dictionary.ts';
import type { Cell } from './journal.ts';
import type { Field, Kind } from './kind.ts';
import { kindNamed } from './kinds.ts';
import type { Db } from './open.ts';
import type { Draft, Recording } from './recording.ts';
import { resolveAny, resolveRef } from './refs.ts';
import { datesOfEdition, datesOfSeries, nearer } from './series-dates.ts';

/** The stored cells of a draft. `partial`: only the fields that it names, the others being known from `context`. */
export function cellsOf(
  into: Recording,
  kind: Kind,
  draft: Draft,
  given: { partial: boolean; context?: Record<string, Cell> } = { partial: false },
): Record<string, Cell> {
  refuseUnknownFields(kind, draft);
  const cells: Record<string, Cell> = {};
  for (const field of kind.fields) {
    const name = nameDraft(kind, field, draft);
    const value = name === undefined ? draft[field.name] : name;
    if (given.partial && value === undefined) continue;
    const isSilent = value === undefined || value === null || (typeof value === 'string' && value.trim() === '');
    if (isSilent && cells[field.column] !== undefined) continue; // the words of the rank said how it was held
    const said = isSilent ? (field.otherwise ?? null) : value;
    if (said === null && typeof draft[`${field.name}AsPrinted`] === 'string')
      throw new HeldbyError(
        'VALUE',
        `It is said what the page prints for ${field.name}, but not what is meant.`,
        `Give ${field.name} too.`,
        field.name,
      );
    if (said === null) {
      if (field.required)
        throw new HeldbyError('VALUE', `${cap(kind.called)} needs its ${field.name}.`, needsHint(field), field.name);
      cells[field.column] = null;
      continue;
    }
    cells[field.column] = cellOf(into, kind, field, said, draft, cells, given.context);
  }
  if (kind.kind === 'assumption' && typeof cells['name'] === 'string' && typeof cells['value'] === 'string')
    cells['value'] = checkedAssumption(cells['name'], cells['value']);
  // What follows reads the words that were just added to the dictionaries.
  into.act.flush();
  return cells;
}

function cellOf(
  into: Recording,
  kind: Kind,
  field: Field,
  value: unknown,
  draft: Draft,
  cells: Record<string, Cell>,
  context: Record<string, Cell> | undefined,
): Cell {
  const { words, db } = into;
  if (field.type === 'name' && value instanceof GivenName) {
    return words.name(value.printed, value.parts).id;
  }
  if (field.type === 'texts') {
    const list = (Array.isArray(value) ? value : [value]).map((each) => plainText(kind, field, each));
    return list.length === 0 ? null : JSON.stringify(list.map((each) => each.normalize('NFC').trim()));
  }
  const text = plainText(kind, field, field.type === 'roles' ? rolesGiven(value) : value)
    .normalize('NFC')
    .trim();
  switch (field.type) {
    case 'text':
      return text;
    case 'whole': {
      if (!/^\d{1,9}$/.test(text))
        throw new HeldbyError(
          'VALUE',
          `${field.name} is a whole number, not "${text}".`,
          'Write digits only.',
          field.name,
        );
      return Number(text);
    }
    case 'choice': {
      if (!field.of.includes(text))
        throw new HeldbyError(
          'VALUE',
          `${field.name} cannot be "${text}".`,
          `One of: ${field.of.join(', ')}.`,
          field.name,
        );
      return text;
    }
    case 'roles': {
      const roles = readRoles(text);
      if ('fault' in roles) throw new HeldbyError('VALUE', `${cap(roles.fault)}.`, roles.hint, field.name);
      return writtenRoles(roles);
    }
    case 'date': {
      const printed = draft[`${field.name}AsPrinted`];
      const options = datesFor(into, kind, draft, { ...context, ...cells });
      return at(field.name, () => words.date(text, typeof printed === 'string' ? printed : null, options).id);
    }
    case 'name':
      return at(field.name, () => words.name(text).id);
    case 'corps':
      return words.corps(text);
    case 'ref':
      return at(field.name, () => resolveRef(db, kindNamed(field.to), text));
    case 'any-ref':
      return at(field.name, () => resolveAny(db, text, field.to === 'all' ? undefined : field.to.map(kindNamed)));
    case 'rank': {
      const service = serviceFor(db, kind, draft, { ...context, ...cells });
      const when = kind.kind === 'entry' ? editionDays(db, { ...context, ...cells }['edition_id']) : undefined;
      const rank = at(field.name, () => words.rank(service, text, when));
      if (
        rank.appointment !== null &&
        (draft['kind'] ?? '') === '' &&
        kind.fields.some((each) => each.column === 'appointment')
      )
        cells['appointment'] = rank.appointment;
      return rank.id;
    }
  }
}

/** Several roles of a mark may come as an object: {"owner": 0.7, "depository": 0.3}. */
const rolesGiven = (value: unknown): unknown =>
  value !== null && typeof value === 'object' && !Array.isArray(value)
    ? Object.entries(value)
        .map(([role, weight]) => `${role} ${weight}`)
        .join(', ')
    : value;

/** @throws HeldbyError VALUE for what is no text, or holds a sign that no file of text can hold. */
function plainText(kind: Kind, field: Field, value: unknown): string {
  const refuse = (what: string): never => {
    throw new HeldbyError('VALUE', `${field.name} of ${kind.called} ${what}.`, 'Mend the value.', field.name);
  };
  if (typeof value !== 'string' && typeof value !== 'number') return refuse('must be a text or a number');
  const text = String(value);
  const fault = faultOf(text);
  return fault === undefined ? text : refuse(fault);
}

/** Signs that no file of text can hold, and that would not come back as they were recorded. */
export function faultOf(text: string): string | undefined {
  if (/[\ud800-\udfff]/u.test(text)) return 'holds half a sign, as a broken transfer leaves it';
  return text.includes('\0') ? 'holds a zero byte' : undefined;
}

/** Which service a rank belongs to: said, else that of the edition, else that in which the person served. */
function serviceFor(db: Db, kind: Kind, draft: Draft, cells: Record<string, Cell>): string {
  if (typeof draft['service'] === 'string') return draft['service'];
  if (kind.kind === 'entry') {
    return db
      .prepare(
        'SELECT s.service FROM current_edition AS e JOIN current_series AS s ON s.id = e.series_id WHERE e.id = ?',
      )
      .pluck()
      .get(cells['edition_id']) as string;
  }
  const person = cells['person_id'];
  const served =
    person === undefined || person === null
      ? []
      : (db
          .prepare(
            `SELECT DISTINCT s.service FROM bearer AS b JOIN current_edition AS e ON e.id = b.edition_id JOIN current_series AS s ON s.id = e.series_id WHERE b.person_id = ?
             UNION SELECT r.service FROM current_notice AS n JOIN rank_style AS r ON r.id = n.rank_id WHERE n.person_id = ?`,
          )
          .pluck()
          .all(person, person) as string[]);
  if (served.length === 1 && served[0] !== undefined) return served[0];
  const all =
    served.length > 1 ? served : (db.prepare('SELECT DISTINCT service FROM current_series').pluck().all() as string[]);
  if (all.length === 1 && all[0] !== undefined) return all[0];
  if (all.length === 0) return 'army';
  throw new HeldbyError(
    'AMBIGUOUS',
    `The rank can belong to several services: ${all.join(', ')}.`,
    'Name it with --service NAME.',
    'rank',
  );
}

/** How the dates of a record are written: as is said of it, else of the act, else as its list writes them. */
function datesFor(into: Recording, kind: Kind, draft: Draft, cells: Record<string, Cell>): DateOptions {
  const [edition, series] = [Number(cells['edition_id']), Number(cells['series_id'])];
  const list =
    kind.kind === 'entry' && edition > 0
      ? datesOfEdition(into.db, edition)
      : kind.kind === 'edition' && series > 0
        ? datesOfSeries(into.db, series)
        : {};
  const { reference } = list;
  const known = into.asListsWrite ? list : reference === undefined ? {} : { reference };
  return nearer(nearer(known, into.dates), dateOptionsOf(saidOfDates(draft)));
}

/** How the dates of one record are written, as a line of a file says beside them. */
const saidOfDates = (draft: Draft): Record<string, string> =>
  Object.fromEntries(
    GIVEN_DATE_OPTIONS.flatMap((name) => {
      const said = draft[name];
      return typeof said === 'string' && said.trim() !== '' ? [[name, said.trim()]] : [];
    }),
  );

/** The days of an edition decide what an abbreviation with several meanings stood for. */
function editionDays(db: Db, edition: Cell | undefined): { from: Day; until: Day } {
  const row = db
    .prepare(
      'SELECT d.from_day, d.until_day FROM current_edition AS e JOIN date_expression AS d ON d.id = e.as_at_id WHERE e.id = ?',
    )
    .get(edition) as { from_day: number | null; until_day: number | null } | undefined;
  return { from: (row?.from_day ?? NO_START) as Day, until: (row?.until_day ?? NO_END) as Day };
}

/** A name that was put together of its parts here; nothing that a sender writes is one. */
class GivenName {
  readonly printed: string;
  readonly parts: NameParts;
  constructor(printed: string, parts: NameParts) {
    this.printed = printed;
    this.parts = parts;
  }
}

/** A name may be given whole (`name`) or in parts (`surname`, `forenames`). */
function nameDraft(kind: Kind, field: Field, draft: Draft): unknown {
  if (field.type !== 'name' || !takesNameParts(kind)) return undefined;
  const surname = textOf(draft['surname']);
  if (surname === undefined) return undefined;
  const forenames = textOf(draft['forenames']) ?? null;
  const printed = textOf(draft['name']) ?? (forenames === null ? surname : `${forenames} ${surname}`);
  return new GivenName(printed, {
    surname,
    forenames,
    honours: textOf(draft['honours']) ?? null,
    suffix: textOf(draft['suffix']) ?? null,
  });
}

const takesNameParts = (kind: Kind): boolean =>
  kind.fields.some((field) => field.type === 'name') && !kind.fields.some((field) => field.name === 'surname');

function textOf(value: unknown): string | undefined {
  if (value === undefined || value === null || (typeof value === 'string' && value.trim() === '')) return undefined;
  if (typeof value !== 'string') throw new HeldbyError('VALUE', 'A name must be a text.', 'Mend the value.', 'name');
  const fault = faultOf(value);
  if (fault !== undefined) throw new HeldbyError('VALUE', `A name ${fault}.`, 'Mend the value.', 'name');
  return value.normalize('NFC').trim();
}

const NAME_PARTS = ['surname', 'forenames', 'honours', 'suffix'];

function refuseUnknownFields(kind: Kind, draft: Draft): void {
  for (const name of Object.keys(draft)) {
    const known =
      kind.fields.some(
        (field) => field.name === name || (field.type === 'date' && `${field.name}AsPrinted` === name),
      ) ||
      (takesNameParts(kind) && NAME_PARTS.includes(name)) ||
      (name === 'service' && kind.fields.some((field) => field.type === 'rank')) ||
      (GIVEN_DATE_OPTIONS.some((each) => each === name) && kind.fields.some((field) => field.type === 'date'));
    if (!known)
      throw new HeldbyError(
        'VALUE',
        `${cap(kind.called)} has no field ${name}.`,
        `Its fields: ${kind.fields.map((field) => field.name).join(', ')}.`,
        name,
      );
  }
}

function at<T>(field: string, work: () => T): T {
  try {
    return work();
  } catch (error) {
    // Where in the text it is is told in the message; here it matters in which field.
    if (error instanceof HeldbyError && (error.where === undefined || error.where.startsWith('character')))
      throw new HeldbyError(error.code, error.message, error.hint, field);
    throw error;
  }
}

const needsHint = (field: Field): string =>
  field.type === 'choice' || field.type === 'roles'
    ? `One of: ${(field.type === 'roles' ? MARK_ROLES : field.of).join(', ')}.`
    : `Give ${field.name}; it cannot be empty.`;
const cap = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
