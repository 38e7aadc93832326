import type { Assumptions } from '../assumptions.ts';
import type {
  CareerEvidence,
  Condition,
  Corps,
  DateEvidence,
  ListedEntry,
  NilSearch,
  Notice,
  NoticeEvent,
} from '../careers/evidence.ts';
import { statusForCorps } from '../services/beside-rank.ts';
import { corpsNamer, corpsResolver } from '../services/corps.ts';
import { type Ladder, mainSteps, openRank } from '../services/ladder.ts';
import type { Rank } from '../services/rank.ts';
import { asEvidence } from '../time/evidence-date.ts';
import { readDate } from '../time/read-date.ts';
import { type Day, NO_START, type Span } from '../time/span.ts';
import { type EntryRow, entriesOfPeople } from './entries.ts';
import { ladderOf, rankOnLadder } from './ladders.ts';
import type { Db } from './open.ts';
import { prepared } from './prepared.ts';

/** Reads the evidence on careers; what many people share (editions, ranks, corps, dates) is read once. */
export type EvidenceReader = ReturnType<typeof evidenceReader>;

type Edition = ListedEntry['edition'] & { readonly row: number; readonly series: string; readonly service: string };
type PersonRow = {
  readonly id: number;
  readonly key: string | null;
  readonly born_id: number | null;
  readonly died_id: number | null;
};
type NoticeRow = {
  id: number;
  key: string | null;
  person_id: number;
  event: string;
  date_id: number;
  rank_id: number | null;
  corps_id: number | null;
  appointment: string | null;
  source: string | null;
};

