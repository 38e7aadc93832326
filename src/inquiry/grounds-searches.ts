import type { Db } from '../ledger/open.ts';
import { seriesMeant } from '../ledger/series-lookups.ts';
import type { Reckoned } from './grounds-tenures.ts';
import { type GroundsReader, ground } from './grounds-tree.ts';
import { type SearchCell, searchesOf } from './searches.ts';

export const SEARCHES_FIGURES = {
  listed: 'in how many editions of a series a person is listed',
  notFound: 'in how many they were looked for in vain, or their surname swept without them',
  notLooked: 'in how many nobody has looked yet',
} as const;
export type SearchesFigure = keyof typeof SEARCHES_FIGURES;

export const isSearchesFigure = (name: string): name is SearchesFigure => Object.hasOwn(SEARCHES_FIGURES, name);

const STATES: Readonly<Record<SearchesFigure, readonly SearchCell['state'][]>> = {
  listed: ['listed'],
  notFound: ['not found', 'swept'],
  notLooked: ['not looked'],
};

const WORDS: Readonly<Record<SearchesFigure, string>> = {
  listed: 'is listed',
  notFound: 'was looked for and not found',
  notLooked: 'has not been looked for yet',
};

/**
 * In how many editions of a series somebody is listed, was not found, or was not looked for, edition by edition.
 * @param words the series; the only one there is unless said.
 * @throws HeldbyError REFERENCE, USAGE
 */
export function searchesFigure(
  db: Db,
  person: string,
  figure: SearchesFigure,
  words: string | undefined,
  reader: GroundsReader,
): Reckoned {
  const { series, people, editions } = searchesOf(db, `id:s${seriesMeant(db, words).id}`, {
    people: [`id:${person}`],
    limit: 1,
  });
  const [found] = people;
  const cells = (found?.cells ?? []).filter(({ state }) => STATES[figure].includes(state));
  return {
    value: cells.length,
    says: `${found?.person.name ?? person} ${WORDS[figure]} in ${cells.length} of ${editions.length} editions of ${series.name}`,
    grounds: cells.map(({ edition, state, rank, says, ids }) => {
      const label = editions.find(({ id }) => id === edition)?.label ?? edition;
      const told = [state, rank, says].filter((part) => part !== null).join(', ');
      return ground(
        'claim',
        `${label}: ${told}`,
        edition,
        ids.length === 0 ? [reader.record(edition)] : ids.map(reader.record),
      );
    }),
  };
}
