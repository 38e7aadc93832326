import { expect, test } from 'vitest';
import type { ListedEntry } from '../../src/careers/evidence.ts';
import { listedTwice } from '../../src/careers/listed-twice.ts';
import { adjutant, captain, ensign, evidence, listed } from './recorded.ts';

const first = listed('e1', '1834-01-01', captain);
const beside = (
  id: string,
  ...more: Parameters<typeof listed> extends [unknown, unknown, ...infer Rest] ? Rest : never
) => ({
  ...listed(id, '1834-01-01', ...more),
  edition: first.edition,
});

test.each<[rule: string, entries: ListedEntry[], aside: string[], twice: string[][]]>([
  ['two ranks in one edition', [first, beside('e2', ensign)], [], [['e1', 'e2']]],
  ['the same post printed twice', [first, beside('e2', captain)], [], []],
  ['a post that goes with another', [first, beside('e2', adjutant)], [], []],
  ['a brevet', [first, beside('e2', ensign, { kind: 'brevet' })], [], []],
  ['two editions', [first, listed('e2', '1835-01-01', ensign)], [], []],
  ['one of them set aside', [first, beside('e2', ensign)], ['e2'], []],
  ['the edition set aside', [first, beside('e2', ensign)], [first.edition.id], []],
])('%s', (_rule, entries, aside, twice) => {
  const found = listedTwice(evidence({ entries, setAside: new Set(aside) }));
  expect(found.map((each) => each.entries)).toEqual(twice);
});
