import data from './data/number-series.json' with { type: 'json' };

/** Where a number stands in a series that began anew with no year: between the first numbers of two years. */
export type NumberYear = { readonly earliest: number; readonly next: number | undefined; readonly note: string };

/**
 * The year of a serial number that a wording of the shelf gives, as `Rd No 351202`: the last year whose first number is
 * not above it, and the next year of which a first number is known. Undefined where the fact has no series, or the words
 * no number.
 */
export function yearOfNumber(fact: string, words: string): NumberYear | undefined {
  const series = data.series.find(({ id }) => id === fact);
  const digits = /\d[\d,]*(?!.*\d)/.exec(words)?.[0]?.replaceAll(',', '');
  if (series === undefined || digits === undefined) return undefined;
  const number = Number(digits);
  const starts = Object.entries(series.starts).map(([year, first]) => ({ year: Number(year), first }));
  const at = starts.findLastIndex(({ first }) => first <= number);
  const start = starts[at];
  if (start === undefined || number < 1) return undefined;
  return { earliest: start.year, next: starts[at + 1]?.year, note: series.note };
}
