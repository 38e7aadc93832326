import { HeldbyError } from '../errors.ts';

/** As much of a text as a one-line message holds, without line breaks. */
function quoted(text: string): string {
  const line = text.replaceAll(/\s+/g, ' ');
  return `“${line.length > 80 ? `${line.slice(0, 79)}…` : line}”`;
}

/**
 * A date that cannot be read. The message quotes the part at fault and says at which character it stands (counted
 * from 1), unless it is all of it; `reason` is a clause without a full stop, `hint` a sentence.
 */
export function dateError(text: string, at: number, length: number, reason: string, hint: string): HeldbyError {
  const fault = text.slice(at, at + Math.max(1, length));
  const place = fault.trim() === '' ? ' at its end' : ` at character ${at + 1}, ${quoted(fault)}`;
  return new HeldbyError(
    'DATE',
    `The date ${quoted(text)} cannot be read${fault.trim() === text.trim() ? '' : place}: ${reason}.`,
    hint,
    `character ${at + 1}`,
  );
}

const COUNTS = ['two', 'three', 'four', 'five', 'six', 'seven'];

/** A wording with more than one meaning: none is taken; the hint says how to write each. */
export const severalReadings = (text: string, reason: string, hint: string, count = 2): HeldbyError =>
  new HeldbyError('DATE', `The date ${quoted(text)} has ${COUNTS[count - 2] ?? count} readings: ${reason}.`, hint);

/** “A”, “B” or “C”. */
export function anyOf(wordings: readonly string[]): string {
  const quoted = wordings.map((wording) => `“${wording}”`);
  return quoted.length < 2 ? quoted.join('') : `${quoted.slice(0, -1).join(', ')} or ${quoted.at(-1)}`;
}
