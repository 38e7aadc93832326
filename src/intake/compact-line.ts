import { HeldbyError } from '../errors.ts';
import { APPOINTMENT_KINDS } from '../ledger/kinds.ts';
import { readName } from '../names/name.ts';
import { corpsKey } from '../services/corps-key.ts';
import { fold } from '../services/fold.ts';
import type { Ladder } from '../services/ladder.ts';
import { readRank } from '../services/read-rank.ts';
import type { DateOptions } from '../time/reading-options.ts';
import type { Span } from '../time/span.ts';
import { type FoundDate, findDay, findYear, isDate } from './compact-line-dates.ts';
import { corpsAlone, type Known, nameTyped, rankAlone, takeFromName } from './compact-line-parts.ts';
import { type Bearer, type Parts, type Standing, type TypedDate, takeMarked, takePage } from './compact-line-signs.ts';
import { corpsSlip, initialsSlip, rankSlip, rankWithin } from './compact-line-slips.ts';

export type { Standing } from './compact-line-signs.ts';

export type TypedEntry = {
  readonly name: string;
  readonly rank: string;
  readonly corps: string | undefined;
  readonly dated: TypedDate | undefined;
  readonly page: string | undefined;
  readonly appointment: string | undefined;
  readonly note: string | undefined;
  readonly bearer: Bearer;
};

/**
 * 1. `nothing`: an empty line, or one that begins with #. 2. `command`: `:` and a word. 3. `heading`: rank, corps and page
 * without a name. 4. `entry`. `keep`: the typist has seen what is doubtful and means it. `slips`: what was understood, and
 * is likely to be mistyped.
 */
export type CompactLine =
  | { readonly kind: 'nothing' }
  | { readonly kind: 'command'; readonly words: string }
  | { readonly kind: 'heading'; readonly standing: Standing; readonly slips: readonly string[] }
  | {
      readonly kind: 'entry';
      readonly entry: TypedEntry;
      readonly standing: Standing;
      readonly keep: boolean;
      readonly slips: readonly string[];
    };

export type LineContext = {
  /** Of the edition's service; where that has none, of the ranks that the ledger has seen. */
  readonly ladder: Ladder;
  readonly asAt: Span;
  readonly monthFirst: boolean;
  readonly dates?: DateOptions;
  /** Wordings of corps that the ledger has. */
  readonly knownCorps: Iterable<string>;
};

