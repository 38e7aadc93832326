import { MONTHS } from './calendar.ts';
import { anyOf } from './date-error.ts';
import { feastNames } from './feast-days.ts';
import { monthWords } from './month-words.ts';
import data from './no-dates.json' with { type: 'json' };
import { ORDINAL_WORDS } from './ordinals.ts';
import { allReigns } from './regnal-years.ts';
import republican from './republican.json' with { type: 'json' };
import { isRomanDay } from './roman-day.ts';
import { type Token, tokensOf } from './tokens.ts';

/** Words of wordings that stand in no data file; the first of several as near is offered. */
const WORDS =
  'before after from until till between about circa probably possibly perhaps not later earlier than century early ' +
  'middle late last half quarter reign of year term feast eve octave old style new style ultimo instant proximo spring ' +
  'summer autumn winter monday tuesday wednesday thursday friday saturday sunday anno domini turn any time and either';

let known: readonly string[] | undefined;

function vocabulary(): readonly string[] {
  known ??= [
    ...new Set([
      ...MONTHS.map((month) => month.toLowerCase()),
      ...WORDS.split(' '),
      ...ORDINAL_WORDS,
      ...monthWords().keys(),
      ...[...feastNames().keys()].flatMap((name) => name.split(' ')),
      ...allReigns().flatMap((reign) => reign.names),
      ...republican.months.flat(),
    ]),
  ].filter((word) => word.length > 2);
  return known;
}

/**
 * What to write in the place of a wording that is not understood, as a sentence:
 * 1. another phrase, where the word at fault names a style or says that there is no date, or a sovereign without more;
 *    how days counted from Kalends, Nones and Ides are written;
 * 2. the word `term` put in: `Hilary 1834`; the word at fault exchanged for the nearest one known (within a third of its letters);
 * 3. what is left without it. That may mean something else, so it is not offered as what was meant.
 * @param understood whether a wording can be read.
 */
export function nearestWording(
  source: string,
  fault: Token | undefined,
  understood: (text: string) => boolean,
): string | undefined {
  if (fault === undefined) return undefined;
  const tokens = tokensOf(source);
  const style = data.styles.find(({ words }) => tokens.some(({ text }) => words.includes(text)));
  if (style !== undefined) return `That is a style; for the time write ${anyOf(style.write)}.`;
  if (data.undated.includes(fault.text)) return 'Leave the date out.';
  const sovereign = source.replace(/\s+(?:period|era|style)$/i, '');
  if (understood(`reign of ${sovereign}`)) return `Write “reign of ${sovereign}”.`;
  if (HAS_FIGURE.test(source) && tokens.some(isRomanDay))
    return 'Write number, Kal., Non. or Id., month and year, as “III Non. Maii 1844”; or the day of the month.';
  const before = source.slice(0, fault.at);
  const after = source.slice(fault.end);
  if (understood(`${before}term ${source.slice(fault.at)}`)) return `Write “${before}term ${source.slice(fault.at)}”.`;
  for (const word of nearWords(fault.text)) {
    const capital = source[fault.at] !== source[fault.at]?.toLowerCase();
    const exchanged = before + (capital ? word.charAt(0).toUpperCase() + word.slice(1) : word) + after;
    if (understood(exchanged)) return `Did you mean “${exchanged}”?`;
  }
  return withoutLead(source, understood) ?? withoutEnd(source, fault, understood);
}

const HAS_FIGURE = /\d/;
/** What is left without one of these says the opposite. */
const DENIES = /(?:^|\s)(?:not|never|hardly|nicht|kaum|pas|non|haud)(?:\s|$)/i;

/** `Whitehall, July 6, 1815`: what stands before a date, as little of it as may be. */
function withoutLead(source: string, understood: (text: string) => boolean): string | undefined {
  for (const { at } of tokensOf(source).slice(1)) {
    const [lead, rest] = [source.slice(0, at).trim(), source.slice(at)];
    if (HAS_FIGURE.test(lead) || DENIES.test(lead)) return undefined;
    if (/^[\p{L}\d]/u.test(rest) && understood(rest)) return `Without “${lead}” it would be read: “${rest}”.`;
  }
  return undefined;
}

function withoutEnd(source: string, { at }: Token, understood: (text: string) => boolean): string | undefined {
  const [kept, rest] = [source.slice(0, at).trim(), source.slice(at).trim()];
  if (DENIES.test(kept) || !HAS_FIGURE.test(kept) || HAS_FIGURE.test(rest) || !understood(kept)) return undefined;
  return `Without “${rest}” it would be read: “${kept}”.`;
}

function nearWords(text: string): string[] {
  const limit = Math.max(1, Math.floor(text.length / 3));
  if (text.length < 3) return [];
  return vocabulary()
    .map((word) => ({ word, distance: distance(text, word, limit) }))
    .filter((one) => one.distance <= limit)
    .sort((a, b) => a.distance - b.distance)
    .slice(0, 8)
    .map((one) => one.word);
}

/** Letters to change, add, leave out or exchange with their neighbour (optimal string alignment); `limit + 1` if more. */
function distance(a: string, b: string, limit: number): number {
  if (Math.abs(a.length - b.length) > limit) return limit + 1;
  let older: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1] ? 0 : 1;
      let least = Math.min((last[j] ?? 0) + 1, (row[j - 1] ?? 0) + 1, (last[j - 1] ?? 0) + same);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1])
        least = Math.min(least, (older[j - 2] ?? 0) + 1);
      row.push(least);
    }
    [older, last] = [last, row];
  }
  return last[b.length] ?? limit + 1;
}
