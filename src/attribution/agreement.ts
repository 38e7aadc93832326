import type { Assumptions } from '../assumptions.ts';
import { agreeingKeys } from '../services/corps-key.ts';

/**
 * Disagreement between a mark and a person, part by part, in bits: 6 bits is what happens once in 64. The bits of the
 * parts add up, as the logarithms of likelihoods do.
 * @see Fellegi, I. P. and Sunter, A. B., A theory for record linkage, Journal of the American Statistical Association
 *   64 (1969) 1183–1210: agreement weights as logarithms to the base 2.
 */
export type Bits = {
  readonly surname: number;
  readonly forenames: number;
  readonly rank: number;
  readonly corps: number;
  readonly place: number;
};

/** By what right a person bore the rank that the mark names, or `in-post` too where the mark names none. */
export type Standing = 'in-post' | 'brevet' | 'implied' | 'courtesy';

export function rankBits(standing: Standing, { values }: Pick<Assumptions, 'values'>): number {
  return standing === 'in-post' ? 0 : values[`agree.rank.${standing}`];
}

/**
 * Corps by key. `onMark`: every one that the mark's words can name, undefined where they name none; `ofPerson` undefined:
 * it is not known where they served.
 */
export function corpsBits(
  onMark: readonly string[] | undefined,
  ofPerson: string | undefined,
  { values }: Pick<Assumptions, 'values'>,
): number {
  if (onMark === undefined) return 0;
  if (ofPerson === undefined) return values['agree.corps.unknown'];
  return onMark.some((key) => agreeingKeys(key, ofPerson)) ? 0 : values['agree.corps.differs'];
}

/** Places by key; a person may be known at several, or at none. */
export function placeBits(
  onMark: string | undefined,
  ofPerson: readonly string[],
  { values }: Pick<Assumptions, 'values'>,
): number {
  if (onMark === undefined || ofPerson.includes(onMark)) return 0;
  return ofPerson.length === 0 ? values['agree.place.unknown'] : values['agree.place.differs'];
}

/**
 * The bits of a person of whom nothing but the surname and the rank is known: how the unrecorded bearer of the name is
 * treated. `forenames` are those of somebody whose forenames are unknown, against this mark's.
 */
export const bitsOfUnknown = (
  mark: {
    readonly forenames: number;
    readonly corps: readonly string[] | undefined;
    readonly place: string | undefined;
  },
  assumptions: Pick<Assumptions, 'values'>,
): number => mark.forenames + corpsBits(mark.corps, undefined, assumptions) + placeBits(mark.place, [], assumptions);

export const totalBits = (bits: Bits): number => bits.surname + bits.forenames + bits.rank + bits.corps + bits.place;

/** The factor of so many bits: 2^(−bits). */
export const likelihood = (bits: number): number => 2 ** -bits;
