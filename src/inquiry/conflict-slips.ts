import type { CareerEvidence, ListedEntry } from '../careers/evidence.ts';
import { linesInOrder, neighbours, type Slip, saysTheSame, slipsOf } from '../careers/slips.ts';
import { bearerOf } from '../ledger/bearers.ts';
import { type EntryRow, entryById } from '../ledger/entries.ts';
import type { EvidenceReader } from '../ledger/evidence.ts';
import { entriesBeside } from '../ledger/find-in-edition.ts';
import type { Db } from '../ledger/open.ts';
import { samePeople } from '../ledger/people.ts';
import type { Concern } from './conflicts-found.ts';

/** What a slip of the printer or of whoever took a line down would explain. */
export type SlipFound = Omit<Slip, 'kind' | 'correction'> & {
  readonly of: Concern;
  /** `exchanged`: the line and one beside it have each other's data; `slid`: it has those of one beside it. */
  readonly kind: Slip['kind'] | 'exchanged' | 'slid';
  readonly correction: Slip['correction'] | null;
  /** Whether it would explain what contradicts; else nothing does, and it may be true. */
  readonly contradicts: boolean;
};

/** Lines before and after that a clerk's eye may have slid to. */
const BESIDE = 3;

/** Lines of which those beside them are read; more than a reader goes through. */
const MOST_LOOKED = 300;

/** Finds the slips in one career after another. */
export function slipFinder(db: Db, read: EvidenceReader, nameOf: (person: number) => Concern) {
  const together = samePeople(db);
  let looked = 0;
  return (evidence: CareerEvidence, of: () => Concern, aside: ReadonlySet<string>): SlipFound[] => {
    const slips = slipsOf(evidence, aside);
    const records = new Set([...aside].map((claim) => claim.slice(0, claim.indexOf(' '))));
    const byRecord = new Map(slips.map((slip) => [slip.id, slip]));
    const found: SlipFound[] = [];
    for (const series of linesInOrder(evidence)) {
      for (const line of series) {
        const suspect = isAside(line, aside) || byRecord.get(line.id)?.kind === 'corps';
        if (!suspect || looked >= MOST_LOOKED) continue;
        looked += 1;
        const exchanged = exchangeOf(line, series);
        if (exchanged === undefined) continue;
        byRecord.delete(line.id);
        found.push({ ...exchanged, of: of(), correction: null, contradicts: isAside(line, aside) });
      }
    }
    const rest = [...byRecord.values()].map((slip) => ({
      ...slip,
      of: of(),
      correction: slip.correction ?? null,
      contradicts: [slip.id, ...(slip.kind === 'leaving' ? slip.beside : [])].some((id) => records.has(id)),
    }));
    return [...found, ...rest];
  };

  /** A line beside it, of somebody else, who has in other editions what this one says. */
  function exchangeOf(line: ListedEntry, series: readonly ListedEntry[]) {
    const own = neighbours(line, series);
    if (own.some((other) => saysTheSame(line, other))) return undefined;
    const found = besideRows(Number(line.id.slice(1)), Number(line.edition.id.slice(2))).flatMap((row) => {
      const bearer = bearerOf(db, row);
      if (bearer === undefined) return [];
      const people = together(bearer);
      const theirs = linesInOrder(read.careerOf(people)).find((list) => list.some(({ id }) => id === idOf(row)));
      const other = theirs?.find(({ id }) => id === idOf(row));
      if (theirs === undefined || other === undefined || series.some(({ id }) => id === other.id)) return [];
      const usual = neighbours(other, theirs).filter((each) => saysTheSame(line, each));
      const mine = own.filter((each) => saysTheSame(other, each));
      const isExchanged = mine.length > 0;
      if (usual.length === 0 || (!isExchanged && line.dated === undefined)) return [];
      const { name } = nameOf(people[0] ?? bearer);
      const ids = [...usual, ...(isExchanged ? mine : [])].map(({ id }) => id).join(', ');
      return [{ other, usual, isExchanged, name, ids }];
    });
    const best = found.find(({ isExchanged }) => isExchanged) ?? found[0];
    if (best === undefined) return undefined;
    const { other, usual, isExchanged, name, ids } = best;
    const label = `edition ${line.edition.label}`;
    return {
      kind: isExchanged ? ('exchanged' as const) : ('slid' as const),
      id: line.id,
      says: isExchanged
        ? `in ${label} ${line.id} and ${other.id} (${name}) may have been exchanged: each has the rank, corps and date that the other has in the editions beside it (${ids})`
        : `in ${label} ${line.id} has the rank, corps and date of ${name}, who stands beside it (${other.id}), in other editions (${ids}): the eye may have slid from one line to the other`,
      beside: [other.id, ...usual.map(({ id }) => id)],
    };
  }

  function besideRows(row: number, edition: number): EntryRow[] {
    const found: EntryRow[] = [];
    for (const side of ['before', 'after'] as const) {
      let at: EntryRow | undefined = entryById(db, row);
      for (let step = 0; step < BESIDE && at !== undefined; step++) {
        at = entriesBeside(db, at.id ?? at.row, edition)[side];
        if (at !== undefined) found.push(at);
      }
    }
    return found;
  }
}

const isAside = ({ id }: ListedEntry, aside: ReadonlySet<string>): boolean =>
  aside.has(`${id} listed`) || aside.has(`${id} dated`);

const idOf = (row: EntryRow): string => `e${row.id ?? row.row}`;
