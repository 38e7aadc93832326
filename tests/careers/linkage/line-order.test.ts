import { expect, test } from 'vitest';
import { inOrderOfTime } from '../../../src/careers/linkage/line-order.ts';
import { entryOf } from './listed.ts';

const lines = [
  entryOf({ id: 'e5', year: 0, name: 'Holt, James' }, 1),
  entryOf({ id: 'e4', year: 0, name: 'Ferrand, Peter' }, 1),
  entryOf({ id: 'e3', year: 0, name: 'Ferrand, Julian' }, 1),
  entryOf({ id: 'e2', year: 0, name: 'Ferrand, Julian' }, 1),
  entryOf({ id: 'e1', year: 0, name: 'Zouch, Abel' }, 0),
];
const orderOf = (given: typeof lines): string[] =>
  [...inOrderOfTime(given, Int32Array.from([0, 1]))].map((place) => given[place]?.id ?? '');

test('by edition, surname, the rest of the line, and last by id', () =>
  expect(orderOf(lines)).toEqual(['e1', 'e2', 'e3', 'e4', 'e5']));
test('whatever the order in which they come', () => expect(orderOf([...lines].reverse())).toEqual(orderOf(lines)));
test('editions in the order of time, not of the list', () =>
  expect([...inOrderOfTime(lines, Int32Array.from([1, 0]))].at(-1)).toBe(4));
