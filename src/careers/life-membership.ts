import { type Assumptions, DAYS_PER_YEAR } from '../assumptions.ts';
import type { Day, Span } from '../time/span.ts';
import { addPassed, chancePassed, firstPassed, type Passed } from './boundaries.ts';
import type { Bounds, Membership } from './career.ts';

/** Below this chance a day counts as nothing. */
const NEGLIGIBLE = 1e-9;

/** The weight of one more day where something lasts so many years in the mean. */
const ratioOf = (years: number): number => Math.exp(-1 / (years * DAYS_PER_YEAR));

/** Days until a chance of 1 has fallen below notice. */
const daysUntilNothing = (ratio: number): number => Math.ceil(Math.log(NEGLIGIBLE) / Math.log(ratio));

/** 1 from `first` to `last`, falling off exponentially before and after, and 0 outside `possible`. */
export function adultLife(first: number, last: number, possible: Span, { values }: Assumptions): Membership {
  const before = ratioOf(values['person.before']);
  const after = ratioOf(values['person.after']);
  const support: Span = {
    from: Math.max(possible.from, first - daysUntilNothing(before)) as Day,
    until: Math.min(possible.until, last + daysUntilNothing(after)) as Day,
  };
  return {
    support,
    at(day) {
      if (day < support.from || day >= support.until) return 0;
      return day < first ? before ** (first - day) : day > last ? after ** (day - last) : 1;
    },
    fill(out, from) {
      out.fill(0);
      const begin = Math.min(out.length, Math.max(0, support.from - from));
      const end = Math.max(begin, Math.min(out.length, support.until - from));
      const rising = Math.min(end, Math.max(begin, first - from));
      const falling = Math.min(end, Math.max(rising, last + 1 - from));
      let chance = before ** (first - from - rising + 1);
      for (let at = rising - 1; at >= begin; at--, chance *= before) out[at] = chance;
      out.fill(1, rising, falling);
      chance = after ** (falling + from - last);
      for (let at = falling; at < end; at++, chance *= after) out[at] = chance;
    },
    weighed(days, { from, until }) {
      const rising = Math.min(until, Math.max(from, first));
      const falling = Math.min(until, Math.max(rising, last + 1));
      return (
        before ** (first + 1 - rising) * days.growing(from, rising, before) +
        days.alike(rising, falling) +
        after ** (falling - last) * days.fading(falling, until, after)
      );
    },
  };
}

/**
 * The chance that a post has been left and its holder still lives. Where the day of death is known within closed
 * bounds, each of their days is as likely as another. Where it is not, life goes on with the mean `courtesy.mean` from
 * the end of the post, or from the first day on which death is possible.
 */
export function styleKept(endOfPost: () => Passed, death: Bounds, { values }: Assumptions): Membership {
  const closed = Number.isFinite(death.earliest) && Number.isFinite(death.latest);
  let solved: Membership | undefined;
  const solve = (): Membership => {
    solved ??= closed
      ? leftAndAlive(endOfPost(), death)
      : leftAndPerhapsAlive(endOfPost(), death, ratioOf(values['courtesy.mean']));
    return solved;
  };
  return {
    get support() {
      return solve().support;
    },
    at: (day) => solve().at(day),
    fill(out, from) {
      solve().fill(out, from);
    },
    weighed: (days, run) => solve().weighed?.(days, run) ?? 0,
  };
}

function leftAndAlive(end: Passed, { earliest, latest }: Bounds): Membership {
  const support: Span = { from: firstPassed(end) as Day, until: Math.max(latest + 1, firstPassed(end) + 1) as Day };
  const days = latest - earliest + 1;
  const alive = (day: number) => (day <= earliest ? 1 : Math.max(0, (latest - day + 1) / days));
  return {
    support,
    at: (day) => (day < support.from || day >= support.until ? 0 : chancePassed(end, day) * alive(day)),
    fill(out, from) {
      out.fill(0);
      const begin = Math.min(out.length, Math.max(0, support.from - from));
      const stop = Math.max(begin, Math.min(out.length, support.until - from));
      addPassed(end, out, from, begin, stop, 1);
      for (let at = Math.max(begin, earliest - from + 1); at < stop; at++)
        out[at] = (out[at] as number) * alive(from + at);
    },
  };
}

/**
 * With p(e) the chance that the post ended on day e and a the weight of one more day of life: Σ_{e <= t} p(e) a^(t − e),
 * no day before `earliest` counting. One pass over the table of ends; behind it p falls geometrically (ratio r), and
 * Σ r^j a^(n − j) has a closed form.
 */
function leftAndPerhapsAlive(end: Passed, { earliest, latest }: Bounds, a: number): Membership {
  const { first, table, ratioAfter: r } = end;
  const kept = new Float64Array(table.length);
  let chance = 0;
  for (let at = 0; at < table.length; at++) {
    if (first + at > earliest) chance *= a;
    chance += (table[at] as number) - (at === 0 ? 0 : (table[at - 1] as number));
    kept[at] = chance;
  }
  const tableEnd = first + table.length - 1;
  const wanting = r === 0 ? 0 : 1 - (table[table.length - 1] as number);
  const fallsFrom = Math.max(tableEnd, earliest); // no chance of death before
  const atFall = fallsFrom === tableEnd ? chance : chancePassed(end, fallsFrom);
  const leaving = wanting * (1 - r) * r ** (fallsFrom - tableEnd); // on the day after `fallsFrom`
  const later = (day: number): number => {
    const n = day - fallsFrom;
    if (n <= 0) return chancePassed(end, day);
    const joined = Math.abs(a - r) < 1e-12 ? n * a ** (n - 1) : (a ** n - r ** n) / (a - r);
    return atFall * a ** n + leaving * joined;
  };
  let until = fallsFrom + 1;
  for (let step = 1; later(until) > NEGLIGIBLE; step *= 2) until += step;
  const support: Span = {
    from: firstPassed(end) as Day,
    until: Math.max(first + 1, Math.min(latest + 1, until)) as Day,
  };
  const at = (day: number): number => {
    if (day < support.from || day >= support.until) return 0;
    return day <= tableEnd ? (kept[day - first] as number) : later(day);
  };
  return {
    support,
    at,
    fill(out, from) {
      out.fill(0);
      const begin = Math.min(out.length, Math.max(0, support.from - from));
      const stop = Math.max(begin, Math.min(out.length, support.until - from));
      let place = begin;
      for (; place < stop && from + place <= tableEnd; place++) out[place] = kept[from + place - first] as number;
      for (; place < stop && from + place <= fallsFrom; place++) out[place] = later(from + place);
      if (place >= stop) return;
      let day = later(from + place);
      let joins = leaving * r ** (from + place - fallsFrom);
      for (; place < stop; place++) {
        out[place] = day;
        day = day * a + joins;
        joins *= r;
      }
    },
    weighed(days, { from, until }) {
      let sum = 0;
      let day = from;
      const falls = Math.min(until, Math.max(from, fallsFrom + 1));
      for (; day < falls; day++) sum += at(day) * (days.weights[day - days.first] as number);
      if (day === until) return sum;
      const n = day - fallsFrom;
      // Two tails that fall off, each at its own rate; where the rates are one, there is no such form.
      if (Math.abs(a - r) < 1e-6) return 0;
      const joined = leaving / (a - r);
      return (
        sum +
        (atFall + joined) * a ** n * days.fading(day, until, a) -
        (r === 0 ? 0 : joined * r ** n * days.fading(day, until, r))
      );
    },
  };
}
