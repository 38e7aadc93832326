import type { ListedEntry } from '../../src/careers/evidence.ts';
import type { Rank } from '../../src/services/rank.ts';
import { date, listed } from '../careers/recorded.ts';
import examples from './data/officer-careers.json' with { type: 'json' };

/**
 * Commissions of three officers as published (regimental histories, chronologies, the Dictionary of National Biography;
 * cited beside each in the data file, some from memory and marked so), and the annual lists that would have shown them.
 */
export type Commission = { readonly rank: Rank; readonly corps: string; readonly day: string };

/** Order of ranks, junior first, with the main steps marked. Common practice. */
const LADDERS = {
  army: [
    'ensign*',
    'lieutenant*',
    'captain-lieutenant',
    'captain*',
    'major*',
    'lieutenant-colonel*',
    'colonel*',
    'major-general*',
    'lieutenant-general*',
    'general*',
    'field marshal*',
  ],
  navy: [
    'lieutenant*',
    'commander*',
    'post-captain*',
    'rear-admiral of the Blue',
    'rear-admiral of the Red',
    'vice-admiral of the Blue',
    'vice-admiral of the White',
  ],
} as const;

export const OFFICERS = [
  { name: 'Wellesley', service: 'army' },
  { name: 'Nelson', service: 'navy' },
  { name: 'Moore', service: 'army' },
] as const;

export function ladder(service: keyof typeof LADDERS): readonly Rank[] {
  let step = 0;
  return LADDERS[service].map((name, order): Rank => {
    const id = name.replace('*', '');
    const isStep = name.endsWith('*');
    return {
      id,
      title: id,
      service,
      order,
      step: isStep ? step++ : undefined,
      courtesy: 'yes',
      concurrent: false,
    };
  });
}

export const mainSteps = (service: keyof typeof LADDERS): ReadonlyMap<string, readonly Rank[]> =>
  new Map([[service, ladder(service).filter(({ step }) => step !== undefined)]]);

/** The substantive commissions of an officer, in their order. */
export function commissions({ name, service }: (typeof OFFICERS)[number]): readonly Commission[] {
  const ranks = ladder(service);
  return examples
    .filter(({ input }) => input.name.includes(name) && !/brevet|local/.test(input.corps))
    .flatMap(({ input, expected }) => {
      const rank = ranks.find(({ id }) => id === input.rank);
      return rank === undefined ? [] : [{ rank, corps: input.corps, day: expected }];
    });
}

const yearOf = (day: string): number => Number(day.slice(0, 4));

/** Lists go on for so many years after the last commission. */
const YEARS_AFTER = 3;

/** What a list as at each 1 January prints of him: rank, corps, and the day on which he reached the rank. */
export function annualLists(known: readonly Commission[]): readonly ListedEntry[] {
  const first = yearOf(known[0]?.day ?? '') + 1;
  const last = yearOf(known.at(-1)?.day ?? '') + YEARS_AFTER;
  const entries: ListedEntry[] = [];
  for (let year = first; year <= last; year++) {
    const asAt = `${year}-01-01`;
    const held = known.filter(({ day }) => day <= asAt).at(-1);
    if (held === undefined) continue;
    const dated = known.find(({ rank }) => rank.id === held.rank.id)?.day ?? held.day;
    entries.push(
      listed(`e${year}`, asAt, held.rank, { corps: held.corps === '' ? undefined : held.corps, dated: date(dated) }),
    );
  }
  return entries;
}
