import { expect, test } from 'vitest';
import type { ListEntry } from '../../../src/careers/linkage/entries.ts';
import { printedSeniority } from '../../../src/careers/linkage/printed-seniority.ts';
import type { Day } from '../../../src/time/span.ts';
import { captain, lieutenant } from '../recorded.ts';

type Printed = Parameters<typeof printedSeniority>[0][number];

const line = (number: number, day: number | undefined, more: Partial<Printed> = {}): Printed => ({
  line: number,
  edition: 0,
  rank: captain,
  kind: 'substantive',
  dated:
    day === undefined
      ? undefined
      : ({ span: { from: day as Day, until: (day + 1) as Day }, uncertain: false, text: '' } as ListEntry['dated']),
  ...more,
});

const places = (count: number): number[] => Array.from({ length: count }, (_, at) => at);
const rising = places(30).map((at) => line(at, 1000 + 10 * at));

test.each<[rule: string, lines: Printed[], whole: boolean, expected: (number | undefined)[]]>([
  ['dates that rise', rising, true, places(30).map((at) => at + 1)],
  ['whatever order they come in', [...rising].reverse(), true, places(30).map((at) => 30 - at)],
  ['an edition that is not taken down whole', rising, false, places(30).map(() => undefined)],
  ['too few lines', rising.slice(0, 15), true, places(15).map(() => undefined)],
  [
    'an alphabetical list',
    rising.map((each) => ({ ...each, line: (each.line * 7) % 30 })),
    true,
    places(30).map(() => undefined),
  ],
  ['one day for all', places(30).map((at) => line(at, 1000)), true, places(30).map(() => undefined)],
  [
    'lines without a date keep their place',
    places(30).map((at) => line(at, at % 10 === 5 ? undefined : 1000 + at)),
    true,
    places(30).map((at) => at + 1),
  ],
  [
    'each rank by itself',
    places(60).map((at) => line(at, 1000 + (at % 30), at < 30 ? {} : { rank: lieutenant })),
    true,
    places(60).map((at) => (at % 30) + 1),
  ],
])('%s', (_rule, lines, whole, expected) => {
  expect(printedSeniority(lines, () => whole)).toEqual(expected);
});
