import type { Assumptions } from '../assumptions.ts';
import { HeldbyError } from '../errors.ts';
import { alignment } from '../names/alignment.ts';
import { refuseLooseSigns } from '../names/loose-signs.ts';
import { isDamaged, limitBits, patternFrom } from '../names/pattern.ts';

/** Why a surname as read answers a surname of the ledger, or does not: the cheapest way, letter by letter. */
export type NamesCompared = {
  readonly reading: string;
  readonly name: string;
  /** Bits of disagreement in all; those of the steps add up to it. */
  readonly bits: number;
  /** Beyond it a name is no candidate for the reading. */
  readonly limit: number;
  readonly within: boolean;
  readonly steps: readonly {
    readonly reading: string;
    readonly name: string;
    readonly bits: number;
    readonly reason: string;
  }[];
};

/**
 * @param read the reading, in the signs of a transcription. @param name as a list prints it.
 * @throws HeldbyError READING where the reading cannot be read, or the name is a damaged one too.
 */
export function compareNames(read: string, name: string, assumptions: Assumptions): NamesCompared {
  refuseLooseSigns(read);
  const pattern = patternFrom(read);
  if (isDamaged(patternFrom(name)))
    throw new HeldbyError(
      'READING',
      `"${name}" is a reading too, not a name.`,
      'Give the reading first, then a name as a list prints it: heldby names compare "Ferr[..]d" Farrand',
    );
  const found = alignment(pattern, name, { elementBits: assumptions.values['agree.element'] });
  if (pattern.length === 0 || found === undefined)
    throw new HeldbyError('READING', 'There are no letters to compare.', 'Give a surname and another.');
  const limit = limitBits(pattern, assumptions);
  return { reading: read, name, bits: found.bits, limit, within: found.bits <= limit, steps: found.steps };
}
