import type { Assumptions } from '../assumptions.ts';
import type { Day, Span } from '../time/span.ts';
import { type Appointment, type Appointments, findAppointments } from './appointments.ts';
import type { Bounds, Career, Chain, Life, Tenure } from './career.ts';
import type { RecordedClaim } from './claims.ts';
import { allClaims, otherWays, reportConflicts, type Settled, sayAll, settle } from './conflicts.ts';
import { endNode, leavesGap, type Model, makeModel, ofAge, type Row, startNode } from './constraints.ts';
import type { CareerEvidence, ListedEntry, NilSearch, RecordId } from './evidence.ts';
import type { NetworkBounds } from './network.ts';
import { compareIds, inOrder } from './record-order.ts';

/**
 * Everything that follows, to the day, from the evidence on one person: the appointments, the tightest bounds of their
 * starts and ends with the records on which each rests, and the conflicts. The order of the records does not matter.
 */
export function solveCareer(evidence: CareerEvidence, assumptions: Assumptions): Career {
  const { appointments, model, claims, cost, settled } = settleCareer(evidence, assumptions);
  const { bounds } = settled;
  const others = settled.sets.length === 0 ? undefined : otherWays(claims, settled);
  const unsupported = unsupportedSlots(model, settled);
  const provisional = provisionalSlots(model, claims, cost, settled, bounds, others);
  const [secondBest] = others?.ways ?? [];
  return {
    tenures: model.slots.map((_, slot) =>
      tenure(model, claims, bounds, slot, provisional[slot] === 1, unsupported[slot] === 1),
    ),
    chains: model.rows.map((row) => chain(model, settled, row)),
    life: lifeOf(model, settled, assumptions),
    ...reportConflicts(claims, settled),
    otherWayOut: secondBest === undefined ? [] : sayAll(claims, secondBest),
    unused: [...appointments.unused, ...settled.findings.unused].sort((a, b) => compareIds(a.id, b.id)),
  };
}

/** Evidence as a network, with what had to be set aside for it to hold together. */
export type SettledCareer = {
  readonly appointments: Appointments;
  readonly model: Model;
  readonly claims: readonly RecordedClaim[];
  /** What it costs a path to go through each claim. */
  readonly cost: Float64Array;
  readonly settled: Settled;
};

/** The first half of solving a career, on which its bounds and its conflicts rest. */
export function settleCareer(evidence: CareerEvidence, assumptions: Assumptions): SettledCareer {
  const inUse = withoutSetAside(evidence);
  const appointments = findAppointments(inUse);
  const model = makeModel(inUse, appointments, assumptions);
  const claims = allClaims(model);
  const cost = pathCosts(claims);
  return { appointments, model, claims, cost, settled: settle(model, claims, cost, new Uint8Array(claims.length)) };
}

/** Records that the researcher set aside are as if they had never been made, and what stands in an edition set aside. */
export function withoutSetAside(evidence: CareerEvidence): CareerEvidence {
  const { setAside } = evidence;
  const kept = <R extends { readonly id: RecordId }>(records: readonly R[]): readonly R[] =>
    inOrder(setAside.size === 0 ? records : records.filter(({ id }) => !setAside.has(id)));
  const inEditions = <R extends ListedEntry | NilSearch>(records: readonly R[]): readonly R[] =>
    kept(setAside.size === 0 ? records : records.filter(({ edition }) => !setAside.has(edition.id)));
  const alive = <R extends { readonly id: RecordId }>(record: R | undefined): R | undefined =>
    record === undefined || setAside.has(record.id) ? undefined : record;
  return {
    ...evidence,
    entries: inEditions(evidence.entries),
    notices: kept(evidence.notices),
    nilSearches: inEditions(evidence.nilSearches),
    conditions: kept(evidence.conditions),
    born: alive(evidence.born),
    died: alive(evidence.died),
  };
}

/**
 * What it costs a path to go through each claim, so that among equally tight grounds those with the fewest claims are
 * named, then the most reliable, then the first among the claims: one number with a field for each (2^36 for the claim,
 * less 2^16 for each thousandth of its reliability, and its place).
 */
function pathCosts(claims: readonly RecordedClaim[]): Float64Array {
  const cost = new Float64Array(claims.length);
  claims.forEach((claim, place) => {
    const reliability = Math.min(500, Math.max(0, claim.reliability));
    cost[place] = 2 ** 36 - Math.round(reliability * 1000) * 2 ** 16 + Math.min(place, 2 ** 16 - 1);
  });
  return cost;
}

/**
 * A tenure is provisional where another way out of the conflicts would give it other bounds. Where there are too many
 * ways to try, so is every tenure that rests on a record in conflict.
 */
function provisionalSlots(
  model: Model,
  claims: readonly RecordedClaim[],
  cost: Float64Array,
  settled: Settled,
  bounds: NetworkBounds,
  others: ReturnType<typeof otherWays> | undefined,
): Uint8Array {
  const provisional = new Uint8Array(model.slots.length);
  if (others === undefined) return provisional;
  for (const way of others.ways) {
    const off = new Uint8Array(claims.length);
    for (const claim of way) off[claim] = 1;
    const other = settle(model, claims, cost, off).bounds;
    model.slots.forEach((_, slot) => {
      for (const node of [startNode(slot), endNode(slot)]) {
        if (other.earliest[node] !== bounds.earliest[node] || other.latest[node] !== bounds.latest[node]) {
          provisional[slot] = 1;
        }
      }
    });
  }
  if (others.complete) return provisional;
  const contested = new Set(settled.sets.flat());
  model.slots.forEach((_, slot) => {
    const grounds = [startNode(slot), endNode(slot)].flatMap((node) => [
      ...bounds.earliestGrounds(node),
      ...bounds.latestGrounds(node),
    ]);
    if (grounds.some((claim) => contested.has(claim))) provisional[slot] = 1;
  });
  return provisional;
}

