import type { Corps, DateEvidence } from '../../../src/careers/evidence.ts';
import type { LinkageInput, ListEdition, ListEntry } from '../../../src/careers/linkage/entries.ts';
import { gregorianDay } from '../../../src/time/calendar.ts';
import type { Day } from '../../../src/time/span.ts';

/** How a generated service is printed. Shares are of entries, but for `renamed`, which is of people. */
export type Faults = {
  readonly omitted: number;
  readonly misprinted: number;
  /** People who are spelt in two ways, now this, now that. */
  readonly speltTwoWays: number;
  readonly renamed: number;
  /** Without it the lists give no dates of rank. */
  readonly dated: boolean;
  /** How many surnames there are; the fewer, the more namesakes. */
  readonly surnames: number;
};

export const USUAL_FAULTS: Faults = {
  omitted: 0.02,
  misprinted: 0.02,
  speltTwoWays: 0.03,
  renamed: 0.01,
  dated: true,
  surnames: 30_000,
};

/** An invented service and who is who in it: `truth` runs beside the entries. */
export type GeneratedService = LinkageInput & { readonly truth: readonly number[]; readonly people: number };

const STARTS =
  'Bar Ber Cal Car Dal Dun El Fair Fer Gar Gil Hal Har Hol In Ken Kil Lan Mal Mar Mer Nor Old Pen Pol Quar Ra Red Rom San Sel Stan Tal Tre Ul Van Wal Wen Yar'.split(
    ' ',
  );
const MIDDLES = ['', '', ...'a be co den di el er ga i ing la le lo min na o per ra ri ro sen ta ti ver wi'.split(' ')];
const ENDS =
  'bridge by combe cott croft den dale er field ford gate ham hurst ington kins land ley low man mere more ness rand ridge sett shaw son stead ston thorpe ton wall well wick worth'.split(
    ' ',
  );
const FORENAMES =
  'John William Thomas James George Henry Charles Robert Edward Richard Joseph Francis Samuel Peter Hugh Walter Ralph Daniel Julian Luke Mark Adam Abel Giles Miles Ambrose Crispin Septimus'.split(
    ' ',
  );
const RANKS = [
  'Ensign',
  'Lieutenant',
  'Captain',
  'Major',
  'Lieutenant-Colonel',
  'Colonel',
  'Major-General',
  'Lieutenant-General',
];
const CORPS_COUNT = 150;
const FIRST_YEAR = 1760;
const YEARS = 150;

export function seededChance(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), state | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

const SLIPS: readonly (readonly [string, string])[] = [
  ['e', 'a'],
  ['i', 'y'],
  ['n', 'u'],
  ['c', 'k'],
  ['l', 'll'],
  ['ll', 'l'],
  ['t', 'tt'],
  ['s', 'z'],
  ['rn', 'm'],
  ['o', 'a'],
  ['r', 'n'],
  ['h', 'b'],
];

