import { describe, expect, test } from 'vitest';
import { DEFAULTS } from '../../src/assumptions.ts';
import { type Link, type Linked, linkBetween, linkFactor } from '../../src/attribution/chain-links.ts';

const isKin = (a: string, b: string): boolean => a === 'p1' && b === 'p2';
const person = (id: string, ...surnames: string[]): Linked => ({ person: id, surnames });
const unrecorded = (...surnames: string[]): Linked => ({ person: undefined, surnames });

describe('what joins two successive holders', () => {
  test.each<[rule: string, a: Linked, b: Linked, link: Link, factor: number]>([
    ['the same person', person('p1', 'holt'), person('p1', 'holt'), 'same', 20],
    ['recorded kin', person('p1', 'holt'), person('p2', 'marl'), 'kin', 10],
    ['recorded kin, the other way round', person('p2', 'marl'), person('p1', 'holt'), 'kin', 10],
    ['kin before surname', person('p1', 'holt'), person('p2', 'holt'), 'kin', 10],
    ['one of several surnames', person('p3', 'holt', 'ferrand'), person('p4', 'ferrand'), 'same surname', 5],
    ['an unrecorded holder by the surname on the mark', person('p3', 'holt'), unrecorded('holt'), 'same surname', 5],
    [
      'two unrecorded holders of one surname are not the same',
      unrecorded('holt'),
      unrecorded('holt'),
      'same surname',
      5,
    ],
    ['two unrecorded holders without a surname', unrecorded(), unrecorded(), 'other', 1],
    ['strangers', person('p3', 'holt'), person('p4', 'marl'), 'other', 1],
  ])('%s', (_rule, a, b, link, factor) => {
    expect(linkBetween(a, b, isKin)).toBe(link);
    expect(linkFactor(link, DEFAULTS)).toBe(factor);
  });
});
