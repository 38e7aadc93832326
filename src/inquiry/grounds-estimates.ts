import { DAYS_PER_YEAR } from '../assumptions.ts';
import { surnameCounts } from '../ledger/find-surname-counts.ts';
import { personName } from '../ledger/people.ts';
import { closedTenures, type Estimate, estimatesOf } from './estimates.ts';
import type { Situation } from './grounds-situation.ts';
import { postInWords, type Reckoned, tenureGround } from './grounds-tenures.ts';
import { type Ground, ground, note } from './grounds-tree.ts';
import { tenureId } from './tenures.ts';

/** Tenures told one by one; the rest are summed up. */
const MOST_TOLD = 1000;
/** Tenures that are traced down to their entries; any other can be asked about by its id. */
const MOST_TRACED = 50;

/**
 * What `assume --estimate` would record of an assumption, and what it is reckoned from.
 * @throws HeldbyError VALUE where there is no way to reckon it, or too little to reckon it from.
 */
export function estimateFigure(situation: Situation, name: string): Reckoned {
  const estimates = estimatesOf(situation.db, name);
  return {
    value: estimates.map(({ name: of, value, was, from }) => ({ name: of, value, was, from })),
    says: estimates.map(inWords).join('; '),
    grounds: [
      ...(name === 'name.frequency' ? surnameGrounds(situation) : meanGrounds(situation, estimates)),
      ...estimates.map(({ name: of }) => situation.reader.forRank(...parted(of))),
    ],
  };
}

/** `tenure.mean.captain` as the general name and the rank. */
const parted = (name: string): [string, string | undefined] => {
  const [, general, rank] = /^(tenure\.mean)\.(.+)$/.exec(name) ?? [];
  return general === undefined ? [name, undefined] : [general, rank];
};

const inWords = ({ name, value, was, from }: Estimate): string =>
  `${name} comes to ${value}, from ${from} of this ledger; ${value === was ? 'that is the value in force' : `in force is ${was}`}`;

function meanGrounds(situation: Situation, estimates: readonly Estimate[]): Ground[] {
  const closed = closedTenures(situation.db, situation.assumptions);
  return estimates.map((estimate) => {
    const tenures = closed.get(parted(estimate.name)[1] ?? '') ?? [];
    const all = tenures.reduce((sum, { days }) => sum + days, 0);
    return ground(
      'figure',
      `${tenures.length} tenures with a bounded start and end took ${years(all)} years in all: ${estimate.value} each`,
      estimate.name,
      [
        ...tenures
          .slice(0, MOST_TOLD)
          .map(({ person, tenure, days }, place) =>
            ground(
              'figure',
              `${personName(situation.db, person).name}, ${postInWords(tenure)}: ${years(days)} years, from the middle of its start to the middle of its end`,
              tenureId(`p${person}`, tenure),
              place < MOST_TRACED ? [tenureGround(situation.person(person), tenure, situation.reader)] : [],
              days,
            ),
          ),
        ...(tenures.length > MOST_TOLD ? [note(`and ${tenures.length - MOST_TOLD} more`)] : []),
      ],
      all,
    );
  });
}

const years = (days: number): string => String(Number((days / DAYS_PER_YEAR).toFixed(2)));

/** Surnames told one by one. */
const MOST_SURNAMES = 20;

/** The surnames are counted, not listed: how many people bear the commonest. */
function surnameGrounds({ db }: Situation): Ground[] {
  const counts = surnameCounts(db);
  const people = counts.reduce((sum, count) => sum + count, 0);
  const commonest = [...counts].sort((a, b) => b - a).slice(0, MOST_SURNAMES);
  return [
    note(
      `the chance that two people of the ledger, taken at random, bear one surname: Σ n(n − 1) over the surnames, divided by ${people} × ${people - 1}`,
    ),
    note(`${counts.length} surnames; the commonest are borne by ${commonest.join(', ')} people`),
  ];
}