export function evidenceReader(db: Db, assumptions: Assumptions) {
  const ladder = memo((service: string): Ladder => ladderOf(db, service));
  const steps = memo((service: string) => mainSteps(ladder(service)));
  const dates = dateReader(db, assumptions);
  const date = dates.date;
  const rankRow = prepared(db, 'SELECT service, text, rank FROM rank_style WHERE id = ?');
  const rank = memo((id: number): Rank => {
    const row = rankRow.get(id) as { service: string; text: string; rank: string };
    return rankOnLadder(ladder(row.service), row) ?? openRank(row.service, row.text);
  });
  const rankIn = memo((signature: string): Rank => {
    const [id, service] = JSON.parse(signature) as [number, string];
    const row = rankRow.get(id) as { text: string; rank: string };
    return rankOnLadder(ladder(service), row) ?? openRank(service, row.text);
  });
  const servicesEver = prepared(
    db,
    'SELECT DISTINCT s.service FROM edition AS e JOIN series AS s ON s.id = e.series_id WHERE e.id = ?',
    'pluck',
  );
  const formerServices = memo((edition: number) => new Set(servicesEver.all(edition)));
  /** The rank of a line: where the service of its list was corrected, the line is of the service that it has now. */
  const rankListed = (id: number, of: Edition): Rank => {
    const recorded = rank(id);
    return recorded.service !== of.service && formerServices(of.row).has(recorded.service)
      ? rankIn(JSON.stringify([id, of.service]))
      : recorded;
  };
  const corpsRow = prepared(db, 'SELECT text FROM corps_style WHERE id = ?', 'pluck');
  const corpsText = memo((id: number) => corpsRow.get(id));
  let resolver: ReturnType<typeof resolverOf> | undefined;
  /** What a title of a corps meant at the time: a renumbered corps is the same post. */
  const corps = (id: number, when: Span): Corps => {
    resolver ??= resolverOf(corpsRecords(db, date));
    // Without recorded titles a corps is the same at all times, and its key is worked out once.
    const signature = resolver.titles === 0 ? id : `${id} ${when.from} ${when.until}`;
    const known = resolver.memo.get(signature) ?? resolver.ask(String(corpsText(id)), when);
    resolver.memo.set(signature, known);
    return known;
  };
  const statusText = memo((id: number) => statusForCorps(String(corpsText(id))));
  /** Where an entry has somebody, and how the post was held: no corps where its column says that there was no post. */
  const held = (id: number | null, appointment: string | null, when: Span): Pick<ListedEntry, 'corps' | 'kind'> => {
    const kind = (appointment ?? 'substantive') as ListedEntry['kind'];
    const status = id === null ? undefined : statusText(id);
    if (status !== undefined) return { corps: undefined, kind: kind === 'substantive' ? status : kind };
    return { corps: id === null ? undefined : corps(id, when), kind };
  };

  /** The keys of every corps that a title on an object can name, whenever that was. */
  const corpsNamed = (text: string): readonly string[] => {
    resolver ??= resolverOf(corpsRecords(db, date));
    return resolver.named(text);
  };
  const { edition, ...editions } = editionReader(db, dates);

  const entryOf = (row: EntryRow): ListedEntry => ({
    id: `e${row.id ?? row.row}`,
    key: row.key ?? undefined,
    edition: edition(row.edition_id),
    rank: rankListed(row.rank_id, edition(row.edition_id)),
    ...held(row.corps_id, row.appointment, edition(row.edition_id).asAt.span),
    dated: row.dated_id === null ? undefined : date(row.dated_id),
    page: row.page === null ? undefined : String(row.page),
  });

  const noticeRows = prepared(
    db,
    'SELECT id, key, person_id, event, date_id, rank_id, corps_id, appointment, source FROM current_notice WHERE person_id = ?',
  );
  const searchRows = prepared(
    db,
    "SELECT id, key, edition_id FROM current_search WHERE person_id = ? AND outcome = 'not found'",
  );
  const personRow = prepared(db, 'SELECT id, key, born_id, died_id FROM current_person WHERE id = ?');
  const viceRows = prepared(
    db,
    "SELECT id, key, person_id, event, date_id, rank_id, corps_id, appointment, source FROM current_notice WHERE vice_id = ? AND event IN ('appointed', 'promoted', 'exchanged')",
  );
  const has = (table: string) => prepared(db, `SELECT 1 FROM ${table} LIMIT 1`).get() !== undefined;
  const anyNotice = has('notice');
  const anySearch = has('search');
  const setAside: ReadonlySet<string> = new Set(
    prepared(db, 'SELECT record FROM current_set_aside', 'pluck').all() as string[],
  );
  const conditions: readonly Condition[] = (
    prepared(db, 'SELECT id, key, rank_id, at_least_days, at_most_days FROM current_condition').all() as {
      id: number;
      key: string | null;
      rank_id: number;
      at_least_days: number | null;
      at_most_days: number | null;
    }[]
  ).map((row) => ({
    id: `cd${row.id}`,
    key: row.key ?? undefined,
    rank: rank(row.rank_id),
    atLeastDays: row.at_least_days ?? undefined,
    atMostDays: row.at_most_days ?? undefined,
  }));

  const noticeOf = (row: NoticeRow): Notice => ({
    id: `n${row.id}`,
    key: row.key ?? undefined,
    event: row.event as NoticeEvent,
    date: date(row.date_id),
    service: row.rank_id === null ? undefined : rank(row.rank_id).service,
    rank: row.rank_id === null ? undefined : rank(row.rank_id),
    corps: row.corps_id === null ? undefined : corps(row.corps_id, date(row.date_id).span),
    kind: (row.appointment ?? 'substantive') as Notice['kind'],
    source: row.source ?? '',
  });

  return {
    edition,
    rank,
    rankListed,
    date,
    entryOf,
    corpsNamed,
    held,
    ladder,
    /** Everything that bears on the career of one person; `people`: the records that are found to be one. */
    careerOf(people: readonly number[]): CareerEvidence {
      const entries = entriesOfPeople(db, people);
      readShared(entries);
      return evidenceOf(people, entries);
    },
    /** The same for many, whose entries are read together. */
    *careersOf(groups: ReadonlyMap<number, readonly number[]>): Iterable<readonly [number, CareerEvidence]> {
      const entries = new Map<number, EntryRow[]>();
      const rows = entriesOfPeople(db, [...groups.values()].flat());
      readShared(rows);
      for (const row of rows) {
        const others = entries.get(row.bearer);
        if (others) others.push(row);
        else entries.set(row.bearer, [row]);
      }
      for (const [first, people] of groups) {
        const rows =
          people.length === 1 ? (entries.get(first) ?? []) : people.flatMap((person) => entries.get(person) ?? []);
        yield [first, evidenceOf(people, rows)];
      }
    },
  };

  function readShared(rows: readonly EntryRow[]): void {
    editions.prefetch(rows.map(({ edition_id }) => edition_id));
    dates.prefetch(rows.flatMap(({ dated_id }) => (dated_id === null ? [] : [dated_id])));
  }

  function evidenceOf(people: readonly number[], rows: readonly EntryRow[]): CareerEvidence {
    const entries = rows.map(entryOf);
    const notices = anyNotice ? people.flatMap((person) => (noticeRows.all(person) as NoticeRow[]).map(noticeOf)) : [];
    const vacated = anyNotice
      ? people.flatMap((person) => (viceRows.all(person) as NoticeRow[]).map((row) => vacancy(noticeOf(row))))
      : [];
    const nilSearches: NilSearch[] = anySearch
      ? people.flatMap((person) =>
          (searchRows.all(person) as { id: number; key: string | null; edition_id: number }[]).map((row) => ({
            id: `q${row.id}`,
            key: row.key ?? undefined,
            edition: edition(row.edition_id),
            service: edition(row.edition_id).service,
          })),
        )
      : [];
    const persons = people
      .map((person) => personRow.get(person) as PersonRow | undefined)
      .filter((row) => row !== undefined);
    const life = (column: 'born_id' | 'died_id') => {
      const row = persons.find((each) => each[column] !== null);
      return row ? { id: `p${row.id}`, key: row.key ?? undefined, date: date(row[column] as number) } : undefined;
    };
    const services = new Set([
      ...entries.map((each) => each.rank.service),
      ...notices.flatMap((each) => each.service ?? []),
    ]);
    return {
      entries,
      notices: [...notices, ...vacated],
      nilSearches,
      conditions: conditions.filter((each) => services.has(each.rank.service)),
      born: life('born_id'),
      died: life('died_id'),
      setAside,
      mainSteps: new Map([...services].map((service) => [service, steps(service)])),
    };
  }
}

