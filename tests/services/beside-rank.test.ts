import { expect, test } from 'vitest';
import { readBeside } from '../../src/services/beside-rank.ts';

const plain = { column: false, slashed: false };
const nothing = { appointment: undefined, status: [], service: undefined };

test.each([
  ['no words say nothing', [], plain, nothing],
  ['brevet', ['bt'], plain, { ...nothing, appointment: 'brevet' }],
  ['temporary, with a stroke', ['t'], { ...plain, slashed: true }, { ...nothing, appointment: 'temporary' }],
  ['half-pay in two letters', ['h', 'p'], plain, { ...nothing, status: ['half-pay'] }],
  ['half-pay with a fraction', ['1', '2', 'p'], plain, { ...nothing, status: ['half-pay'] }],
  ['retired on full pay', ['retired', 'on', 'full', 'pay'], plain, { ...nothing, status: ['retired'] }],
  [
    'several',
    ['late', 'temp', 'hon'],
    plain,
    { appointment: 'temporary', status: ['late', 'honorary'], service: undefined },
  ],
  ['letters of a service', ['r', 'n'], plain, { ...nothing, service: 'navy' }],
  ['one letter in a column', ['b'], { ...plain, column: true }, { ...nothing, appointment: 'brevet' }],
  ['one letter elsewhere', ['b'], plain, undefined],
  ['one letter with a stroke only', ['t'], { ...plain, column: true }, undefined],
  ['a word of another kind', ['bt', 'smith'], plain, undefined],
] as const)('readBeside: %s', (_rule, words, options, expected) =>
  expect(readBeside(words, options)).toEqual(expected),
);
