import type { PersonName } from '../ledger/people.ts';
import type { Days } from './made.ts';
import data from './red-flags.json' with { type: 'json' };
import type { SaidDate } from './report-dates.ts';

/** What a house has to see to before a lot may be offered or moved. */
export type RedFlag =
  /** Days of 1933 to 1945 on which nobody is known to have held the object. */
  | { readonly flag: 'gap'; readonly from: string; readonly to: string }
  /** It changed hands in those years. */
  | { readonly flag: 'transfer'; readonly person: PersonName | null; readonly from: string; readonly to: string }
  /** A word for the material of a protected species. */
  | { readonly flag: 'species'; readonly material: string; readonly word: string; readonly where: string }
  /** Somebody named may be living. */
  | { readonly flag: 'living'; readonly person: PersonName }
  /** Old enough for rules on export; `sure`: the latest day of its making is. */
  | { readonly flag: 'export'; readonly years: number; readonly sure: boolean };

export type FlaggedLot = {
  readonly texts: readonly { readonly where: string; readonly text: string }[];
  readonly made: Days;
  /** Who put on which mark between which days, in their order; `again`: by the same person as the one before. */
  readonly holders: readonly (Days & { readonly person: PersonName | null; readonly again: boolean })[];
  readonly people: readonly LifeFacts[];
};

export type LifeFacts = {
  readonly person: PersonName;
  readonly born: SaidDate | null;
  readonly died: SaidDate | null;
  /** The last day on which something is known of them, or can be. */
  readonly lastKnown: string | null;
};

/** The flags of a lot on the day of the ledger (`YYYY-MM-DD`), in the order of the list above. */
export const redFlags = (lot: FlaggedLot, today: string): RedFlag[] => [
  ...unsafeYears(lot),
  ...protectedSpecies(lot),
  ...lot.people.filter((life) => mayBeLiving(life, today)).map(({ person }): RedFlag => ({ flag: 'living', person })),
  ...exportAge(lot, today),
];

/**
 * Whether somebody may be living on a day.
 * 1. Known to have died: no. 2. Born so long ago that nobody lives so long: no. 3. Born later than that: yes.
 * 4. Birth unknown: yes, where the last that is known of them lies within the life of a grown person, or nothing is.
 */
export function mayBeLiving({ born, died, lastKnown }: Omit<LifeFacts, 'person'>, today: string): boolean {
  if (died !== null) return false;
  const latestBirth = born?.to ?? null;
  if (latestBirth !== null) return latestBirth > yearsBefore(today, data.livingYears.years);
  return lastKnown === null || lastKnown > yearsBefore(today, data.adultYears.years);
}

/**
 * A mark tells that somebody had the object on one day of a span, not on all of them. So the years are accounted for only
 * between two marks of one person: from the last day of the one to the first of the other.
 */
function unsafeYears({ made, holders }: FlaggedLot): RedFlag[] {
  const { gap } = data;
  if (made.from !== null && made.from > gap.to) return [];
  const start = made.from !== null && made.from > gap.from ? made.from : gap.from;
  const flags: RedFlag[] = [];
  let covered = start;
  for (const [place, { person, from, to, again }] of holders.entries()) {
    const before = holders[place - 1];
    if (again && before?.to && from && before.to < from && from > covered && before.to < gap.to) {
      if (before.to > covered) flags.push({ flag: 'gap', from: covered, to: before.to });
      covered = from;
    }
    if (!again && from !== null && from > start && from <= gap.to)
      flags.push({ flag: 'transfer', person, from, to: earlier(to ?? gap.to, gap.to) });
  }
  return covered < gap.to ? [...flags, { flag: 'gap', from: covered, to: gap.to }] : flags;
}

let species: readonly { material: string; word: RegExp; harmless: RegExp | undefined }[] | undefined;

/** The words to look for; made once, when first asked for. */
function speciesWords() {
  species ??= data.species.map(({ material, pattern, not }) => ({
    material,
    word: new RegExp(`(?<!\\p{L})(?:${pattern})(?!\\p{L})`, 'iu'),
    harmless: not === '' ? undefined : new RegExp(`(?<!\\p{L})(?:${not})`, 'giu'),
  }));
  return species;
}

function protectedSpecies({ texts }: FlaggedLot): RedFlag[] {
  return speciesWords().flatMap(({ material, word, harmless }) => {
    for (const { where, text } of texts) {
      const plain = text.replaceAll('’', "'");
      const found = word.exec(harmless === undefined ? plain : plain.replaceAll(harmless, ' '));
      if (found) return [{ flag: 'species' as const, material, word: found[0], where }];
    }
    return [];
  });
}

function exportAge({ made }: FlaggedLot, today: string): RedFlag[] {
  const { years } = data.exportYears;
  const before = yearsBefore(today, years);
  if (made.from !== null && made.from >= before) return [];
  return [{ flag: 'export', years, sure: made.to !== null && made.to < before }];
}

/** Days of answers compare as texts. */
const earlier = (a: string, b: string): string => [a, b].sort()[0] ?? a;

/** The same day so many years before; days of answers compare as texts. */
const yearsBefore = (day: string, years: number): string =>
  `${String(Number(day.slice(0, 4)) - years).padStart(4, '0')}${day.slice(4)}`;
