import { type Assumptions, DAYS_PER_YEAR, DEFAULTS, forRank } from '../../../src/assumptions.ts';
import { likelihood } from '../../../src/attribution/agreement.ts';
import type { Sweep, UnrecordedInput } from '../../../src/attribution/unrecorded.ts';
import { unrecordedOn } from '../../../src/attribution/unrecorded.ts';
import type { CareerEvidence, DateEvidence, ListedEntry, NilSearch } from '../../../src/careers/evidence.ts';
import { type DelayPart, delayLaw } from '../../../src/dating/delay.ts';
import { cumulative, type Density } from '../../../src/dating/density.ts';
import { type FeatureWindow, makingDensity } from '../../../src/dating/making.ts';
import { type Marking, markDensity } from '../../../src/dating/marking.ts';
import type { Rank } from '../../../src/services/rank.ts';
import { gregorianDay, toGregorian } from '../../../src/time/calendar.ts';
import { type Day, NO_END, NO_START, type Span } from '../../../src/time/span.ts';
import { MAIN_STEPS } from '../../careers/recorded.ts';

/** Numbers from 0 to 1, always the same from one seed. */
export function chance(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), state | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** How the world goes, where it does not go as the assumptions have it. */
export type World = {
  /** Times the usual time in post. */
  readonly tenure: number;
  /** Times the number of people who are not in the ledger. */
  readonly unrecorded: number;
  /** Part of the owners' marks that were put on when the object was new; undefined: as assumed. */
  readonly soonShare: number | undefined;
  /** Part of the listings that the printer gave to the wrong year. */
  readonly misprints: number;
};

export const AS_ASSUMED: World = { tenure: 1, unrecorded: 1, soonShare: undefined, misprints: 0 };

const HORIZON: Span = { from: gregorianDay(1760, 1, 1), until: gregorianDay(1901, 1, 1) };
export const ASSUMED: Assumptions = { ...DEFAULTS, horizon: HORIZON };

const STEPS = MAIN_STEPS.get('army') as readonly Rank[];
const [ENSIGN, LIEUTENANT, CAPTAIN, MAJOR] = STEPS as readonly [Rank, Rank, Rank, Rank];
const LADDER = [ENSIGN, LIEUTENANT, CAPTAIN, MAJOR];

/** A person as they were, with what the ledger has of them. */
export type Figure = {
  readonly person: string;
  readonly bits: { readonly surname: number; readonly forenames: number };
  readonly evidence: CareerEvidence;
  /** What they would weigh on a day as a bearer of the rank: how likely the mark is to be read so if it is theirs. */
  readonly weightOn: (day: number) => number;
};

/** One mark with everybody whose it may be, and whose it is; undefined: somebody who is not in the ledger. */
export type Case = {
  readonly figures: readonly Figure[];
  readonly rank: Rank;
  readonly marking: Marking;
  readonly unrecorded: UnrecordedInput;
  readonly day: number;
  readonly owner: string | undefined;
};

/** More people than these are hardly ever in the rank at once: the number against which a draw is taken or left. */
const MOST_AT_ONCE = 8;

/**
 * A mark by the story that the arithmetic tells. An object is made on a day that agrees with its features; after a delay
 * some bearer of the rank puts a name on it; whoever was in the rank on that day was as likely to, but for how well the
 * reading agrees with them. People are in post for times without memory; lists are looked into on days of no meaning.
 * Draws in which nobody could have put the mark on are left, so that what is left has the chances that are reckoned.
 */
export function drawCase(next: () => number, world: World): Case {
  for (;;) {
    const drawn = draw(next, world);
    if (drawn !== undefined) return drawn;
  }
}

