import type { Assumptions } from '../assumptions.ts';
import type {
  Binding,
  LifeDates,
  LinkageInput,
  ListEdition,
  ListEntry,
  NameSweep,
} from '../careers/linkage/entries.ts';
import { printedSeniority } from '../careers/linkage/printed-seniority.ts';
import { differences, samenesses } from './conflict-lookups.ts';
import type { EvidenceReader } from './evidence.ts';
import type { Db } from './open.ts';

/** What is kept of each entry beside what it says: for recording who bears it. One place for each entry of the input. */
export type EntryFacts = {
  /** Numbers of the records, of the printed names and of the surnames. */
  readonly id: Int32Array;
  readonly name: Int32Array;
  readonly surname: Int32Array;
};

/** All that entries are put together by, and what is needed to record it. */
export type LinkageSource = { readonly input: LinkageInput; readonly facts: EntryFacts };

/**
 * An edition of which so many lines were taken down, under surnames of so many initial letters, is taken to have been
 * taken down whole; judgement.
 */
export const WHOLE_LINES = 50;
export const WHOLE_INITIALS = 12;

type Row = [
  id: number,
  edition: number,
  name: number,
  surname: number,
  rank: number,
  corps: number | null,
  dated: number | null,
  appointment: string | null,
  recorded: number | null,
];

/**
 * Every entry of the ledger, without those that the researcher set aside, with who bears it as far as that is known.
 * @param whole which editions count as taken down whole: all, none, or those that look so.
 */
export function linkageSource(
  db: Db,
  read: EvidenceReader,
  assumptions: Assumptions,
  whole: 'all' | 'none' | 'by lines',
): LinkageSource {
  const setAside = new Set(db.prepare('SELECT record FROM current_set_aside').pluck().all() as string[]);
  const decided = decisions(db);
  const names = nameReader(db);
  const editions: ListEdition[] = [];
  const placeOf = new Map<number, number>();
  const initials: { lines: number; readonly letters: Set<string> }[] = [];
  const editionAt = (edition: number): number => {
    const known = placeOf.get(edition);
    if (known !== undefined) return known;
    const { id, label, service, asAt, lagDays } = read.edition(edition);
    const place = editions.push({ id, label, service, asAt: asAt.span, lagDays, whole: whole === 'all' }) - 1;
    initials.push({ lines: 0, letters: new Set() });
    placeOf.set(edition, place);
    return place;
  };
  const entries: ListEntry[] = [];
  const ids: number[] = [];
  const nameIds: number[] = [];
  const surnameIds: number[] = [];
  const taken: Binding[] = [];
  const rows = db
    .prepare(
      'SELECT coalesce(id, row), edition_id, name_id, surname_id, rank_id, corps_id, dated_id, appointment, person_id FROM current_entry',
    )
    .raw()
    .iterate() as IterableIterator<Row>;
  for (const [id, editionId, nameId, surnameId, rankId, corpsId, datedId, appointment, recorded] of rows) {
    if (setAside.size > 0 && (setAside.has(`e${id}`) || setAside.has(`ed${editionId}`))) continue;
    const edition = editionAt(editionId);
    const { surname, forenames, suffix } = names(nameId);
    const decision = decided.get(id);
    const bearer = decision === undefined ? recorded : decision.person;
    // Whoever was taken off a line is not to be put back on it.
    const gone = decision === undefined || bearer !== null ? undefined : (decision.before ?? recorded ?? undefined);
    if (gone !== undefined) taken.push({ kind: 'differ', one: `e${id}`, other: `p${gone}` });
    const seen = initials[edition] as (typeof initials)[number];
    seen.lines += 1;
    seen.letters.add(surname.charAt(0).toUpperCase());
    entries.push({
      id: `e${id}`,
      edition,
      surname,
      forenames,
      suffix,
      rank: read.rankListed(rankId, read.edition(editionId)),
      ...read.held(corpsId, appointment, (editions[edition] as ListEdition).asAt),
      dated: datedId === null ? undefined : read.date(datedId),
      seniority: undefined, // seen in the order of the lines, when all of them are there
      person: bearer === null ? undefined : `p${bearer}`,
      placed: decision !== undefined && bearer !== null,
    });
    ids.push(id);
    nameIds.push(nameId);
    surnameIds.push(surnameId);
  }
  const isWhole = ({ lines, letters }: (typeof initials)[number]): boolean =>
    lines >= WHOLE_LINES && letters.size >= WHOLE_INITIALS;
  const told = editions.map((edition, at) =>
    whole === 'by lines' ? { ...edition, whole: isWhole(initials[at] as (typeof initials)[number]) } : edition,
  );
  const seniority = printedSeniority(
    entries.map(({ edition, rank, dated, kind }, at) => ({ edition, rank, dated, kind, line: ids[at] as number })),
    (edition) => told[edition]?.whole === true,
  );
  return {
    input: {
      editions: told,
      entries: entries.map((entry, at) =>
        seniority[at] === undefined ? entry : { ...entry, seniority: seniority[at] },
      ),
      sweeps: sweepsOf(db, placeOf),
      lives: livesOf(db, read),
      bindings: [...bindingsOf(db), ...taken],
      minimumAgeYears: assumptions.values['minimum.age'],
      certainShare: assumptions.values['wording.certain'],
    },
    facts: { id: Int32Array.from(ids), name: Int32Array.from(nameIds), surname: Int32Array.from(surnameIds) },
  };
}

