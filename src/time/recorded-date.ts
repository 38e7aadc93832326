import { HeldbyError } from '../errors.ts';
import type { DateReading } from './date-reading.ts';
import { readDate } from './read-date.ts';
import type { DateOptions } from './reading-options.ts';

/** A date in words that mean the same to everybody; beside it what was written, where those are other words. */
export type RecordedDate = { readonly reading: DateReading; readonly written: string | undefined };

/**
 * A date that is read with what is known beside its words, in a form that can be kept without that: its own words where
 * they mean the same by themselves, else EDTF, with what was written beside it.
 * @throws HeldbyError DATE
 * @example recordedDate('12th ult.', { reference }).reading.text === '1834-04-12'
 */
export function recordedDate(text: string, options: DateOptions): RecordedDate {
  const reading = readDate(text, options);
  if (Object.keys(options).length === 0) return { reading, written: undefined };
  const alone = readAlone(text);
  if (alone !== undefined && isSame(alone, reading)) return { reading: alone, written: undefined };
  return { reading: readDate(reading.edtf), written: reading.text };
}

function readAlone(text: string): DateReading | undefined {
  try {
    return readDate(text);
  } catch (error) {
    if (error instanceof HeldbyError) return undefined;
    throw error;
  }
}

const isSame = (a: DateReading, b: DateReading): boolean =>
  a.span.from === b.span.from &&
  a.span.until === b.span.until &&
  a.approximate === b.approximate &&
  a.uncertain === b.uncertain;