function draw(next: () => number, world: World): Case | undefined {
  const rank = next() < 0.5 ? LIEUTENANT : CAPTAIN;
  const initial = next() < 0.5;
  const { made, before } = makings()[Math.floor(next() * MAKINGS)] as Made;
  const day = pick(next, before) + delay(next, world);
  if (day >= made.weights.length) return undefined;
  const figures: Figure[] = [];
  const wanted = 1 + poisson(next, 4);
  while (figures.length < wanted) {
    const figure = person(next, world, `p${figures.length + 1}`, rank, initial);
    if (figure !== undefined) figures.push(figure);
  }
  const sweeps = Array.from(
    { length: Math.floor(next() * 3) },
    (): Sweep => ({
      surname: 'ferrand',
      midDay: Math.floor(between(next, 1780, 1880)),
    }),
  );
  const unrecorded: UnrecordedInput = {
    rank: rank.id,
    surname: { damaged: false, seenLetters: 7 },
    unknownBits: initial ? ASSUMED.values['unknown.initial'] : 0,
    sweeps,
  };
  const on = { from: (HORIZON.from + day) as Day, until: (HORIZON.from + day + 1) as Day };
  const others = poisson(next, (unrecordedOn(on, unrecorded, ASSUMED)[0] as number) * world.unrecorded);
  const weights = figures.map(({ weightOn }) => weightOn(on.from));
  const all = weights.reduce((sum, weight) => sum + weight, others);
  if (next() * MOST_AT_ONCE >= all) return undefined;
  let left = next() * all;
  const at = weights.findIndex((weight) => {
    left -= weight;
    return left < 0;
  });
  const stated = next() < 0.4 ? around(next, on.from) : undefined;
  const marking = markDensity({ id: 'm1', roles: [{ role: 'owner', weight: 1 }], stated, clues: [] }, made, ASSUMED);
  return { figures, rank, marking, unrecorded, day: on.from, owner: figures[at]?.person };
}

const between = (next: () => number, first: number, last: number): number =>
  gregorianDay(first, 1, 1) + next() * (gregorianDay(last, 1, 1) - gregorianDay(first, 1, 1));

function poisson(next: () => number, mean: number): number {
  let left = next();
  let term = Math.exp(-mean);
  let k = 0;
  for (; left >= term && k < 1000; k += 1) {
    left -= term;
    term *= mean / (k + 1);
  }
  return k;
}

type Made = { readonly made: Density; readonly before: Float64Array };
const MAKINGS = 80;
let known: readonly Made[] | undefined;

/** Objects with their features, of which each mark takes one. */
function makings(): readonly Made[] {
  if (known === undefined) {
    const next = chance(4);
    known = Array.from({ length: MAKINGS }, () => {
      const features = [window(next, 'f1'), ...(next() < 0.5 ? [window(next, 'f2')] : [])];
      const made = makingDensity(features, HORIZON).density;
      return { made, before: cumulative(made.weights) };
    });
  }
  return known;
}

/** A day by the sums of the weights before each. */
function pick(next: () => number, before: Float64Array): number {
  const wanted = next() * (before[before.length - 1] as number);
  let [low, high] = [0, before.length - 1];
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if ((before[middle] as number) <= wanted) low = middle;
    else high = middle;
  }
  return low;
}

/** Whole days, with the weight exp(−days / mean). */
const geometric = (next: () => number, perDay: number): number => Math.floor(Math.log(1 - next()) / Math.log(perDay));

function delay(next: () => number, { soonShare }: World): number {
  const [soon, late] = delayLaw('owner', ASSUMED) as readonly [DelayPart, DelayPart];
  const isSoon = next() < (soonShare ?? ASSUMED.values['delay.owner.soon.share']);
  return geometric(next, (isSoon ? soon : late).perDay);
}

function window(next: () => number, id: string): FeatureWindow {
  const from = Math.floor(between(next, 1780, 1840)) as Day;
  const until = (from + Math.floor((10 + 40 * next()) * DAYS_PER_YEAR)) as Day;
  const firm = next() < 0.3;
  return {
    id,
    text: id,
    window: firm ? { from, until: NO_END } : next() < 0.2 ? { from: NO_START, until } : { from, until },
    force: firm ? 'hard' : 'usual',
    weight: next() < 0.5 ? 'moderate' : 'strong',
    state: 'original',
    recorded: 1,
  };
}

/** A date on the mark that holds its day, whichever day of it that is. */
function around(next: () => number, day: number): Span {
  const width = Math.ceil((1 + 9 * next()) * DAYS_PER_YEAR);
  const from = (day - Math.floor(next() * width)) as Day;
  return { from, until: (from + width) as Day };
}