type Decision = { readonly person: number | null; readonly before: number | undefined };

/** The latest decision on each entry, and whom the one before gave it to. */
function decisions(db: Db): ReadonlyMap<number, Decision> {
  const rows = db.prepare('SELECT id, entry_id, person_id FROM current_link ORDER BY row').raw().all() as [
    id: number,
    entry: number,
    person: number | null,
  ][];
  const earlier = db
    .prepare('SELECT person_id FROM link WHERE id = ? AND person_id IS NOT NULL ORDER BY row DESC LIMIT 1')
    .pluck();
  const found = new Map<number, Decision>();
  for (const [id, entry, person] of rows) {
    const before =
      person !== null ? undefined : ((earlier.get(id) as number | undefined) ?? found.get(entry)?.person ?? undefined);
    found.set(entry, { person, before });
  }
  return found;
}

type NameParts = { readonly surname: string; readonly forenames: string; readonly suffix: string | undefined };

function nameReader(db: Db): (id: number) => NameParts {
  const one = db
    .prepare(
      'SELECT s.text, n.forenames, n.suffix FROM printed_name AS n JOIN surname AS s ON s.id = n.surname_id WHERE n.id = ?',
    )
    .raw();
  const known = new Map<number, NameParts>();
  return (id) => {
    const found = known.get(id);
    if (found) return found;
    const [surname, forenames, suffix] = one.get(id) as [string, string | null, string | null];
    const parts = { surname, forenames: forenames ?? '', suffix: suffix ?? undefined };
    known.set(id, parts);
    return parts;
  };
}

function sweepsOf(db: Db, placeOf: ReadonlyMap<number, number>): NameSweep[] {
  const rows = db
    .prepare(
      "SELECT edition_id, surname FROM current_search WHERE outcome = 'all taken' AND 'q' || id NOT IN (SELECT record FROM current_set_aside) ORDER BY id",
    )
    .raw()
    .all() as [number, string][];
  return rows.flatMap(([id, surname]) => {
    const edition = placeOf.get(id);
    return edition === undefined ? [] : [{ edition, surname }];
  });
}

function livesOf(db: Db, read: EvidenceReader): LifeDates[] {
  const rows = db
    .prepare(
      'SELECT id, born_id, died_id FROM current_person WHERE born_id IS NOT NULL OR died_id IS NOT NULL ORDER BY id',
    )
    .raw()
    .all() as [number, number | null, number | null][];
  return rows.map(([id, born, died]) => ({
    person: `p${id}`,
    born: born === null ? undefined : read.date(born),
    died: died === null ? undefined : read.date(died),
  }));
}

const bindingsOf = (db: Db): Binding[] => [
  ...samenesses(db).map(({ person, other }): Binding => ({ kind: 'same', one: `p${person}`, other: `p${other}` })),
  ...differences(db).map(({ person, other }): Binding => ({ kind: 'differ', one: `p${person}`, other: `p${other}` })),
];
