import { DAYS_PER_YEAR, DEFAULTS } from '../assumptions.ts';
import { HeldbyError } from '../errors.ts';
import { daysInMonth, gregorianDay } from '../time/calendar.ts';
import { ALL_TIME, type Day, NO_END, NO_START, type Span } from '../time/span.ts';
import army from './data/army.json' with { type: 'json' };
import civil from './data/civil.json' with { type: 'json' };
import clergy from './data/clergy.json' with { type: 'json' };
import company from './data/company.json' with { type: 'json' };
import companyMarine from './data/company-marine.json' with { type: 'json' };
import marines from './data/marines.json' with { type: 'json' };
import militia from './data/militia.json' with { type: 'json' };
import navy from './data/navy.json' with { type: 'json' };
import usArmy from './data/us-army.json' with { type: 'json' };
import usNavy from './data/us-navy.json' with { type: 'json' };
import { isAscii } from './fold.ts';
import type { Courtesy, Rank } from './rank.ts';
import { idOf } from './rank-words.ts';

/** An abbreviation or another wording of a title, as printed. */
export type RankForm = {
  readonly text: string;
  /** The days on which it had this meaning. */
  readonly used: Span;
  /** Stands for the rank in the columns of a list only: it is too short, or means something else elsewhere. */
  readonly columnOnly: boolean;
};

export type RankDefinition = {
  readonly rank: Rank;
  /** Wordings beside the title; spellings of single words are known without them. */
  readonly forms: readonly RankForm[];
  /** The days on which lists print the rank, as far as known. */
  readonly existed: Span;
  /** The same as the source gives it, for a sentence: "until 1871-10-30"; empty where no limit is known. */
  readonly limits: string;
};

/** The ranks of one service, in no particular order; `hasOrder` tells whether they stand one above another. */
export type Ladder = {
  readonly service: string;
  readonly hasOrder: boolean;
  readonly ranks: readonly RankDefinition[];
};

type FormRecord =
  | string
  | { readonly form: string; readonly from?: string; readonly to?: string; readonly column?: boolean };
/** What a record leaves out is as its file's `unlessSaid` has it: no courtesy, medium confidence, from memory. */
type RankRecord = {
  readonly title: string;
  readonly order: number;
  readonly courtesy?: string;
  readonly step?: number;
  readonly concurrent?: boolean;
  readonly branch?: string;
  readonly forms?: readonly FormRecord[];
  readonly from?: string;
  readonly to?: string;
};

const SHIPPED: Readonly<Record<string, readonly RankRecord[]>> = {
  army: army.ranks,
  navy: navy.ranks,
  marines: marines.ranks,
  company: company.ranks,
  'company-marine': companyMarine.ranks,
  militia: militia.ranks,
  civil: civil.ranks,
  clergy: clergy.ranks,
  'us-army': usArmy.ranks,
  'us-navy': usNavy.ranks,
};

/** A bound of the data files: year, month or day, `~` where it is approximate and so reaches further. */
function bound(text: string, end: 'first' | 'last'): Day {
  const [year = 0, month, day] = text.replace('~', '').split('-').map(Number);
  const lastMonth = month ?? (end === 'first' ? 1 : 12);
  const exact = gregorianDay(year, lastMonth, day ?? (end === 'first' ? 1 : daysInMonth(year, lastMonth)));
  const reach = text.endsWith('~') ? Math.round(DEFAULTS.values.circa * DAYS_PER_YEAR) : 0;
  return (end === 'first' ? exact - reach : exact + reach + 1) as Day;
}

const spanOf = (from: string | undefined, to: string | undefined): Span => ({
  from: from === undefined ? NO_START : bound(from, 'first'),
  until: to === undefined ? NO_END : bound(to, 'last'),
});

function limitsOf(from: string | undefined, to: string | undefined): string {
  const words = (text: string): string => (text.endsWith('~') ? `about ${text.slice(0, -1)}` : text);
  if (from !== undefined && to !== undefined) return `from ${words(from)} to ${words(to)}`;
  return from !== undefined ? `from ${words(from)}` : to !== undefined ? `until ${words(to)}` : '';
}

/** One letter, with its point or without. */
const isOneLetter = (form: string): boolean => (isAscii(form) ? /^[A-Za-z]\.?$/.test(form) : /^\p{L}\.?$/u.test(form));

const formOf = (record: FormRecord): RankForm => {
  const { form, from, to, column } =
    typeof record === 'string' ? { form: record, column: false } : { from: undefined, to: undefined, ...record };
  return { text: form, used: spanOf(from, to), columnOnly: column === true || isOneLetter(form) };
};