/** Somebody of the name or of one like it; undefined where the lists that were looked into do not show them. */
function person(next: () => number, world: World, id: string, rank: Rank, initial: boolean): Figure | undefined {
  const surname = next() < 0.6 ? 0 : next() < 0.5 ? 6 : 11;
  const forenames = initial && next() < 0.4 ? ASSUMED.values['agree.forenames.contradict'] : 0;
  const length = 2 + Math.floor(next() * 3);
  const bounds = [Math.floor(between(next, 1770, 1870))];
  for (const { id: rankId } of LADDER.slice(0, length)) {
    const mean = forRank(ASSUMED, 'tenure.mean', rankId) * DAYS_PER_YEAR * world.tenure;
    bounds.push((bounds[bounds.length - 1] as number) + 1 + geometric(next, Math.exp(-1 / mean)));
  }
  const left = bounds[length] as number;
  const died = left + geometric(next, Math.exp(-1 / (ASSUMED.values['courtesy.mean'] * DAYS_PER_YEAR)));
  const { entries, nilSearches, seen } = looked(next, world, id, bounds);
  if (!seen.has(length - 1)) return undefined; // the highest rank must be known, else he bears one that is not
  const place = LADDER.indexOf(rank);
  const firstSeen = Math.min(...seen);
  const beside = likelihood(surname + forenames);
  const { 'agree.rank.implied': implied, 'agree.rank.courtesy': courtesy } = ASSUMED.values;
  const inRank = seen.has(place) ? 1 : place > firstSeen || place === firstSeen - 1 ? likelihood(implied) : 0;
  return {
    person: id,
    bits: { surname, forenames },
    evidence: {
      entries,
      notices: [],
      nilSearches,
      conditions: [],
      born: next() < 0.9 ? { id, date: oneYear(bounds[0] as number, next) } : undefined,
      died: undefined,
      setAside: new Set(),
      mainSteps: new Map([['army', STEPS]]),
    },
    weightOn: (day) => {
      if (place >= length) return 0;
      if (day >= (bounds[place] as number) && day < (bounds[place + 1] as number)) return beside * inRank;
      const kept = place === length - 1 && day >= left && day < died;
      return kept ? beside * likelihood(courtesy) : 0;
    },
  };
}

/** A year of birth that leaves the first day in post as likely as any later one: up to 80 years beyond the least age. */
function oneYear(start: number, next: () => number): DateEvidence {
  const { year } = toGregorian(start as Day);
  const born = year - 11 - Math.floor(next() * 80);
  return {
    span: { from: gregorianDay(born, 1, 1), until: gregorianDay(born + 1, 1, 1) },
    uncertain: false,
    text: `${born}`,
  };
}

const FIRST_YEAR = 1750;
const LAST_YEAR = 1910;
let newYears: readonly Day[] | undefined;

function newYear(year: number): Day {
  newYears ??= Array.from({ length: LAST_YEAR - FIRST_YEAR + 1 }, (_, i) => gregorianDay(FIRST_YEAR + i, 1, 1));
  return newYears[year - FIRST_YEAR] as Day;
}

const editions = new Map<number, ListedEntry['edition']>();

/** The list of a year, which stands as at its first day. */
function editionOf(year: number): ListedEntry['edition'] {
  const from = newYear(year);
  const text = String(year);
  const edition = editions.get(year) ?? {
    id: `ed${year}`,
    label: text,
    asAt: { span: { from, until: (from + 1) as Day }, uncertain: false, text },
    lagDays: 0,
  };
  editions.set(year, edition);
  return edition;
}

/** What lists show of a career: each year's is looked into or not, whatever it shows. */
function looked(next: () => number, world: World, id: string, bounds: readonly number[]) {
  const often = [0.05, 0.15, 0.4][Math.floor(next() * 3)] as number;
  const entries: ListedEntry[] = [];
  const nilSearches: NilSearch[] = [];
  const seen = new Set<number>();
  for (let year = 1765; year < 1900; year += 1) {
    if (next() >= often) continue;
    const day = newYear(year);
    const at = bounds.findIndex((start, i) => i + 1 < bounds.length && day >= start && day < (bounds[i + 1] as number));
    if (at < 0) {
      if (next() < 0.5) nilSearches.push({ id: `q${id}-${year}`, edition: editionOf(year), service: 'army' });
      continue;
    }
    const wrong = next() < world.misprints ? Math.round((next() - 0.5) * 10) : 0;
    const edition = editionOf(year + wrong);
    const start = bounds[at] as Day;
    seen.add(at);
    entries.push({
      id: `e${id}-${year}`,
      edition,
      rank: LADDER[at] as Rank,
      corps: undefined,
      kind: 'substantive',
      dated:
        next() < 0.2
          ? { span: { from: start, until: (start + 1) as Day }, uncertain: false, text: 'dated' }
          : undefined,
      page: undefined,
    });
  }
  return { entries, nilSearches, seen };
}
