import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { DEFAULTS } from '../../src/assumptions.ts';
import type { CandidateInput } from '../../src/attribution/candidate.ts';
import type { IsKin } from '../../src/attribution/chain-links.ts';
import { type ChainMark, prepareMarks } from '../../src/attribution/chain-marks.ts';
import { sharesOtherwise } from '../../src/attribution/chain-standing.ts';
import { delayLaw } from '../../src/dating/delay.ts';
import type { Density } from '../../src/dating/density.ts';
import type { Day } from '../../src/time/span.ts';
import { everyChain, plainShare } from './every-chain.ts';
import { candidate, form, post, slope } from './made-up.ts';
import { tableOf } from './prepared.ts';

const FIRST_DAY = 5000;
const SIZE = 90;
const making: Density = {
  from: FIRST_DAY as Day,
  weights: Float64Array.from({ length: SIZE }, (_, y) => (y < 20 ? 1 + (y % 4) : 0)),
};
const SURNAMES: Record<string, string> = { p1: 'holt', p2: 'holt', p3: 'marl', p4: 'ferrand' };
const noKin: IsKin = () => false;
const areKin: IsKin = (a, b) => a === 'p1' && b === 'p3';

type Stay = { readonly person: string; readonly from: number; readonly length: number; readonly bits: number };
const anyStay = fc.record({
  person: fc.constantFrom('p1', 'p1', 'p2', 'p3', 'p4'),
  from: fc.integer({ min: 0, max: 20 }),
  length: fc.integer({ min: 4, max: 25 }),
  bits: fc.constantFrom(0, 1, 4),
});
/** Marks on days of their own, one after another: so the order of every chain is known, whoever held what. */
const anyObject = fc.array(fc.array(anyStay, { minLength: 1, maxLength: 4 }), { minLength: 1, maxLength: 3 });
type AnyObject = readonly (readonly Stay[])[];

const candidatesOf = (stays: readonly Stay[], place: number): CandidateInput[] =>
  stays.map(({ person, from, length, bits }) => {
    const at = FIRST_DAY + 30 * place + from;
    return candidate(person, [post(slope(at, at, at + length, at + length))], { forms: [form(bits)] });
  });

function asked(object: AnyObject, isKin: IsKin, surnameOf: (person: string) => string) {
  const marks = object.map(
    (stays, place): ChainMark => ({
      id: `m${place + 1}`,
      law: delayLaw('owner', DEFAULTS),
      own: new Float64Array(SIZE).fill(1, 30 * place, 30 * (place + 1)),
      over: undefined,
      beforeMaking: false,
      holders: {
        candidates: candidatesOf(stays, place),
        surnames: place === 0 ? ['holt'] : [],
        unrecorded: { rank: 'captain', surname: { damaged: false, seenLetters: 7 }, unknownBits: 0, sweeps: [] },
      },
    }),
  );
  const input = { making, marks, isKin, surnamesOf: (person: string) => [surnameOf(person)] };
  const ready = prepareMarks(making, marks, input.surnamesOf, DEFAULTS);
  return { input, ready, ...tableOf([...making.weights], ready, isKin) };
}
const surnameOf = (person: string): string => SURNAMES[person] ?? person;

/** The share of `p1` summed anew, chain by chain. */
const anew = (object: AnyObject, isKin: IsKin, named: (person: string) => string = surnameOf): number => {
  const { ready, table, relations } = asked(object, isKin, named);
  return plainShare('p1', ready, everyChain(table, relations));
};
const otherwise = (object: AnyObject, isKin: IsKin, named: (person: string) => string = surnameOf) => {
  const { input, ready, table, relations, order } = asked(object, isKin, named);
  return sharesOtherwise(input, ready, table, relations, order, DEFAULTS);
};

describe('the share of a holder if the evidence were otherwise', () => {
  test('as it is: that of all chains', () =>
    fc.assert(
      fc.property(anyObject, fc.constantFrom(noKin, areKin), (object, isKin) => {
        expect(otherwise(object, isKin)('p1', {})).toBeCloseTo(anew(object, isKin), 9);
      }),
      { seed: 107, numRuns: 60 },
    ));

  test('without some of the candidacies: that of the chains summed anew without them', () => {
    let changed = 0;
    fc.assert(
      fc.property(anyObject, fc.constantFrom(noKin, areKin), fc.nat(), (object, isKin, chosen) => {
        // Each candidacy of the person is kept or not, by the bits of a number.
        let bit = 0;
        const isKept = ({ person }: Stay): boolean => person !== 'p1' || ((chosen >> bit++) & 1) === 1;
        const fewer = object.map((stays) => stays.filter(isKept));
        const candidaciesFor = (mark: string): CandidateInput[] => {
          const place = Number(mark.slice(1)) - 1;
          return candidatesOf(
            (fewer[place] ?? []).filter(({ person }) => person === 'p1'),
            place,
          );
        };
        const expected = anew(fewer, isKin);
        expect(otherwise(object, isKin)('p1', { candidaciesFor })).toBeCloseTo(expected, 9);
        if (Math.abs(expected - anew(object, isKin)) > 0.01) changed += 1;
      }),
      { seed: 109, numRuns: 120 },
    );
    expect(changed).toBeGreaterThan(20);
  });

  test('without a kinship of theirs: that of the chains summed anew with its links', () => {
    let changed = 0;
    fc.assert(
      fc.property(anyObject, (object) => {
        const expected = anew(object, noKin);
        expect(otherwise(object, areKin)('p1', { isKin: noKin })).toBeCloseTo(expected, 9);
        if (Math.abs(expected - anew(object, areKin)) > 0.01) changed += 1;
      }),
      { seed: 113, numRuns: 80 },
    );
    expect(changed).toBeGreaterThan(5);
  });

  test('among strangers days may be shared: the order is no matter', () =>
    fc.assert(
      fc.property(anyObject, (object) => {
        // All marks on the days of the first, everybody on one of them only.
        const apart = object.map((stays, place) =>
          stays
            .filter(({ person }) => Number(person.slice(1)) % 3 === place)
            .map((stay) => ({ ...stay, from: stay.from - 30 * place })),
        );
        const none = (mark: string): CandidateInput[] => (mark === 'm2' ? [] : candidatesOf(apart[0] ?? [], 0));
        expect(otherwise(apart, noKin, (person) => person)('p1', { candidaciesFor: none })).toBeCloseTo(
          anew(
            apart.map((stays) => stays.filter(({ person }) => person !== 'p1')),
            noKin,
            (person) => person,
          ),
          9,
        );
      }),
      { seed: 127, numRuns: 20 },
    ));

  test('nobody on any mark has no share', () => {
    const stay = { person: 'p2', from: 2, length: 10, bits: 0 };
    expect(otherwise([[stay]], noKin)('p1', {})).toBe(0);
    expect(otherwise([[stay]], noKin)('p2', { candidaciesFor: () => [] })).toBe(0);
  });
});