/**
 * A man appointed in the place of another tells by when the other's post in that rank and corps had ended: days or weeks
 * can pass before a vacancy is filled.
 */
const vacancy = (notice: Notice): Notice => ({
  ...notice,
  event: 'superseded',
  date: { ...notice.date, span: { from: NO_START, until: notice.date.span.until } },
});

type DateCells = [
  id: number,
  text: string,
  from: number | null,
  until: number | null,
  approximate: number,
  uncertain: number,
];

/** Dates of the dictionary as evidence; those of many entries are read in one go. */
function dateReader(db: Db, assumptions: Assumptions) {
  const COLUMNS = 'id, text, from_day, until_day, approximate, uncertain';
  const known = new Map<number, DateEvidence>();
  const one = prepared(db, `SELECT ${COLUMNS} FROM date_expression WHERE id = ?`, 'raw');
  const take = ([id, text, from, until, approximate, uncertain]: DateCells): DateEvidence => {
    const bounds: Span = { from: (from ?? -Infinity) as Day, until: (until ?? Infinity) as Day };
    const span = approximate === 1 ? asEvidence(readDate(text), assumptions) : bounds;
    const evidence = { text, uncertain: uncertain === 1, span };
    known.set(id, evidence);
    return evidence;
  };
  return {
    date: (id: number): DateEvidence => known.get(id) ?? take(one.get(id) as DateCells),
    prefetch(ids: readonly number[]): void {
      const wanted = new Set(ids.filter((id) => !known.has(id)));
      if (wanted.size < 2) return;
      const all = prepared(
        db,
        `SELECT ${COLUMNS} FROM date_expression WHERE id IN (SELECT value FROM json_each(?))`,
        'raw',
      );
      for (const cells of all.all(JSON.stringify([...wanted])) as DateCells[]) take(cells);
    },
  };
}

type EditionCells = [id: number, label: string, asAt: number, series: string, service: string, lag: number | null];

/** Editions with the days as at which they stand; those of many entries are read in one go. */
function editionReader(db: Db, dates: ReturnType<typeof dateReader>) {
  const known = new Map<number, Edition>();
  const reading = `SELECT e.id, e.label, e.as_at_id, s.name, s.service, s.lag_days FROM current_edition AS e
    JOIN current_series AS s ON s.id = e.series_id`;
  const take = ([row, label, asAt, series, service, lag]: EditionCells): Edition => {
    const edition = { id: `ed${row}`, row, label, asAt: dates.date(asAt), lagDays: lag ?? 0, series, service };
    known.set(row, edition);
    return edition;
  };
  return {
    edition: (id: number): Edition =>
      known.get(id) ?? take(prepared(db, `${reading} WHERE e.id = ?`, 'raw').get(id) as EditionCells),
    prefetch(ids: readonly number[]): void {
      const wanted = new Set(ids.filter((id) => !known.has(id)));
      if (wanted.size < 2) return;
      const all = prepared(db, `${reading} WHERE e.id IN (SELECT value FROM json_each(?))`, 'raw');
      const rows = all.all(JSON.stringify([...wanted])) as EditionCells[];
      dates.prefetch(rows.map(([, , asAt]) => asAt));
      for (const row of rows) take(row);
    },
  };
}

function memo<K, V>(make: (key: K) => V): (key: K) => V {
  const known = new Map<K, V>();
  return (key) => {
    const value = known.get(key) ?? make(key);
    known.set(key, value);
    return value;
  };
}

const resolverOf = (titles: Parameters<typeof corpsResolver>[0]) => ({
  titles: titles.length,
  ask: corpsResolver(titles),
  named: corpsNamer(titles),
  memo: new Map<string | number, Corps>(),
});

type CorpsRow = { id: number; name: string; same_as_id: number | null; from_id: number | null; to_id: number | null };

function corpsRecords(db: Db, date: (id: number) => DateEvidence) {
  const rows = prepared(db, 'SELECT id, name, same_as_id, from_id, to_id FROM current_corps').all() as CorpsRow[];
  return rows.map((row) => ({
    key: `co${row.id}`,
    name: row.name,
    ...(row.same_as_id === null ? {} : { sameAs: `co${row.same_as_id}` }),
    ...(row.from_id === null ? {} : { from: date(row.from_id).span }),
    ...(row.to_id === null ? {} : { to: date(row.to_id).span }),
  }));
}
