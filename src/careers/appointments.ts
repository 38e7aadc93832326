import type { Rank } from '../services/rank.ts';
import { type Attested, attestedByNotice, byMiddle, isEntry, middleOf } from './attested.ts';
import type { AppointmentKind, CareerEvidence, Corps, ListedEntry, Notice } from './evidence.ts';
import { gatherPosts, isConcurrent, type Post, type Unused } from './posts.ts';

/** One rank in one corps held once, from a first day to a last. */
export type Appointment = {
  readonly rank: Rank;
  readonly corps: Corps | undefined;
  readonly kind: AppointmentKind;
  readonly implied: boolean;
  readonly entries: readonly ListedEntry[];
  readonly starts: readonly Notice[];
  readonly ends: readonly Notice[];
  /** Middle of the days for which it is attested. */
  readonly middle: number;
};

/** The substantive appointments of one service in their order, each beginning where the one before it ended. */
type Succession = { readonly service: string; readonly appointments: readonly Appointment[] };

export type Appointments = {
  readonly successions: readonly Succession[];
  readonly concurrent: readonly Appointment[];
  readonly unused: readonly Unused[];
};

/**
 * Puts evidence together into appointments.
 *
 * 1. Entries and notices of the same service, rank, corps and kind are one appointment, even where their stated dates
 *    differ: a misprint then shows as a conflict.
 * 2. Evidence that can only lie after a notice of leaving is of a second appointment to that post. (A list that may
 *    lag behind the notice is not.)
 * 3. So is evidence of a post, a notice of leaving included, after another post on the same rung of the ladder, or any
 *    other in a service without one. A post on another rung never stands in between: the ladder orders the two, and a contradiction shows.
 * 4. A second notice of leaving, with no evidence of a return between, is of the same appointment; but one who is on
 *    half-pay holds no post that he could leave, so what follows half-pay is not used.
 * 5. The order is that of the ladder, then of the middle of the evidence.
 * 6. A main step of the ladder that is skipped between two appointments is implied.
 * 7. Appointments by brevet, on the staff and the like are concurrent: they stand in no succession.
 */
export function findAppointments(evidence: CareerEvidence): Appointments {
  const { posts, unused } = gatherPosts(evidence);
  const concurrent: Held[] = [];
  const byService = new Map<string, Held[]>();
  for (const post of posts) {
    const held = splitByLeaving(post, unused);
    if (isConcurrent(post)) concurrent.push(...held);
    else {
      const { service, branch } = post.rank;
      // A grade is held beside an office: grades succeed grades, offices succeed offices.
      const ladder = branch === 'grade' ? `${service} grades` : service;
      const others = byService.get(ladder);
      if (others === undefined) byService.set(ladder, held);
      else others.push(...held);
    }
  }
  const successions = [...byService.values()].map((held) =>
    succession(held[0]?.post.rank.service ?? '', held, evidence),
  );
  return { successions: successions.sort(byStart), concurrent: concurrent.map(appointment).sort(byRung), unused };
}

/** A post held once. */
type Held = { readonly post: Post; readonly attested: Attested[]; readonly ends: Notice[] };

function splitByLeaving(post: Post, unused: Unused[]): Held[] {
  if (post.leavings.length === 0) return [{ post, attested: post.attested, ends: [] }];
  const leavings = [...post.leavings].sort((a, b) => a.date.span.until - b.date.span.until);
  const rounds: Attested[][] = [[], ...leavings.map(() => [])];
  for (const item of post.attested) {
    const after = leavings.filter((leaving) => item.first >= leaving.date.span.until - 1).length;
    rounds[after]?.push(item);
  }
  const held: Held[] = [];
  rounds.forEach((attested, round) => {
    let current = held.at(-1);
    if (attested.length > 0 || current === undefined) {
      current = { post, attested, ends: [] };
      held.push(current);
    }
    const leaving = leavings[round];
    if (leaving === undefined) return;
    if (current.ends.some((end) => end.event === 'half-pay' && end.date.span.until <= leaving.date.span.from)) {
      unused.push({ id: leaving.id, reason: 'It follows half-pay, so that there was no post left to leave.' });
    } else current.ends.push(leaving);
  });
  return held;
}

function succession(service: string, held: Held[], evidence: CareerEvidence): Succession {
  const laddered = held.every(({ post }) => post.rank.order !== undefined);
  const parts = splitByOthers(held, laddered)
    .map(appointment)
    .sort(laddered ? byRung : byMiddleOnly);
  const steps = laddered ? evidence.mainSteps.get(service) : undefined;
  return { service, appointments: steps === undefined ? parts : withImplied(parts, steps) };
}

