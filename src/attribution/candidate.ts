import type { Membership, Tenure } from '../careers/career.ts';
import { type DaySums, daySums } from '../careers/day-sums.ts';
import { addInto, type Density, roomFor, scaleBy, sumOfProducts } from '../dating/density.ts';
import type { Lasting } from '../time/allen.ts';
import { type Day, intersection, type Span } from '../time/span.ts';
import { type Bits, likelihood, type Standing, totalBits } from './agreement.ts';

/** A name that a person bore, as it agrees with the reading. `inUse` is ALL_TIME for the name they are recorded under. */
export type NameForm = { readonly surnameBits: number; readonly forenameBits: number; readonly inUse: Span };

/** One stretch of a person's life in which they can have borne the rank of the mark. */
export type Post = {
  /** Id of the tenure, to be named in the answer; undefined for a stretch that is none. */
  readonly id: string | undefined;
  readonly standing: Standing;
  readonly membership: Membership;
  readonly rankBits: number;
  readonly corpsBits: number;
  /** For the plain arithmetic of spans; undefined for a courtesy, which is no tenure. */
  readonly tenure: TenureBounds | undefined;
  readonly provisional: boolean;
  /** Of a mark with several readings, the one that this stretch answers; absent where there is one. */
  readonly readAs?: ReadAs;
};

/** Bounds of a tenure, and how long it lasts where conditions of service say so. */
type TenureBounds = Pick<Tenure, 'start' | 'end' | 'possible' | 'certain'> & { readonly lasting?: Lasting | undefined };

/** One of several readings of a mark: how likely it is the right one, and how name and place agree with it. */
export type ReadAs = {
  readonly reading: string;
  /** The shares of all readings add up to 1. */
  readonly share: number;
  readonly forms: readonly NameForm[];
  readonly placeBits: number;
};

/**
 * A person in the rank of the mark: all their tenures of it, in whatever corps and with whatever right, are one
 * candidate. Only name forms within the limit of the reading belong here.
 */
export type CandidateInput = {
  readonly person: string;
  /** Key of the rank; undefined where the mark names none. */
  readonly rank: string | undefined;
  readonly forms: readonly NameForm[];
  readonly placeBits: number;
  readonly posts: readonly Post[];
};

/** The days on which a mark can have been put on, with f(t): what every candidate is weighed against. */
export type MarkDays = {
  readonly density: Density;
  readonly days: Span;
  /** Of f. */
  readonly sums: DaySums;
};

/** Weight at either end of f that is left out, so that a long and empty tail costs no time. */
const EMPTY_TAIL = 1e-13;

export function markDays(density: Density): MarkDays {
  const { from, weights } = density;
  let first = 0;
  let last = weights.length - 1;
  for (let sum = weights[first] ?? 0; first < last && sum <= EMPTY_TAIL; sum += weights[first] as number) first += 1;
  for (let sum = weights[last] ?? 0; last > first && sum <= EMPTY_TAIL; sum += weights[last] as number) last -= 1;
  const days = { from: (from + first) as Day, until: (from + last + 1) as Day };
  return { density, days, sums: daySums(from, weights) };
}

/** The best name in use on each day of a span, as runs of days with one and the same name. */
function namesIn(span: Span, forms: readonly NameForm[]): { readonly span: Span; readonly form: NameForm }[] {
  const cuts = new Set<number>([span.from, span.until]);
  for (const { inUse } of forms) {
    for (const day of [inUse.from, inUse.until]) if (day > span.from && day < span.until) cuts.add(day);
  }
  const days = [...cuts].sort((a, b) => a - b);
  const runs: { span: Span; form: NameForm }[] = [];
  for (const [place, from] of days.slice(0, -1).entries()) {
    const run = { from: from as Day, until: days[place + 1] as Day };
    const best = bestForm(forms.filter(({ inUse }) => inUse.from <= run.from && run.until <= inUse.until));
    if (best !== undefined) runs.push({ span: run, form: best });
  }
  return runs;
}

/** The fewest bits in all; of forms that agree equally well the one with the better surname. */
function bestForm(forms: readonly NameForm[]): NameForm | undefined {
  const bits = (form: NameForm): number => form.surnameBits + form.forenameBits;
  return forms.reduce<NameForm | undefined>((best, form) => {
    if (best === undefined) return form;
    return bits(form) - bits(best) < 0 || (bits(form) === bits(best) && form.surnameBits < best.surnameBits)
      ? form
      : best;
  }, undefined);
}