/** About `wanted` entries of one service over 150 years, the same for each seed. Surnames follow Zipf's law. */
export function generatedService(wanted: number, seed = 7, faults: Faults = USUAL_FAULTS): GeneratedService {
  const chance = seededChance(seed);
  const pick = <T>(list: readonly T[]): T => list[Math.floor(chance() * list.length)] as T;
  const surnameOf = surnames(chance, faults.surnames);
  const forenameOf = zipf(FORENAMES, 0.8, chance);
  const editions: ListEdition[] = Array.from({ length: YEARS }, (_, at) => {
    const asAt = gregorianDay(FIRST_YEAR + at, 1, 1);
    return {
      id: `d${at + 1}`,
      label: `${FIRST_YEAR + at}`,
      service: 'coast',
      asAt: { from: asAt, until: (asAt + 1) as Day },
      lagDays: 0,
      whole: true,
    };
  });
  const corps: Corps[] = Array.from({ length: CORPS_COUNT }, (_, at) => ({
    key: `corps ${at}`,
    name: `${at + 1} Fencibles`,
  }));
  const dates = new Map<number, DateEvidence>();
  const dateIn = (year: number): DateEvidence => {
    // Half of all promotions are made on the quarter days, many at a time.
    const month = chance() < 0.5 ? pick([1, 4, 7, 10]) : 1 + Math.floor(chance() * 12);
    const from = gregorianDay(year, month, chance() < 0.5 ? 1 : 1 + Math.floor(chance() * 28));
    const known = dates.get(from) ?? {
      span: { from, until: (from + 1) as Day },
      uncertain: false,
      text: `${month}/${year}`,
    };
    dates.set(from, known);
    return known;
  };
  const ranks = RANKS.map((title, order) => ({ id: title.toLowerCase(), title, order, service: 'coast' }));
  const rows: { entry: Omit<ListEntry, 'id'>; person: number }[] = [];
  let person = 0;
  while (rows.length < wanted) {
    let surname = surnameOf();
    const other = chance() < faults.speltTwoWays ? misspelt(surname, chance) : surname;
    const forenames = [
      forenameOf(),
      ...(chance() < 0.55 ? [forenameOf()] : []),
      ...(chance() < 0.1 ? [forenameOf()] : []),
    ];
    let year = FIRST_YEAR - 20 + Math.floor(chance() * (YEARS + 20));
    const until = Math.min(FIRST_YEAR + YEARS, year + 1 + Math.floor(Math.min(60, -Math.log(1 - chance()) * 15)));
    const renamedIn = chance() < faults.renamed ? year + 2 + Math.floor(chance() * 10) : Number.POSITIVE_INFINITY;
    let rank = chance() < 0.8 ? 0 : 1;
    let place = pick(corps);
    let dated = dateIn(year - 1);
    for (; year < until; year++) {
      if (year === renamedIn) surname = chance() < 0.5 ? surnameOf() : `${surname}-${surnameOf()}`;
      if (chance() < 0.13 && rank < RANKS.length - 1) {
        rank++;
        dated = dateIn(year - 1);
        if (chance() < 0.2) place = pick(corps);
      } else if (chance() < 0.03) place = pick(corps);
      if (year < FIRST_YEAR || chance() < faults.omitted) continue;
      const printed = {
        surname: chance() < 0.5 ? surname : year >= renamedIn ? surname : other,
        forenames: forenames.map((name) => (chance() < 0.02 ? `${name[0]}.` : name)),
        rank,
        place,
        dated,
      };
      if (chance() < faults.misprinted) misprint(printed, chance, corps, dateIn, year);
      rows.push({
        person,
        entry: {
          edition: year - FIRST_YEAR,
          surname: printed.surname,
          forenames: printed.forenames.join(' '),
          suffix: undefined,
          rank: ranks[printed.rank],
          corps: printed.place,
          kind: 'substantive',
          dated: faults.dated ? printed.dated : undefined,
          seniority: undefined,
          person: undefined,
        },
      });
    }
    person++;
  }
  for (let at = rows.length - 1; at > 0; at--) {
    const other = Math.floor(chance() * (at + 1));
    [rows[at], rows[other]] = [rows[other] as (typeof rows)[0], rows[at] as (typeof rows)[0]];
  }
  return {
    editions,
    entries: rows.map(({ entry }, at) => ({ id: `e${at + 1}`, ...entry })),
    sweeps: [],
    lives: [],
    bindings: [],
    minimumAgeYears: 10,
    certainShare: 0.95,
    truth: rows.map((row) => row.person),
    people: person,
  };
}

type Printed = { surname: string; forenames: string[]; rank: number; place: Corps; dated: DateEvidence };

/** One thing of a line is set wrong. */
function misprint(
  line: Printed,
  chance: () => number,
  corps: readonly Corps[],
  dateIn: (year: number) => DateEvidence,
  year: number,
): void {
  const what = chance();
  if (what < 0.4) line.surname = misspelt(line.surname, chance);
  else if (what < 0.6) {
    const at = Math.floor(chance() * line.forenames.length);
    const name = line.forenames[at] as string;
    line.forenames[at] = name.length < 3 ? 'T.' : misspelt(name, chance);
  } else if (what < 0.7) line.rank = Math.max(0, Math.min(RANKS.length - 1, line.rank + (chance() < 0.5 ? 1 : -1)));
  else if (what < 0.85) line.place = corps[Math.floor(chance() * corps.length)] as Corps;
  else line.dated = dateIn(year - 1 - Math.floor(chance() * 10));
}

/** A look-alike or a doubled letter where there is one, else a letter left out. */
function misspelt(name: string, chance: () => number): string {
  const start = Math.floor(chance() * SLIPS.length);
  for (let at = 0; at < SLIPS.length; at++) {
    const [from, to] = SLIPS[(start + at) % SLIPS.length] as readonly [string, string];
    const where = name.indexOf(from, 1);
    if (where > 0 && chance() < 0.8) return name.slice(0, where) + to + name.slice(where + from.length);
  }
  const gone = 1 + Math.floor(chance() * (name.length - 1));
  return name.slice(0, gone) + name.slice(gone + 1);
}

function zipf<T>(list: readonly T[], exponent: number, chance: () => number): () => T {
  const sums = new Float64Array(list.length);
  let sum = 0;
  for (let at = 0; at < list.length; at++) {
    sum += (at + 1) ** -exponent;
    sums[at] = sum;
  }
  return () => {
    const wanted = chance() * sum;
    let low = 0;
    for (let high = list.length - 1; low < high; ) {
      const middle = (low + high) >> 1;
      if ((sums[middle] as number) < wanted) low = middle + 1;
      else high = middle;
    }
    return list[low] as T;
  };
}

function surnames(chance: () => number, count: number): () => string {
  const list = STARTS.flatMap((start) => MIDDLES.flatMap((middle) => ENDS.map((end) => start + middle + end)));
  for (let at = list.length - 1; at > 0; at--) {
    const other = Math.floor(chance() * (at + 1));
    [list[at], list[other]] = [list[other] as string, list[at] as string];
  }
  return zipf([...new Set(list)].slice(0, count), 0.7, chance);
}
