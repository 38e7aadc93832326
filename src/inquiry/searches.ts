import type { Assumptions } from '../assumptions.ts';
import type { Tenure } from '../careers/career.ts';
import type { CareerEvidence } from '../careers/evidence.ts';
import { type NilReading, nilReadings } from '../careers/nil-readings.ts';
import { settleCareer, solveCareer } from '../careers/solve.ts';
import { assumptionsOf } from '../ledger/assumed.ts';
import { setAsides } from '../ledger/conflict-lookups.ts';
import { evidenceReader } from '../ledger/evidence.ts';
import { kindNamed } from '../ledger/kinds.ts';
import type { Db } from '../ledger/open.ts';
import { type BorneName, nameReader, type PersonName, personName, samePeople } from '../ledger/people.ts';
import { resolveRef } from '../ledger/refs.ts';
import {
  type EditionShown,
  editionsOf,
  peopleInSeries,
  type SweepShown,
  seriesMeant,
  sweepsIn,
} from '../ledger/series-lookups.ts';
import { foldName } from '../names/pattern.ts';
import { postInWords } from './grounds-tenures.ts';
import { tenureId } from './tenures.ts';

/**
 * `listed`; `not found`: looked for and not there; `swept`: every bearer of the surname was taken down, and this person is
 * not among them; `not looked`: nobody has looked yet.
 */
export type CellState = 'listed' | 'not found' | 'swept' | 'not looked';

export type SearchCell = {
  readonly edition: string;
  readonly state: CellState;
  /** The entries, searches or sweeps that say so. */
  readonly ids: readonly string[];
  /** The rank listed. */
  readonly rank: string | null;
  /** How a nil search is read: an omission of the printer, or which gap in the service; null for anything else. */
  readonly reading: NilReading['reading'] | 'set aside' | null;
  /** The same in a sentence. */
  readonly says: string | null;
  /** Tenures around the gap. */
  readonly between: readonly string[];
};

export type SearchesAnswer = {
  readonly series: {
    readonly id: string;
    readonly key: string | null;
    readonly name: string;
    readonly service: string;
  };
  readonly editions: readonly {
    readonly id: string;
    readonly key: string | null;
    readonly label: string;
    readonly asAt: string;
  }[];
  readonly people: readonly {
    readonly person: PersonName;
    /** One for each edition, in the order of the editions. */
    readonly cells: readonly SearchCell[];
    readonly listed: number;
    readonly notFound: number;
    readonly notLooked: number;
  }[];
  /** People listed in the series who are not shown. */
  readonly peopleBeyond: number;
};

export type SearchesWanted = { readonly people: readonly string[]; readonly limit: number };

/** Who is listed in which edition of a series, who was looked for in vain, and where nobody has looked yet. */
export function searchesOf(db: Db, words: string | undefined, wanted: SearchesWanted): SearchesAnswer {
  const series = seriesMeant(db, words);
  const editions = editionsOf(db, series.id);
  const together = samePeople(db);
  const first = (person: number): number => together(person)[0] ?? person;
  const { people, beyond } = peopleWanted(db, series.id, wanted, first);
  const assumptions = assumptionsOf(db);
  const read = evidenceReader(db, assumptions);
  const names = nameReader(db, read.date);
  const sweeps = sweepsIn(db, series.id);
  const asideWhy = new Map(setAsides(db).map(({ record, why }) => [record, why ?? 'no reason given']));
  return {
    series: { id: `s${series.id}`, key: series.key, name: series.name, service: series.service },
    editions: editions.map(({ id, ...edition }) => ({ id: `ed${id}`, ...edition })),
    people: people.map((person) => {
      const records = together(person);
      const known = { person: `p${person}`, evidence: read.careerOf(records), names: names.namesOf(records) };
      const cells = cellsOf(known, editions, sweeps, asideWhy, assumptions);
      const count = (...states: CellState[]): number => cells.filter(({ state }) => states.includes(state)).length;
      return {
        person: personName(db, person),
        cells,
        listed: count('listed'),
        notFound: count('not found', 'swept'),
        notLooked: count('not looked'),
      };
    }),
    peopleBeyond: beyond,
  };
}

