import { HeldbyError } from '../errors.ts';

/**
 * A date that cannot be read. The message quotes the part at fault and says at which character it stands (counted
 * from 1); `reason` is a clause without a full stop, `hint` a sentence.
 */
export function dateError(text: string, at: number, length: number, reason: string, hint: string): HeldbyError {
  const fault = text.slice(at, at + Math.max(1, length));
  const place = fault.trim() === '' ? 'at its end' : `at character ${at + 1}, “${fault}”`;
  return new HeldbyError('DATE', `The date “${text}” cannot be read ${place}: ${reason}.`, hint, `character ${at + 1}`);
}

/** A wording with more than one meaning: neither is taken; the hint says how to write each. */
export const twoReadings = (text: string, reason: string, hint: string): HeldbyError =>
  new HeldbyError('DATE', `The date “${text}” has two readings: ${reason}.`, hint);