/** Appointments of which every claim is set aside, and implied ones that do not stand between two others any more. */
function unsupportedSlots({ slots, rows, positive }: Model, { off, sets }: Settled): Uint8Array {
  const unsupported = new Uint8Array(slots.length);
  if (sets.length === 0) return unsupported;
  const standing = new Set(positive.filter((_, k) => off[k] === 0).map(({ record }) => record));
  const isSupported = ({ entries, starts, ends }: Appointment): boolean =>
    [...entries, ...starts, ...ends].some((record) => standing.has(record));
  for (const { first, last } of rows) {
    const supported = slots.map((slot, at) => at >= first && at <= last && isSupported(slot));
    const lowest = supported.indexOf(true);
    const highest = supported.lastIndexOf(true);
    for (let slot = first; slot <= last; slot++) {
      const holds = slots[slot]?.implied === true ? lowest >= 0 && lowest < slot && slot < highest : supported[slot];
      if (!holds) unsupported[slot] = 1;
    }
  }
  return unsupported;
}

function tenure(
  model: Model,
  claims: readonly RecordedClaim[],
  bounds: NetworkBounds,
  slot: number,
  provisional: boolean,
  unsupported: boolean,
): Tenure {
  const { rank, corps, kind, implied, entries, starts, ends } = model.slots[slot] as Model['slots'][number];
  const start = boundsOf(bounds, startNode(slot));
  const end = boundsOf(bounds, endNode(slot));
  let grounds: Tenure['grounds'] | undefined; // read off the paths when they are asked for
  const ids = (places: readonly number[]) => distinct(places.map((k) => (claims[k] as RecordedClaim).record.id));
  return {
    index: slot,
    rank,
    corps,
    kind,
    implied,
    start,
    end,
    possible: { from: start.earliest, until: end.latest },
    certain: start.latest < end.earliest ? { from: start.latest, until: end.earliest } : undefined,
    provisional,
    unsupported,
    records: distinct([...entries, ...starts, ...ends].map(({ id }) => id)),
    get grounds() {
      grounds ??= {
        startEarliest: ids(bounds.earliestGrounds(startNode(slot))),
        startLatest: ids(bounds.latestGrounds(startNode(slot))),
        endEarliest: ids(bounds.earliestGrounds(endNode(slot))),
        endLatest: ids(bounds.latestGrounds(endNode(slot))),
      };
      return grounds;
    },
  };
}

const boundsOf = ({ earliest, latest }: NetworkBounds, node: number): Bounds => ({
  earliest: earliest[node] as Day,
  latest: latest[node] as Day,
});

function distinct(ids: RecordId[]): readonly RecordId[] {
  if (ids.length < 2) return ids;
  return [...new Set(ids)].sort(compareIds);
}

/** Where two dates of death do not agree but nothing else contradicts either, all days of both are open. */
function lifeOf({ positive }: Model, { off }: Settled, assumptions: Assumptions): Life {
  let adultFrom = -Infinity;
  const deaths: Span[] = [];
  positive.forEach((claim, k) => {
    if (off[k] === 1 || (claim.part !== 'born' && claim.part !== 'died')) return;
    const { span } = claim.record.date;
    if (claim.part === 'born') adultFrom = Math.max(adultFrom, ofAge(span, assumptions));
    else deaths.push(span);
  });
  const [death] = deaths;
  if (death === undefined) return { adultFrom: adultFrom as Day, death: undefined };
  const from = deaths.map((span) => span.from);
  const until = deaths.map((span) => span.until);
  const agree = Math.max(...from) < Math.min(...until);
  const earliest = agree ? Math.max(...from) : Math.min(...from);
  const latest = (agree ? Math.min(...until) : Math.max(...until)) - 1;
  return { adultFrom: adultFrom as Day, death: { earliest: earliest as Day, latest: latest as Day } };
}

function chain({ slots, positive, claimed }: Model, { off, findings }: Settled, { first, last }: Row): Chain {
  const length = last - first + 1;
  const leastDays = new Array<number>(length).fill(1);
  const mostDays = new Array<number>(length).fill(Infinity);
  for (let at = claimed.w.length - 1; at >= 0; at--) {
    const claim = claimed.claim[at] as number;
    if (positive[claim]?.part !== 'condition') break; // conditions come last
    const x = claimed.x[at] as number;
    const y = claimed.y[at] as number;
    const place = (Math.min(x, y) - startNode(first)) / 2;
    if (off[claim] === 1 || place < 0 || place >= length) continue;
    const w = claimed.w[at] as number;
    if (x < y) leastDays[place] = Math.max(leastDays[place] as number, -w);
    else mostDays[place] = Math.min(mostDays[place] as number, w);
  }
  const gaps: (number | undefined)[] = [];
  for (let slot = first; slot < last; slot++) {
    if (findings.used.some(({ gapAfter }) => gapAfter === slot)) gaps.push(1);
    else gaps.push(leavesGap(slots[slot] as Model['slots'][number]) ? 0 : undefined);
  }
  return { tenures: Array.from({ length }, (_, at) => first + at), gaps, leastDays, mostDays };
}