/** Those named; else those who were looked for, and then those who are listed, as many as are wanted. */
function peopleWanted(
  db: Db,
  series: number,
  { people, limit }: SearchesWanted,
  first: (person: number) => number,
): { readonly people: readonly number[]; readonly beyond: number } {
  if (people.length > 0) {
    const named = people.map((words) => first(resolveRef(db, kindNamed('person'), words)));
    return { people: [...new Set(named)], beyond: 0 };
  }
  const { sought, listed } = peopleInSeries(db, series);
  const all = [...new Set([...sought, ...listed].map(first))];
  return { people: all.slice(0, limit), beyond: Math.max(0, all.length - limit) };
}

type Known = { readonly person: string; readonly evidence: CareerEvidence; readonly names: readonly BorneName[] };

function cellsOf(
  { person, evidence, names }: Known,
  editions: readonly EditionShown[],
  sweeps: readonly SweepShown[],
  asideWhy: ReadonlyMap<string, string>,
  assumptions: Assumptions,
): SearchCell[] {
  const career = solveCareer(evidence, assumptions);
  const readings = new Map(nilReadings(settleCareer(evidence, assumptions)).map((each) => [each.id, each]));
  const surnames = new Set(names.map(({ surname }) => foldName(surname)));
  return editions.map(({ id }): SearchCell => {
    const edition = `ed${id}`;
    const blank = { edition, rank: null, reading: null, says: null, between: [] };
    const entries = evidence.entries.filter((entry) => entry.edition.id === edition);
    const nil = evidence.nilSearches.filter((search) => search.edition.id === edition);
    const swept = sweeps.filter((sweep) => sweep.edition === id && surnames.has(foldName(sweep.surname)));
    const [search] = nil;
    const read = search === undefined ? undefined : nilInAnswer(search.id, person, readings, career.tenures, asideWhy);
    if (entries.length > 0)
      return {
        ...blank,
        ...(read === undefined ? {} : { ...read, says: read.reading === 'set aside' ? read.says : MISSED }),
        state: 'listed',
        ids: [...entries, ...nil].map((each) => each.id),
        rank: [...new Set(entries.map(({ rank }) => rank.title))].join(', '),
      };
    if (read !== undefined) return { ...blank, ...read, state: 'not found', ids: nil.map((each) => each.id) };
    if (swept.length > 0) return { ...blank, state: 'swept', ids: swept.map((sweep) => `q${sweep.id}`) };
    return { ...blank, state: 'not looked', ids: [] };
  });
}

const MISSED = 'but the edition lists the name: the search missed the line, or the line is another’s';

function nilInAnswer(
  id: string,
  person: string,
  readings: ReadonlyMap<string, NilReading>,
  tenures: readonly Tenure[],
  asideWhy: ReadonlyMap<string, string>,
): Pick<SearchCell, 'reading' | 'says' | 'between'> {
  const read = readings.get(id);
  if (read === undefined)
    return {
      reading: 'set aside',
      says: `set aside by the researcher: ${asideWhy.get(id) ?? 'with its edition'}`,
      between: [],
    };
  const around = [read.last, read.next].flatMap((at) => {
    const tenure = at === undefined ? undefined : tenures[at];
    return tenure === undefined ? [] : [tenure];
  });
  return {
    reading: read.reading,
    says: inWords(read.reading, around.map(postInWords)),
    between: around.map((tenure) => tenureId(person, tenure)),
  };
}

function inWords(reading: NilReading['reading'], posts: readonly string[]): string {
  const [one = 'the post', other = 'the next'] = posts;
  switch (reading) {
    case 'before':
      return `a gap: before ${one} began`;
    case 'after':
      return `a gap: after ${one} had ended`;
    case 'between':
      return `a gap in the service, between ${one} and ${other}`;
    case 'printer':
      return 'an omission of the printer: no gap of the service can hold it';
    case 'likely break':
      return 'one of three or more in a row: an omission of the printer as things stand, but likely a break of the service';
    case 'undecided':
      return 'more than one gap of the service can hold it';
    case 'no post':
      return 'nothing else is known of the person in this service';
    case 'contradicted':
      return 'set aside, because it contradicts other searches';
  }
}