const DITTO = /^(?:["”“]|''|,,|do\.?|ditto|[-–—_]+)$/i;
/** Columns, leaders of points, semicolons and the dash of `Capts.—J. Holt` part a line; a comma may also stand inside a name. */
const COLUMNS = /\t|;|\||\s{2,}|(?:\.\s?){3,}|\.{2,}|…|(?<=[\p{L}.:,])\s*—\s*(?=\p{L})/u;
const LEADING_DITTO = /^(?:["”“]|''|do\.?|ditto|[-–—_]+)\s+(?=[\p{L}\d])/iu;
const TRAILING_DITTO = /\s+(?:["”“]|''|do\.?|ditto|[-–—_]+)$/i;
const ROMAN_PAGE = /^p{1,2}\.?\s*([ivxlc]{1,7})\.?$/;

/**
 * Reads lines of a page as they are printed, or shorter. Parts may come in any order: they are known by their look
 * (dates, ranks of the ladder, corps that the ledger has or that look like one, `p. 213`) or by a sign before them
 * (`@` corps, `^` rank, `=` person, `<…>` name, `{…}` the date as the page prints it, `//` note). What is left is the
 * name. Corps, rank and page are those of the line before until another is given.
 */
export function compactReader(context: LineContext): (line: string, standing: Standing) => CompactLine {
  const corps = new Map<string, string>();
  for (const text of context.knownCorps) if (!corps.has(corpsKey(text))) corps.set(corpsKey(text), text);
  corps.delete('');
  return (line, standing) => {
    const read = readLine(line, standing, context, { ladder: context.ladder, asAt: context.asAt, corps });
    if ((read.kind !== 'entry' && read.kind !== 'heading') || read.standing.corps === undefined) return read;
    const typed = read.standing.corps;
    const key = corpsKey(typed);
    if (key === '' || corps.has(key)) return read;
    // Told once: whoever goes on with it means it.
    const slip = corpsSlip(typed, corps);
    corps.set(key, typed);
    return slip === undefined ? read : { ...read, slips: [slip, ...read.slips] };
  };
}

function readLine(given: string, standing: Standing, context: LineContext, known: Known): CompactLine {
  const line = given.normalize('NFC').trim();
  if (line === '' || line.startsWith('#')) return { kind: 'nothing' };
  if (line.startsWith(':')) return { kind: 'command', words: line.slice(1).trim() };
  const parts: Parts = {
    note: undefined,
    printed: undefined,
    name: undefined,
    bearer: undefined,
    corps: undefined,
    rank: undefined,
    rankIsBehind: false,
    page: undefined,
    dated: undefined,
    appointment: undefined,
  };
  const keep = /!\s*$/.test(line) || /!\s*\/\//.test(line);
  let rest = takeMarked(line, parts, known);
  // A day says more than a page, and a page more than a year: "P 3 Mar. 1830", "p. 1833".
  rest = takeDate(rest, parts, (text) => findDay(text, context));
  rest = takePage(rest, parts, standing);
  rest = takeDate(rest, parts, (text) => wholeDate(text, context) ?? findYear(text, context));
  const names = takeParts(rest, parts, known, standing);
  if (parts.printed !== undefined) {
    if (parts.dated === undefined)
      throw new HeldbyError(
        'DATE',
        `“${parts.printed}” says only what the page prints.`,
        'Write the date meant before it: 28 Feb. 1833 {31 Feb. 1833}',
        parts.printed,
      );
    parts.dated = { text: parts.dated.text, printed: parts.printed };
  }
  const corps = parts.corps === undefined ? standing.corps : parts.corps === '' ? undefined : parts.corps;
  const page = parts.page ?? standing.page;
  if (names.length === 0) return heading(parts, standing, { corps, page });
  const name = parts.name ?? nameTyped(names);
  const rank = heldBeside(parts, standing, known) ?? parts.rank ?? standing.rank;
  if (parts.name === undefined) refuseLoneWord(name, parts);
  const slip =
    parts.name === undefined
      ? (initialsSlip(names[0] ?? '', known) ?? rankSlip(name, context.ladder) ?? rankWithin(name, known))
      : undefined;
  if (rank === undefined && slip !== undefined)
    throw new HeldbyError('RANK', `No rank stands in the line or over it, and ${slip}.`, 'Write the rank meant.', name);
  if (rank === undefined)
    throw new HeldbyError(
      'RANK',
      'No rank stands in the line or over it.',
      `Write it before the name, or on a line of its own for the lines that follow.${
        parts.dated === undefined && parts.corps === undefined ? ` If it is a corps: @${names.join(', ')}` : ''
      }`,
      name,
    );
  return {
    kind: 'entry',
    keep,
    slips: slip === undefined ? [] : [slip],
    entry: {
      name,
      rank,
      corps,
      dated: parts.dated,
      page,
      appointment: parts.appointment,
      note: parts.note,
      bearer: parts.bearer ?? { kind: 'by name' },
    },
    standing: {
      rank: parts.rank === undefined || isOfOneLine(rank, known) ? standing.rank : parts.rank,
      corps,
      page,
      dated: parts.dated ?? standing.dated,
      surname: readName(name).surname,
    },
  };
}

/** A word by itself is sooner a heading that is not understood than a name. */
function refuseLoneWord(name: string, { dated, rank, corps, bearer, page }: Parts): void {
  if ([dated, rank, corps, bearer, page].some((part) => part !== undefined)) return;
  const { forenames, titles } = readName(name);
  if (forenames.length + titles.length > 0) return;
  throw new HeldbyError(
    'VALUE',
    `“${name}” alone is not understood.`,
    'Write @ before a corps, ^ before a rank, and <…> round a name that is all that stands there.',
    name,
  );
}

/**
 * `Ralph Dinsdale (Adj.)` under Lieutenants: an appointment that is held beside a rank, behind the name of one who stands
 * among those of the rank, is no rank in its place.
 */
function heldBeside({ rank, rankIsBehind }: Parts, standing: Standing, known: Known): string | undefined {
  if (rank === undefined || standing.rank === undefined || !rankIsBehind) return undefined;
  const isBeside = (text: string): boolean | undefined => {
    const reading = readRank(text, known.ladder, { column: true, span: known.asAt });
    return reading.kind === 'found' ? reading.rank.concurrent : undefined;
  };
  return isBeside(rank) === true && isBeside(standing.rank) === false
    ? `${standing.rank} and ${rank.replace(/^\((.*)\)$/, '$1')}`
    : undefined;
}

/** "Bt. Major" and "Lieut. and Adjt." say something of one man; those under him are what they were before. */
function isOfOneLine(rank: string, { ladder, asAt }: Known): boolean {
  const reading = readRank(rank, ladder, { column: true, span: asAt });
  return reading.kind === 'found' && (reading.appointment !== undefined || /(?:\band\b|&)/i.test(rank));
}

/** A corps that is another than before ends the rank: what is typed under it must not be taken for the last of its kind. */
function heading(
  parts: Parts,
  standing: Standing,
  { corps, page }: { corps: string | undefined; page: string | undefined },
): CompactLine {
  if (parts.dated !== undefined || parts.bearer !== undefined || parts.appointment !== undefined)
    throw new HeldbyError(
      'VALUE',
      'The line has no name.',
      parts.corps === undefined || parts.corps === ''
        ? 'Write the name as it is printed.'
        : `“${parts.corps}” was taken for a corps: write @ before the corps alone, or <…> round the name.`,
    );
  const sameCorps = corpsKey(corps ?? '') === corpsKey(standing.corps ?? '');
  return {
    kind: 'heading',
    slips: [],
    standing: { ...standing, corps, page, rank: parts.rank ?? (sameCorps ? standing.rank : undefined) },
  };
}

function takeDate(rest: string, parts: Parts, find: (text: string) => FoundDate | undefined): string {
  const found = find(rest);
  if (found === undefined) return rest;
  const before = parts.dated?.text;
  const second = before === undefined ? find(found.rest)?.text : found.text;
  if (second !== undefined)
    throw new HeldbyError(
      'DATE',
      `There are two dates: ${before ?? found.text} and ${second}.`,
      'An entry has one date of rank: keep the one that belongs to the rank, and put the other in a note (// …).',
      second,
    );
  parts.dated = { text: found.text, printed: undefined };
  return found.rest;
}

/** A date in other words, such as a feast or a regnal year, that stands between commas or columns by itself. */
function wholeDate(rest: string, context: LineContext): FoundDate | undefined {
  const part = rest
    .split(new RegExp(`${COLUMNS.source}|,`, 'u'))
    .find((each) => isDate(each.trim(), context) && !/^\p{Lu}\.\s/u.test(each.trim()));
  return part === undefined ? undefined : { text: part.trim(), rest: rest.replace(part, '\t') };
}

type Piece = { readonly text: string; readonly beforeComma: boolean };

/** Columns, and what stands between commas in one, unless the column is a rank or a corps as a whole. */
function piecesOf(rest: string, known: Known): Piece[] {
  return rest.split(COLUMNS).flatMap((column) => {
    const text = column
      .trim()
      .replace(/^,+|,+$/g, '')
      .trim();
    const whole = text !== '' && (rankOf(text, known) !== undefined || corpsAlone(text, known) !== undefined);
    const each = whole ? [text] : text.split(',').map((part) => part.trim());
    return each
      .map((part, at) => ({ text: part, beforeComma: at < each.length - 1 }))
      .filter((part) => part.text !== '');
  });
}

/** Ranks, corps, dittos and pages that stand by themselves, then those in one piece with the name; returns the name. */
function takeParts(rest: string, parts: Parts, known: Known, standing: Standing): string[] {
  const names: string[] = [];
  const pieces = piecesOf(rest, known);
  for (const [at, { text, beforeComma }] of pieces.entries()) {
    const after = pieces.slice(at + 1).map((piece) => piece.text);
    const roman = ROMAN_PAGE.exec(text)?.[1];
    if (DITTO.test(text)) {
      // Before the name it repeats what stands anyway, before a comma the surname, and behind the name the date.
      if (names.length > 0) parts.dated ??= standing.dated;
      else if (beforeComma) names.push(surnameAbove(standing));
    } else if (roman !== undefined && names.length > 0 && !isForenames(roman, text, pieces[at - 1])) parts.page = roman;
    else if (APPOINTMENT_KINDS.some((kind) => kind === fold(text))) parts.appointment = fold(text);
    else if (!takeAlone(text, parts, known, after, names)) names.push(text);
  }
  if (parts.name !== undefined) {
    if (names[0] !== undefined)
      throw new HeldbyError(
        'VALUE',
        `“${names[0]}” stands beside the name <${parts.name}>.`,
        'Write all of the name between < and >, and a sign before any other part.',
        names[0],
      );
    return [parts.name];
  }
  return names
    .map((piece, at) => withoutRankAndCorps(piece, parts, known, at > 0, standing))
    .filter((piece) => piece !== '');
}

/** `Saltmarshe, p c`: one letter behind a comma, and no point, is sooner an initial than a page. */
const isForenames = (roman: string, text: string, before: Piece | undefined): boolean =>
  roman.length === 1 && before?.beforeComma === true && !text.includes('.');

function withoutRankAndCorps(
  piece: string,
  parts: Parts,
  known: Known,
  isBehindSurname: boolean,
  standing: Standing,
): string {
  const ditto = LEADING_DITTO.exec(piece)?.[0] ?? '';
  const dateDitto = TRAILING_DITTO.exec(piece)?.[0] ?? '';
  if (dateDitto !== '') parts.dated ??= standing.dated;
  const taken = takeFromName(piece.slice(ditto.length, piece.length - dateDitto.length), known, {
    hasRank: (parts.rank ?? standing.rank) !== undefined,
    isBehindSurname,
  });
  if (parts.rank === undefined && taken.rank !== undefined) {
    parts.rank = taken.rank;
    parts.rankIsBehind = taken.rankIsBehind;
  }
  parts.corps ??= taken.corps;
  return taken.name;
}

/** A rank with several meanings is one too; what it means is asked where it is taken. */
function rankOf(text: string, known: Known): string | undefined {
  try {
    return rankAlone(text, known);
  } catch (error) {
    if (error instanceof HeldbyError) return undefined;
    throw error;
  }
}

/** Of two words that can each be the rank, the first is the name: `Major, William, Lieut.` */
function takeAlone(
  piece: string,
  parts: Parts,
  known: Known,
  after: readonly string[],
  names: readonly string[],
): boolean {
  const rank = rankAlone(piece, known);
  if (rank !== undefined) {
    const isName =
      names.length === 0 &&
      /^\p{Lu}\p{Ll}+$/u.test(piece) &&
      after.some((each) => rankOf(each, known) !== undefined) &&
      after.some((each) => rankOf(each, known) === undefined && corpsAlone(each, known) === undefined);
    if (isName) return false;
    if (parts.rank !== undefined)
      throw new HeldbyError(
        'RANK',
        `There are two ranks: ${parts.rank} and ${piece}.`,
        'An entry states one: type a line for each.',
        piece,
      );
    parts.rank = rank;
    parts.rankIsBehind = names.length > 0;
    return true;
  }
  const corps = corpsAlone(piece, known);
  if (corps === undefined) return false;
  if (parts.corps !== undefined && corpsKey(parts.corps) !== corpsKey(corps))
    throw new HeldbyError(
      'VALUE',
      `There are two corps: ${parts.corps} and ${corps}.`,
      'An entry states one: type a line for each.',
      corps,
    );
  parts.corps = corps;
  return true;
}

function surnameAbove({ surname }: Standing): string {
  if (surname === undefined)
    throw new HeldbyError('VALUE', 'There is no surname above to repeat.', 'Write the surname.');
  return surname;
}
