import { HeldbyError } from '../errors.ts';
import { corpsMarked, type Known, rankMarked } from './compact-line-parts.ts';

/** What stands over a line and holds until it is said otherwise. */
export type Standing = {
  readonly rank?: string | undefined;
  readonly corps?: string | undefined;
  readonly page?: string | undefined;
  /** Of the line before, for a ditto. */
  readonly dated?: TypedDate | undefined;
  readonly surname?: string | undefined;
};

export type TypedDate = {
  readonly text: string;
  /** What the page shows, where that cannot be a date. */
  readonly printed: string | undefined;
};

/** Whose entry it is: found by the name, a person who is to be made, nobody yet, or somebody who is named. */
export type Bearer =
  | { readonly kind: 'by name' }
  | { readonly kind: 'new' }
  | { readonly kind: 'nobody' }
  | { readonly kind: 'named'; readonly words: string };

/** The parts of one line while it is read; corps '' is none. */
export type Parts = {
  note: string | undefined;
  printed: string | undefined;
  name: string | undefined;
  bearer: Bearer | undefined;
  corps: string | undefined;
  rank: string | undefined;
  /** It stands behind the name. */
  rankIsBehind: boolean;
  page: string | undefined;
  dated: TypedDate | undefined;
  appointment: string | undefined;
};

const PAGE =
  /(?<![\p{L}\p{N}])(?:[Pp]ages?\s*|pp?\.?\s*|fol\.?\s*|P\.\s?(?=\d{2}))(\d+[a-z*]?(?:[-–]\d+)?|\+)(?![\p{L}\p{N}])/u;

/** Everything that a sign stands before; returns the line without it, tabs in its places. */
export function takeMarked(line: string, parts: Parts, known: Known): string {
  let rest = line;
  const cut = (pattern: RegExp, take: (inside: string) => unknown, left = (): string => ''): void => {
    rest = rest.replace(pattern, (_whole, inside: string) => {
      take(inside.trim());
      return `\t${left()}`;
    });
  };
  /** A date or a page behind what is marked is no part of it. */
  const behind: string[] = [];
  const untilDate = (inside: string): string => {
    const end = /\s(?:(?=p{1,2}\.?\s*\d)|(?=\d{1,2}(?:st|nd|rd|th|d)?\s*[\p{L}./-]+\s*['’]?\d{2,4}\b))/u.exec(
      inside,
    )?.index;
    if (end !== undefined) behind.push(inside.slice(end));
    return inside.slice(0, end).trim();
  };
  cut(/(?:^|\s)\/\/(.*)$/, (inside) => (parts.note = inside.replace(/\s*!$/, '') || undefined));
  rest = rest.replace(/\s*!\s*$/, '');
  cut(/\{([^{}]*)\}/, (inside) => (parts.printed = inside));
  cut(/<([^<>]*)>/, (inside) => (parts.name = inside));
  cut(/(?:^|(?<=[\s,;]))\+(?=$|[\s,;])()/, () => (parts.bearer = { kind: 'new' }));
  cut(/=([^,;\t|@^]*)/, (given) => {
    const inside = untilDate(given);
    parts.bearer = inside === '-' ? { kind: 'nobody' } : { kind: 'named', words: inside };
    if (inside === '')
      throw new HeldbyError('VALUE', 'Behind = nobody is named.', 'Write =p12, =a name, or =- for nobody.', '=');
  });
  let afterRank = '';
  cut(
    /\^([^,;\t|@=]*)/,
    (given) => {
      ({ rank: parts.rank, rest: afterRank } = rankMarked(untilDate(given), known));
    },
    () => afterRank,
  );
  cut(/@([^,;\t|^=]*)/, (given) => {
    const inside = untilDate(given);
    parts.corps = inside === '-' ? '' : corpsMarked(inside, known);
  });
  const open = /[<{]/.exec(rest)?.[0];
  if (open !== undefined)
    throw new HeldbyError(
      'VALUE',
      `Behind ${open} there is no ${open === '<' ? '>' : '}'}.`,
      'Write <NAME> round a name, and {DATE} round a date as it is printed.',
      open,
    );
  return [rest, ...behind].join('\t');
}

export function takePage(rest: string, parts: Parts, standing: Standing): string {
  return rest.replace(PAGE, (_whole, number: string) => {
    parts.page = number === '+' ? nextPage(standing.page) : number;
    return '\t';
  });
}

function nextPage(page: string | undefined): string {
  if (page === undefined || !/^\d+$/.test(page))
    throw new HeldbyError('VALUE', 'No page is known that another could follow.', 'Write the page: p213', 'p+');
  return String(Number(page) + 1);
}