const definitionOf = (service: string, record: RankRecord): RankDefinition => ({
  rank: {
    id: idOf(record.title),
    service,
    title: record.title,
    order: record.order,
    step: record.step,
    courtesy: (record.courtesy ?? 'no') as Courtesy,
    concurrent: record.concurrent ?? false,
    ...(record.branch === undefined ? {} : { branch: record.branch }),
  },
  forms: (record.forms ?? []).map(formOf),
  existed: spanOf(record.from, record.to),
  limits: limitsOf(record.from, record.to),
});

const made = new Map<string, Ladder>();

/** The services whose ladders come with the program. */
export const shippedServices = (): readonly string[] => Object.keys(SHIPPED);

/** The ladder of a service that comes with the program; made on first use. */
export function shippedLadder(service: string): Ladder | undefined {
  const records = Object.hasOwn(SHIPPED, service) ? SHIPPED[service] : undefined;
  if (records === undefined) return undefined;
  const ladder = made.get(service) ?? {
    service,
    hasOrder: true,
    ranks: records.map((each) => definitionOf(service, each)),
  };
  made.set(service, ladder);
  return ladder;
}

/** A rank that a ledger adds, or one of a shipped ladder that it corrects: what is given counts. */
export type CustomRank = {
  readonly title: string;
  readonly order?: number | undefined;
  readonly abbreviations?: readonly string[] | undefined;
  readonly courtesy?: Courtesy | undefined;
};

/**
 * A ladder with further ranks. A title that is there already (whatever its spelling, case and hyphens) is corrected
 * and its abbreviations are added to.
 * @throws HeldbyError RANK when a title has no letter, VALUE when an order is not a finite number.
 */
export function withRanks(ladder: Ladder, ranks: readonly CustomRank[]): Ladder {
  const byId = new Map(ladder.ranks.map((each) => [each.rank.id, each]));
  for (const { title, order, abbreviations, courtesy } of ranks) {
    const id = requireId(title);
    if (order !== undefined && !Number.isFinite(order)) {
      throw new HeldbyError(
        'VALUE',
        `The place of "${title}" on its ladder is not a number.`,
        'Give a number; larger is senior.',
      );
    }
    const before = byId.get(id);
    byId.set(id, {
      rank: {
        id,
        service: ladder.service,
        title: title.trim(),
        order: order ?? before?.rank.order,
        step: before?.rank.step,
        courtesy: courtesy ?? before?.rank.courtesy ?? 'no',
        concurrent: before?.rank.concurrent ?? false,
        ...(before?.rank.branch === undefined ? {} : { branch: before.rank.branch }),
      },
      forms: [...(before?.forms ?? []), ...(abbreviations ?? []).map(formOf)],
      existed: before?.existed ?? ALL_TIME,
      limits: before?.limits ?? '',
    });
  }
  const all = [...byId.values()];
  return { service: ladder.service, hasOrder: all.some(({ rank }) => rank.order !== undefined), ranks: all };
}

/** The ladder of a service that a ledger adds itself. */
export const customLadder = (service: string, ranks: readonly CustomRank[]): Ladder =>
  withRanks({ service, hasOrder: false, ranks: [] }, ranks);

/**
 * A rank of a service without a ladder, as it is written, in no order.
 * @throws HeldbyError RANK when the text has no letter.
 */
export const openRank = (service: string, text: string): Rank => ({
  id: requireId(text),
  service,
  title: text.trim(),
  order: undefined,
  step: undefined,
  courtesy: 'no',
  concurrent: false,
});

function requireId(text: string): string {
  const id = idOf(text);
  if (id === '') throw new HeldbyError('RANK', `"${text}" names no rank.`, 'Write the rank as it is printed.');
  return id;
}

/** The ranks through which everybody of the fighting line passes, junior first; none in civil life and the church. */
export const mainSteps = (ladder: Ladder): readonly Rank[] =>
  ladder.ranks
    .map(({ rank }) => rank)
    .filter(({ step }) => step !== undefined)
    .sort((a, b) => (a.step ?? 0) - (b.step ?? 0));

/**
 * Whether the style may be taken as kept after leaving. Only what was the custom counts: a style that was kept by some
 * (`sometimes`) is no ground for a candidate. A ledger that knows better corrects the rank.
 */
export const isKeptAsCourtesy = (rank: Rank): boolean => rank.courtesy === 'yes';
