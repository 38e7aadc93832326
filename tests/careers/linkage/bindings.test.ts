import { describe, expect, test } from 'vitest';
import { boundEntries } from '../../../src/careers/linkage/bindings.ts';
import type { Binding } from '../../../src/careers/linkage/entries.ts';
import { HeldbyError } from '../../../src/errors.ts';
import { entryOf } from './listed.ts';

const entry = (id: string, person?: string) =>
  entryOf({ id, year: 1800, name: 'Ferrand', ...(person === undefined ? {} : { person }) }, 0);
const entries = [entry('e1', 'p1'), entry('e2', 'p1'), entry('e3', 'p2'), entry('e4'), entry('e5'), entry('e6')];
const ownersWith = (bindings: readonly Binding[]): number[] => [...boundEntries(entries, bindings).owner];
const same = (one: string, other: string): Binding => ({ kind: 'same', one, other });
const differ = (one: string, other: string): Binding => ({ kind: 'differ', one, other });

describe('boundEntries', () => {
  test('entries of a person are his, others are nobody’s', () => expect(ownersWith([])).toEqual([0, 0, 1, -1, -1, -1]));

  test.each<[rule: string, bindings: Binding[], one: number, other: number]>([
    ['two entries', [same('e4', 'e5')], 3, 4],
    ['an entry and a person', [same('e4', 'p1')], 3, 0],
    ['an entry of a person stands for him', [same('e4', 'e2')], 3, 0],
    ['two persons', [same('p1', 'p2')], 0, 2],
    ['by way of a third', [same('e4', 'e5'), same('e5', 'e6')], 3, 5],
    ['by way of a person without entries', [same('e4', 'p9'), same('p9', 'e6')], 3, 5],
  ])('bound together: %s', (_rule, bindings, one, other) => {
    const owners = ownersWith(bindings);
    expect(owners[one]).toBeGreaterThanOrEqual(0);
    expect(owners[one]).toBe(owners[other]);
  });

  test('kept apart: both are marked, neither is owned', () => {
    const { owner, marked, foes } = boundEntries(entries, [differ('e4', 'e5')]);
    expect([owner[3], owner[4]]).toEqual([-1, -1]);
    expect(foes.get(marked[3] ?? -1)?.has(marked[4] ?? -1)).toBe(true);
    expect(foes.get(marked[4] ?? -1)?.has(marked[3] ?? -1)).toBe(true);
    expect(marked[5]).toBe(-1);
  });

  test('kept apart from an entry of a person is kept apart from him', () => {
    const { marked, foes } = boundEntries(entries, [differ('e4', 'e2')]);
    expect(foes.get(marked[3] ?? -1)?.has(marked[0] ?? -1)).toBe(true);
  });

  test('the persons of an owner', () => {
    const { owner, persons } = boundEntries(entries, [same('p2', 'p1')]);
    expect(persons.get(owner[0] ?? -1)).toEqual(['p1', 'p2']);
  });

  test('the same and not the same', () => {
    const contradiction = () => boundEntries(entries, [same('e4', 'e5'), same('e5', 'e6'), differ('e6', 'e4')]);
    expect(contradiction).toThrow(HeldbyError);
    expect(contradiction).toThrow('e6 and e4 are said to be the same man and not to be.');
  });
});
