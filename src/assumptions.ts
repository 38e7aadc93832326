import { type Day, type Span, spanThrough } from './time/span.ts';

/**
 * Every weight that the arithmetic uses and that is a judgement, not a fact. Each is defined here once; a ledger may
 * change it, and the change is itself recorded. Years are 365.25 days.
 */
type Definition = { readonly value: number; readonly unit: string; readonly meaning: string; readonly source: string };

const COMMON = 'common practice, from memory';
const MODEL = 'judgement; argued in DEVELOPERS.md';

const bits = (value: number, meaning: string): Definition => ({ value, unit: 'bits', meaning, source: COMMON });
const years = (value: number, meaning: string, source = COMMON): Definition => ({
  value,
  unit: 'years',
  meaning,
  source,
});
const weight = (value: number, meaning: string): Definition => ({ value, unit: 'reliability', meaning, source: MODEL });
const part = (value: number, meaning: string): Definition => ({ value, unit: 'share', meaning, source: MODEL });
const factor = (value: number, meaning: string): Definition => ({ value, unit: 'factor', meaning, source: MODEL });

export const DEFINITIONS = {
  circa: years(5, 'an approximate year reaches this far to either side when it is used as evidence'),
  'circa.month': {
    value: 2,
    unit: 'months',
    meaning: 'an approximate month reaches this far to either side',
    source: COMMON,
  },
  'circa.day': {
    value: 14,
    unit: 'days',
    meaning: 'an approximate day reaches this far to either side',
    source: COMMON,
  },
  'minimum.age': years(10, 'nobody is appointed younger than this; counted in calendar years'),
  'reliability.life': weight(10, 'a day of birth or death'),
  'reliability.notice': weight(6, 'a notice in a gazette, register or paper'),
  'reliability.dated': weight(4, 'the date of rank that a list prints'),
  'reliability.listing': weight(3, 'a name standing in a list'),
  'reliability.nil': weight(2, 'a name looked for in a list and not found'),
  'reliability.hearsay': weight(1, 'a date given as uncertain'),
  'reliability.kin': weight(2, 'a kinship, or a finding that two records are of one person'),
  'parent.age': years(12, 'nobody is a parent younger than this'),
  'tenure.mean': years(8, 'usual time in one post; `tenure.mean.RANK` sets it for one rank'),
  'courtesy.mean': years(20, 'how long a style is kept after leaving, where the day of death is unknown'),
  'person.before': years(10, 'usual adult life before the first known day in post'),
  'person.after': years(20, 'usual adult life after the last known day in post'),
  'delay.trade': years(1, 'mean delay between the making and a maker’s or retailer’s mark', MODEL),
  'delay.owner.soon': years(3, 'mean delay of an owner’s mark made when the object was new', MODEL),
  'delay.owner.late': years(40, 'mean delay of a later owner’s mark', MODEL),
  'delay.owner.soon.share': part(0.6, 'share of owners’ marks made when the object was new'),
  'delay.later': years(40, 'fall-off by the calendar of depository, carrier, sale and other marks', MODEL),
  'agree.limit': bits(20, 'a reading further away than this is no candidate'),
  'agree.limit.letter': bits(3, 'the same limit for each visible letter of the reading'),
  'agree.element': bits(3, 'only one element of a compound surname'),
  'agree.forenames.later': bits(2, 'the mark’s forenames are only later forenames of the person'),
  'agree.forenames.contradict': bits(10, 'the forenames contradict'),
  'unknown.initial': bits(3, 'the person’s forenames are unknown and the mark has a first initial'),
  'unknown.first': bits(5, 'the person’s forenames are unknown and the mark has a first forename in full'),
  'unknown.later': bits(4, 'each further forename on the mark that the person is not known to have'),
  'agree.rank.brevet': bits(1, 'the rank was held by brevet'),
  'agree.rank.implied': bits(2, 'the rank is implied by those above it'),
  'agree.rank.courtesy': bits(3, 'the style was kept as a courtesy after leaving'),
  'agree.corps.unknown': bits(6, 'the person’s corps is unknown'),
  'agree.corps.differs': bits(10, 'the person served in another corps'),
  'agree.place.unknown': bits(4, 'the person’s place is unknown'),
  'agree.place.differs': bits(6, 'the person is known at another place only'),
  'in-post': {
    value: 1000,
    unit: 'people',
    meaning: 'number of people in post in the rank on one day; `in-post.RANK` sets it for one rank',
    source: MODEL,
  },
  'in-post.any': {
    value: 10_000,
    unit: 'people',
    meaning: 'number of people alive who could have made a mark without a rank',
    source: MODEL,
  },
  'name.frequency': {
    value: 0.0001,
    unit: 'share',
    meaning: 'frequency of one surname among all people',
    source: MODEL,
  },
  'sweep.missed': part(0.1, 'part of the bearers of a surname that a sweep misses'),
  'service.mean': years(20, 'usual time that one person stays listed', MODEL),
  'hang.ratio': part(0.5, 'a conclusion hangs on a record whose omission cuts the share to this part of it or less'),
  'chain.same': factor(20, 'successive marks by the same person'),
  'chain.kin': factor(10, 'successive marks by recorded kin'),
  'chain.surname': factor(5, 'successive marks by bearers of one surname'),
  'wording.certain': part(0.95, 'from this share on: almost certainly'),
  'wording.very': part(0.8, 'from this share on: very probably'),
  'wording.probably': part(0.6, 'from this share on: probably'),
  'wording.possibly': part(0.3, 'from this share on: possibly'),
} as const satisfies Record<string, Definition>;

export type AssumptionName = keyof typeof DEFINITIONS;

/** Names that a ledger may qualify by a rank, as in `in-post.captain`; the rank is written as its id. */
export const PER_RANK = ['tenure.mean', 'in-post'] as const;

export const DAYS_PER_YEAR = 365.25;

/** 1600-01-01 … 1959-12-31, Gregorian. */
export const DEFAULT_HORIZON: Span = spanThrough(2305448 as Day, 2436934 as Day);

/** The values in force: the defaults under what the ledger changed. */
export type Assumptions = {
  readonly values: Readonly<Record<AssumptionName, number>>;
  readonly perRank: ReadonlyMap<string, number>;
  readonly horizon: Span;
};

export const DEFAULTS: Assumptions = {
  values: Object.fromEntries(Object.entries(DEFINITIONS).map(([name, { value }]) => [name, value])) as Record<
    AssumptionName,
    number
  >,
  perRank: new Map(),
  horizon: DEFAULT_HORIZON,
};

/** The value for one rank where the ledger sets one (`in-post.captain`), else the general value. */
export const forRank = (given: Assumptions, name: (typeof PER_RANK)[number], rankId: string | undefined): number =>
  (rankId === undefined ? undefined : given.perRank.get(`${name}.${rankId}`)) ?? given.values[name];
