import { describe, expect, test } from 'vitest';
import { DEFAULTS } from '../../src/assumptions.ts';
import {
  bitsOfUnknown,
  corpsBits,
  likelihood,
  placeBits,
  rankBits,
  totalBits,
} from '../../src/attribution/agreement.ts';

describe('bits of disagreement', () => {
  test.each<[rule: string, bits: number, expected: number]>([
    ['rank: in post', rankBits('in-post', DEFAULTS), 0],
    ['rank: by brevet', rankBits('brevet', DEFAULTS), 1],
    ['rank: implied', rankBits('implied', DEFAULTS), 2],
    ['rank: kept as a courtesy', rankBits('courtesy', DEFAULTS), 3],
    ['corps: none on the mark', corpsBits(undefined, '2nd fencibles', DEFAULTS), 0],
    ['corps: the same', corpsBits(['2 fencibles'], '2 fencibles', DEFAULTS), 0],
    ['corps: one of those that it can name', corpsBits(['co1', '2 fencibles'], 'co1', DEFAULTS), 0],
    ['corps: of the number alone', corpsBits(['2'], '2 fencibles', DEFAULTS), 0],
    ['corps: of another number', corpsBits(['3'], '2 fencibles', DEFAULTS), 10],
    ['corps: the person’s is unknown', corpsBits(['2 fencibles'], undefined, DEFAULTS), 6],
    ['corps: another', corpsBits(['2 fencibles'], 'coast survey', DEFAULTS), 10],
    ['place: none on the mark', placeBits(undefined, ['oakhaven'], DEFAULTS), 0],
    ['place: one of the person’s', placeBits('oakhaven', ['tarn', 'oakhaven'], DEFAULTS), 0],
    ['place: the person’s is unknown', placeBits('oakhaven', [], DEFAULTS), 4],
    ['place: others only', placeBits('oakhaven', ['tarn'], DEFAULTS), 6],
    [
      'unknown: nothing but a surname on the mark',
      bitsOfUnknown({ forenames: 0, corps: undefined, place: undefined }, DEFAULTS),
      0,
    ],
    [
      'unknown: forenames, corps and place on the mark',
      bitsOfUnknown({ forenames: 7, corps: ['x'], place: 'y' }, DEFAULTS),
      17,
    ],
    ['all parts add up', totalBits({ surname: 6, forenames: 2, rank: 1, corps: 10, place: 4 }), 23],
  ])('%s', (_rule, bits, expected) => expect(bits).toBe(expected));

  test('six bits are once in 64', () => expect(likelihood(6)).toBe(1 / 64));
});
