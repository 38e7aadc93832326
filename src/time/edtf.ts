import type { SolarCalendar } from './calendar.ts';
import { dateError } from './date-error.ts';
import type { DatePart } from './date-reading.ts';
import { EDTF_DATE, readEdtfDate } from './edtf-date.ts';
import { edtfOfPart, edtfSet, OPEN_EDGE } from './piece.ts';
import { type Day, NO_END, NO_START, type Span } from './span.ts';

const DATE = new RegExp(`^${EDTF_DATE}$`);
const END = new RegExp(`^(?:${EDTF_DATE}|\\.\\.|)$`);

export type EdtfMeaning = { readonly edtf: string; readonly parts: readonly DatePart[] };

/** Letters are capitals; spaces may stand around a comma or slash only: `1834 - 36` is no EDTF. */
const normal = (text: string): string =>
  text
    .trim()
    .replaceAll(/\s*([,/])\s*/g, '$1')
    .toUpperCase();

/** Whether a text has the form of EDTF (levels 0 to 2), so that nothing else can be meant by it. */
export function hasEdtfForm(text: string): boolean {
  const edtf = normal(text);
  if (/^[[{].*[\]}]$/.test(edtf)) return /^[[{][-\dXYEST?~%.,:+Z]*[\]}]$/.test(edtf);
  const ends = edtf.split('/');
  if (ends.length === 1) return DATE.test(edtf);
  return ends.length === 2 && ends.every((end) => END.test(end)) && ends.some((end) => end !== '');
}

/**
 * EDTF, levels 0, 1 and 2: Library of Congress, Extended Date/Time Format Specification, 4 February 2019
 * (ISO 8601-2:2019). Bounds go to the first and last day that the pattern allows; qualifiers do not move them. An open
 * end (`..`) and an unknown one (nothing) leave that side open.
 * @param calendar that of the day and month; by definition Gregorian, unless the reader knows better.
 * @throws HeldbyError DATE with the character at fault.
 */
export function readEdtf(text: string, calendar: SolarCalendar = 'gregorian'): EdtfMeaning {
  const edtf = normal(text);
  const parts = readParts(edtf, calendar);
  if (calendar === 'gregorian') return { edtf, parts };
  const [only, other] = parts;
  const single = only !== undefined && other === undefined;
  return { edtf: single ? edtfOfPart(only) : edtfSet(parts.map(edtfOfPart), edtf[0] === '{'), parts };
}

function readParts(edtf: string, calendar: SolarCalendar): DatePart[] {
  if (edtf[0] === '[' || edtf[0] === '{') return readSet(edtf, calendar);
  const slash = edtf.indexOf('/');
  if (slash < 0) return [readEdtfDate(edtf, edtf, 0, calendar)];
  return [readInterval(edtf, edtf.slice(0, slash), edtf.slice(slash + 1), 0, slash + 1, calendar)];
}

function readInterval(
  text: string,
  left: string,
  right: string,
  leftAt: number,
  rightAt: number,
  calendar: SolarCalendar,
): DatePart {
  const from = left === '' || left === '..' ? undefined : readEdtfDate(left, text, leftAt, calendar);
  const until = right === '' || right === '..' ? undefined : readEdtfDate(right, text, rightAt, calendar);
  const span: Span = { from: from?.span.from ?? NO_START, until: until?.span.until ?? NO_END };
  if (span.from >= span.until) {
    throw dateError(text, rightAt, right.length, 'it ends before it begins', 'Put the earlier date first.');
  }
  return { span, from: from?.from ?? OPEN_EDGE, until: until?.until ?? OPEN_EDGE };
}

/** `[1667,1670..1672]`, one of them, or `{…}`, all of them; `..` at either end leaves that side open. */
function readSet(text: string, calendar: SolarCalendar): DatePart[] {
  const closing = text[0] === '[' ? ']' : '}';
  if (text.at(-1) !== closing) {
    throw dateError(
      text,
      text.length - 1,
      1,
      `a set that opens with ${text[0]} closes with ${closing}`,
      `End it with ${closing}`,
    );
  }
  const parts: DatePart[] = [];
  let at = 1;
  for (const member of text.slice(1, -1).split(',')) {
    if (member === '')
      throw dateError(text, at, 1, 'a member of the set is missing', 'Write dates with a comma between them.');
    const dots = member.indexOf('..');
    if (dots < 0) parts.push(readEdtfDate(member, text, at, calendar));
    else {
      const [left, right] = [member.slice(0, dots), member.slice(dots + 2)];
      if (left === '' && right === '')
        throw dateError(text, at, 2, 'two dots alone are no date', 'Write a date before or after them.');
      parts.push(readInterval(text, left, right, at, at + dots + 2, calendar));
    }
    at += member.length + 1;
  }
  return parts;
}

/** From the first day of any part to the last of any. */
export const hull = (parts: readonly DatePart[]): Span => ({
  from: Math.min(...parts.map((part) => part.span.from)) as Day,
  until: Math.max(...parts.map((part) => part.span.until)) as Day,
});