/** Parts what was held, left for another post on the same rung, and held again. */
function splitByOthers(held: readonly Held[], laddered: boolean): readonly Held[] {
  if (held.length < 2) return held;
  const rungs = new Map<number, Held[]>();
  for (const one of held) {
    const rung = laddered ? (one.post.rank.order as number) : 0;
    const others = rungs.get(rung);
    if (others === undefined) rungs.set(rung, [one]);
    else others.push(one);
  }
  if (rungs.size === held.length) return held;
  return [...rungs.values()].flatMap((rung) => (rung.length < 2 ? rung : splitRung(rung)));
}

function splitRung(rung: readonly Held[]): Held[] {
  const parts = rung.map((one): Held[] => [{ ...one, attested: [], ends: [] }]);
  const items = rung.flatMap((one, at) => [
    ...one.attested.map((item) => ({ item, at, end: undefined })),
    ...one.ends.map((end) => ({ item: attestedByNotice(end), at, end })),
  ]);
  items.sort((a, b) => byMiddle(a.item, b.item));
  const seen: { item: Attested; at: number }[] = [];
  for (const { item, at, end } of items) {
    const own = parts[at] as Held[];
    const { post } = rung[at] as Held;
    const before = seen.findLast((other) => other.at === at)?.item;
    const left =
      before !== undefined &&
      seen.some(
        (other) =>
          (rung[other.at] as Held).post !== post && other.item.first > before.last && item.first > other.item.last,
      );
    if (left) own.push({ post, attested: [], ends: [] });
    const current = own.at(-1) as Held;
    if (end === undefined) current.attested.push(item);
    else current.ends.push(end);
    seen.push({ item, at });
  }
  return parts.flat();
}

function appointment({ post, attested, ends }: Held): Appointment {
  const entries: ListedEntry[] = [];
  const starts: Notice[] = [];
  let first = Infinity;
  let last = -Infinity;
  for (const { record, middle } of attested) {
    if (isEntry(record)) entries.push(record);
    else starts.push(record);
    if (middle < first) first = middle;
    if (middle > last && middle < Infinity) last = middle;
  }
  for (const { date } of attested.length === 0 ? ends : []) {
    first = Math.min(first, middleOf(date.span.from, date.span.until - 1));
    last = first;
  }
  const middle = last === -Infinity ? first : (first + last) / 2;
  return { rank: post.rank, corps: post.corps, kind: post.kind, implied: false, entries, starts, ends, middle };
}

const byMiddleOnly = (a: Appointment, b: Appointment): number => compare(a.middle, b.middle) || byName(a, b);

const byRung = (a: Appointment, b: Appointment): number => compare(a.rank.order, b.rank.order) || byMiddleOnly(a, b);

/** Names decide between posts that nothing else tells apart, so that the order of recording never does. */
const byName = (a: Appointment, b: Appointment): number =>
  compare(a.rank.service, b.rank.service) ||
  compare(a.rank.id, b.rank.id) ||
  compare(a.corps?.key ?? '', b.corps?.key ?? '') ||
  compare(a.kind, b.kind);

const byStart = (a: Succession, b: Succession): number =>
  compare(a.appointments[0]?.middle, b.appointments[0]?.middle) || compare(a.service, b.service);

function compare<T extends string | number>(a: T | undefined, b: T | undefined): number {
  if (a === b || a === undefined || b === undefined) return 0;
  return a < b ? -1 : 1;
}

/** `steps` are the main steps of the ladder, junior first. */
function withImplied(parts: readonly Appointment[], steps: readonly Rank[]): readonly Appointment[] {
  const whole: Appointment[] = [];
  for (const part of parts) {
    let below = whole.at(-1)?.rank.order;
    const above = part.rank.order;
    // Other branches have ladders of their own: a surgeon was no lieutenant on the way.
    const sameLine = part.rank.branch === undefined && whole.at(-1)?.rank.branch === undefined;
    if (below !== undefined && above !== undefined && sameLine) {
      for (const rank of steps) {
        if (rank.order === undefined || rank.order <= below || rank.order >= above) continue;
        whole.push(implied(rank));
        below = rank.order;
      }
    }
    whole.push(part);
  }
  return whole;
}

const implied = (rank: Rank): Appointment => ({
  rank,
  corps: undefined,
  kind: 'substantive',
  implied: true,
  entries: [],
  starts: [],
  ends: [],
  middle: Number.NaN,
});