const bitsOf = (form: NameForm, post: Post, candidate: CandidateInput): Bits => ({
  surname: form.surnameBits,
  forenames: form.forenameBits,
  rank: post.rankBits,
  corps: post.corpsBits,
  place: (post.readAs ?? candidate).placeBits,
});

/** A run of days on which one post and one name speak, with what they weigh together. */
type Stretch = { readonly span: Span; readonly post: Post; readonly bits: Bits; readonly factor: number };

/** Every run of days of the mark on which the candidate can have put it on; runs of different posts may overlap. */
function stretches(candidate: CandidateInput, days: Span): Stretch[] {
  return candidate.posts.flatMap((post) => {
    const shared = intersection(post.membership.support, days);
    if (shared === undefined) return [];
    return namesIn(shared, (post.readAs ?? candidate).forms).map(({ span, form }) => {
      const bits = bitsOf(form, post, candidate);
      return { span, post, bits, factor: likelihood(totalBits(bits)) * (post.readAs?.share ?? 1) };
    });
  });
}

export type Weighed = {
  /** T = Σ over the days of f(t) · a(t) · μ(t). */
  readonly weight: number;
  /** The name and post that weigh most, by their bits and standing; undefined where nothing weighs anything. */
  readonly best: { readonly bits: Bits; readonly standing: Standing; readonly reading: string | undefined } | undefined;
};

/** Above this a sum that is the difference of two others is right to a ten-thousandth of itself. */
const SURELY_RIGHT = 1e-10;

function dayByDay({ span: { from, until }, post }: Stretch, { density }: MarkDays): number {
  const membership = roomFor(until - from);
  post.membership.fill(membership, from);
  return sumOfProducts(membership, density.weights, from - density.from);
}

/** What a candidate weighs against the mark's days, tenures of the rank in different corps added up. */
export function weigh(candidate: CandidateInput, mark: MarkDays): Weighed {
  let weight = 0;
  let most = 0;
  let best: Weighed['best'];
  for (const stretch of stretches(candidate, mark.days)) {
    const whole = stretch.post.membership.weighed?.(mark.sums, stretch.span) ?? 0;
    const part = (whole > SURELY_RIGHT ? whole : dayByDay(stretch, mark)) * stretch.factor;
    weight += part;
    if (part > most) {
      most = part;
      best = { bits: stretch.bits, standing: stretch.post.standing, reading: stretch.post.readAs?.reading };
    }
  }
  return { weight, best };
}

/**
 * How likely the candidate bore the name and rank on each day, a(t) · μ(t), from the first to the last day of `days` on
 * which they can have: what a mark that names them says on that day. No weights at all where there is no such day.
 */
export function bearing(candidate: CandidateInput, days: Span): Density {
  const { shape, factor } = bearingShape(candidate, days);
  scaleBy(shape.weights, factor);
  return shape;
}

/** The same as days beside one another and a factor: of one stretch alone nobody has to multiply its days. */
export function bearingShape(
  candidate: CandidateInput,
  days: Span,
): { readonly shape: Density; readonly factor: number } {
  const runs = stretches(candidate, days);
  const from = runs.reduce<number>((first, { span }) => Math.min(first, span.from), days.until) as Day;
  const until = runs.reduce<number>((last, { span }) => Math.max(last, span.until), from);
  const weights = new Float64Array(until - from);
  const shape = { from, weights };
  const [only, other] = runs;
  if (only !== undefined && other === undefined) {
    only.post.membership.fill(weights, from);
    return { shape, factor: only.factor };
  }
  for (const [place, { span, post, factor }] of runs.entries()) {
    const part = weights.subarray(span.from - from, span.until - from);
    const isFirst = runs.slice(0, place).every((earlier) => intersection(earlier.span, span) === undefined);
    const membership = isFirst ? part : roomFor(part.length);
    post.membership.fill(membership, span.from);
    scaleBy(membership, factor);
    if (!isFirst) addInto(part, membership);
  }
  return { shape, factor: 1 };
}
