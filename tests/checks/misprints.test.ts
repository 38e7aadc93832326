import { describe, expect, test } from 'vitest';
import { DEFAULTS } from '../../src/assumptions.ts';
import type { Career, Tenure } from '../../src/careers/career.ts';
import type { ListedEntry } from '../../src/careers/evidence.ts';
import { solveCareer } from '../../src/careers/solve.ts';
import { isDate, isoDay } from '../../src/time/calendar.ts';
import { date, evidence } from '../careers/recorded.ts';
import { annualLists, commissions, ladder, mainSteps, OFFICERS } from './published-careers.ts';

/**
 * Published careers, entered as the annual lists that would have shown them, with one misprint put in at every possible
 * place: every other day and month of the date of rank, the year and the decade next to it, every other rank, another
 * corps. Sources of the careers: see the data file.
 */
type Misprint = { readonly kind: (typeof KINDS)[number]; readonly entry: ListedEntry };
const KINDS = ['day', 'month', 'year', 'decade', 'rank', 'corps'] as const;

function misprintsOf(entry: ListedEntry, service: (typeof OFFICERS)[number]['service']): Misprint[] {
  const [year = 0, month = 0, day = 0] = isoDay(entry.dated?.span.from ?? expect.unreachable())
    .split('-')
    .map(Number);
  const dated = (kind: Misprint['kind'], y: number, m: number, d: number): Misprint[] => {
    if (!isDate(y, m, d) || (y === year && m === month && d === day)) return [];
    const text = [y, m, d].map((part) => String(part).padStart(2, '0')).join('-');
    return [{ kind, entry: { ...entry, dated: date(text) } }];
  };
  const upTo = (last: number): number[] => Array.from({ length: last }, (_, k) => k + 1);
  return [
    ...upTo(31).flatMap((d) => dated('day', year, month, d)),
    ...upTo(12).flatMap((m) => dated('month', year, m, day)),
    ...[-1, 1].flatMap((by) => dated('year', year + by, month, day)),
    ...[-10, 10].flatMap((by) => dated('decade', year + by, month, day)),
    ...ladder(service)
      .filter(({ id }) => id !== entry.rank.id)
      .map((rank): Misprint => ({ kind: 'rank', entry: { ...entry, rank } })),
    ...(entry.corps === undefined
      ? []
      : [{ kind: 'corps' as const, entry: { ...entry, corps: { key: '35th foot', name: '35th Foot' } } }]),
  ];
}

/** What comes of a misprint. Bounds are true where they leave nothing out that the lists without it allow. */
const OUTCOMES = [
  'found: true bounds',
  'found: wrong bounds provisional',
  'found: wrong bounds not marked',
  'missed, though evidence contradicts',
  'contradicts nothing',
] as const;
type Outcome = (typeof OUTCOMES)[number];

const post = ({ rank, corps }: Tenure): string => `${rank.id} ${corps?.name ?? ''}`;

const recorded = ({ tenures }: Career): Tenure[] =>
  tenures.filter(({ implied, unsupported }) => !implied && !unsupported);

function isTrue(tenure: Tenure, clean: readonly Tenure[]): boolean {
  const real = clean.find((other) => post(other) === post(tenure));
  return (
    real !== undefined &&
    tenure.start.earliest <= real.start.earliest &&
    real.start.latest <= tenure.start.latest &&
    tenure.end.earliest <= real.end.earliest &&
    real.end.latest <= tenure.end.latest
  );
}

function outcomeOf(career: Career, clean: readonly Tenure[], id: string): Outcome {
  if (career.conflicts.length === 0) return 'contradicts nothing';
  const smallest = career.conflicts.filter(({ members }) => members.length === career.conflicts[0]?.members.length);
  if (!smallest.some(({ members }) => members.some((member) => member.id === id)))
    return 'missed, though evidence contradicts';
  const tenures = recorded(career);
  const wrong = tenures.filter((tenure) => !isTrue(tenure, clean));
  const lost = clean.filter((real) => !tenures.some((tenure) => post(tenure) === post(real)));
  if (wrong.length + lost.length === 0) return 'found: true bounds';
  // Where a post is lost the neighbours take up its days, and must say that they may be wrong.
  const marked =
    wrong.every(({ provisional }) => provisional) && (lost.length === 0 || career.tenures.some((t) => t.provisional));
  return marked ? 'found: wrong bounds provisional' : 'found: wrong bounds not marked';
}

const counted = new Map<string, Map<Outcome, number>>();
const silent: string[] = [];

describe('one misprint anywhere in the lists of a published career', () => {
  test.each(OFFICERS)('$name', (officer) => {
    const entries = annualLists(commissions(officer));
    const solve = (list: readonly ListedEntry[]): Career =>
      solveCareer(evidence({ entries: list, mainSteps: mainSteps(officer.service) }), DEFAULTS);
    const whole = solve(entries);
    expect(whole.conflicts).toEqual([]);
    const clean = recorded(whole);
    for (const entry of entries) {
      for (const { kind, entry: wrong } of misprintsOf(entry, officer.service)) {
        const career = solve(entries.map((each) => (each === entry ? wrong : each)));
        const outcome = outcomeOf(career, clean, entry.id);
        const counts = counted.get(kind) ?? new Map<Outcome, number>();
        counted.set(kind, counts.set(outcome, (counts.get(outcome) ?? 0) + 1));
        if (outcome === 'contradicts nothing' && kind !== 'corps') {
          silent.push(entry.id);
          // Only where no other list shows him in that post can a wrong date pass.
          expect(
            entries.filter(({ rank, corps }) => rank.id === entry.rank.id && corps?.key === entry.corps?.key),
          ).toHaveLength(1);
        }
      }
    }
  });

  /** A listing in another corps for one year may be true: an exchange, and back. Nothing in the lists speaks against it. */
  test('the counts', () => {
    const rows = KINDS.map((kind) => [kind, ...OUTCOMES.map((outcome) => counted.get(kind)?.get(outcome) ?? 0)]);
    expect(rows).toEqual([
      ['day', 2482, 86, 0, 0, 86],
      ['month', 908, 32, 0, 0, 33],
      ['year', 174, 5, 0, 0, 3],
      ['decade', 180, 1, 0, 0, 1],
      ['rank', 538, 252, 0, 0, 0],
      ['corps', 0, 0, 0, 0, 37],
    ]);
    expect(new Set(silent).size).toBe(5);
  });
});
