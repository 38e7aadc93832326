import { readDate } from '../time/read-date.ts';
import { spanInAnswer } from './days.ts';

/** A date as somebody recorded it: its text, and the first and last day that it allows, before any widening. */
export type SaidDate = {
  readonly text: string;
  readonly from: string | null;
  readonly to: string | null;
  readonly approximate: boolean;
  readonly uncertain: boolean;
};

/** Null where a record says no date. */
export function saidDate(text: unknown): SaidDate | null {
  if (typeof text !== 'string') return null;
  const { span, approximate, uncertain } = readDate(text);
  return { text, ...spanInAnswer(span), approximate, uncertain };
}
