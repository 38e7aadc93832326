import { type Assumptions, DAYS_PER_YEAR } from '../assumptions.ts';
import type { Tenure } from '../careers/career.ts';
import { solveCareer } from '../careers/solve.ts';
import { HeldbyError } from '../errors.ts';
import { assumptionsOf } from '../ledger/assumed.ts';
import { evidenceReader } from '../ledger/evidence.ts';
import { surnameCounts } from '../ledger/find-surname-counts.ts';
import type { Db } from '../ledger/open.ts';
import { everybody, samePeople } from '../ledger/people.ts';

/** A value that the ledger itself gives an assumption, and how much it was reckoned from. */
export type Estimate = {
  readonly name: string;
  readonly value: string;
  /** The value in force until now. */
  readonly was: string;
  readonly from: string;
};

const FEWEST_PEOPLE = 5000;
const FEWEST_TENURES = 20;
const MEAN = 'tenure.mean';

/** Whether an assumption is one that a ledger can give a value, by its name alone. */
export const isEstimated = (name: string): boolean =>
  name === 'name.frequency' || name === MEAN || name.startsWith(`${MEAN}.`);

/**
 * What an assumption comes to in this ledger: `name.frequency`, `tenure.mean` for every rank that allows it, or
 * `tenure.mean.RANK`.
 * @throws HeldbyError VALUE where there is no way to reckon it, or too little to reckon it from.
 */
export function estimatesOf(db: Db, name: string): Estimate[] {
  const assumptions = assumptionsOf(db);
  if (name === 'name.frequency') return [nameFrequency(db, assumptions)];
  if (isEstimated(name)) return tenureMeans(db, assumptions, name.slice(MEAN.length + 1));
  throw new HeldbyError(
    'VALUE',
    `${name} cannot be reckoned from a ledger.`,
    `These can: name.frequency, ${MEAN}, ${MEAN}.RANK.`,
    'name',
  );
}

/**
 * The chance that two people, taken at random, bear one surname: Σ n(n − 1) / N(N − 1) over the surnames, without bias
 * for however many people there are. That is how frequent, on average, the surname of somebody is whose mark it may be.
 * @see E. H. Simpson, "Measurement of Diversity", Nature 163 (1949), 688.
 */
export function repeatRate(counts: readonly number[]): number {
  const people = counts.reduce((sum, count) => sum + count, 0);
  return counts.reduce((sum, count) => sum + count * (count - 1), 0) / (people * (people - 1));
}

function nameFrequency(db: Db, assumptions: Assumptions): Estimate {
  const counts = surnameCounts(db);
  const people = counts.reduce((sum, count) => sum + count, 0);
  if (people < FEWEST_PEOPLE)
    throw new HeldbyError(
      'VALUE',
      `The ledger holds ${people} people; names are counted from ${FEWEST_PEOPLE} on.`,
      'Keep the default, or give a value of your own: heldby assume name.frequency VALUE --why TEXT',
    );
  const rate = repeatRate(counts);
  if (rate === 0)
    throw new HeldbyError(
      'VALUE',
      'No two people of the ledger bear one surname.',
      'Keep the default, or give a value of your own.',
    );
  return {
    name: 'name.frequency',
    value: String(Number(rate.toPrecision(3))),
    was: String(assumptions.values['name.frequency']),
    from: `${people} people of ${counts.length} surnames`,
  };
}

/** A tenure that counts for the usual time in post. `days`: from the middle of its start to the middle of its end. */
export type ClosedTenure = { readonly person: number; readonly tenure: Tenure; readonly days: number };

/** @param rank its id; empty for every rank. */
function tenureMeans(db: Db, assumptions: Assumptions, rank: string): Estimate[] {
  const closed = closedTenures(db, assumptions);
  const enough = [...closed].filter(([id, { length }]) => length >= FEWEST_TENURES && (rank === '' || id === rank));
  if (enough.length === 0) {
    const [most] = [...closed].sort(([, a], [, b]) => b.length - a.length);
    const there = rank === '' ? most : ([rank, closed.get(rank) ?? []] as const);
    throw new HeldbyError(
      'VALUE',
      there === undefined
        ? 'The ledger holds no closed tenure.'
        : `The ledger holds ${there[1].length} closed ${there[1].length === 1 ? 'tenure' : 'tenures'} of ${there[0]}; they are averaged from ${FEWEST_TENURES} on.`,
      'Keep the value in force, or give one of your own: heldby assume tenure.mean.RANK YEARS --why TEXT',
    );
  }
  return enough
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([id, tenures]) => ({
      name: `${MEAN}.${id}`,
      value: String(
        Number((tenures.reduce((sum, { days }) => sum + days, 0) / tenures.length / DAYS_PER_YEAR).toFixed(2)),
      ),
      was: String(assumptions.perRank.get(`${MEAN}.${id}`) ?? assumptions.values[MEAN]),
      from: `${tenures.length} closed tenures`,
    }));
}

/**
 * Tenures of which beginning and end are both bounded, by rank. The means in force play no part in bounds, so the result does not depend on them.
 */
export function closedTenures(db: Db, assumptions: Assumptions): Map<string, ClosedTenure[]> {
  const group = samePeople(db);
  const groups = new Map<number, readonly number[]>();
  for (const person of everybody(db)) {
    const people = group(person);
    if (people[0] === person) groups.set(person, people);
  }
  const closed = new Map<string, ClosedTenure[]>();
  for (const [person, evidence] of evidenceReader(db, assumptions).careersOf(groups)) {
    if (evidence.entries.length + evidence.notices.length === 0) continue;
    for (const tenure of solveCareer(evidence, assumptions).tenures) {
      if (!isClosed(tenure)) continue;
      const alike = closed.get(tenure.rank.id) ?? [];
      alike.push({ person, tenure, days: middle(tenure.end) - middle(tenure.start) });
      closed.set(tenure.rank.id, alike);
    }
  }
  return closed;
}

const middle = ({ earliest, latest }: Tenure['start']): number => (earliest + latest) / 2;

const isClosed = ({ kind, implied, provisional, unsupported, start, end }: Tenure): boolean =>
  kind === 'substantive' &&
  !implied &&
  !provisional &&
  !unsupported &&
  [start.earliest, start.latest, end.earliest, end.latest].every(Number.isFinite);
