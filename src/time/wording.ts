import type { Cursor } from './cursor.ts';
import { dateError } from './date-error.ts';
import type { Calendar, DatePart } from './date-reading.ts';
import { daysOf } from './old-style.ts';
import { edgeOfPiece, edtfEnd, edtfOfPiece, type Flags, flagged, type Piece, partOf, SURE } from './piece.ts';
import type { DateOptions } from './reading-options.ts';
import { lastDay, NO_END, NO_START, type Span } from './span.ts';
import { type PartialDate, readWrittenDate } from './written-date.ts';

/** What a wording means, before it is put beside its text. */
export type Meaning = {
  readonly parts: readonly DatePart[];
  readonly edtf: string;
  readonly calendar: Calendar;
  readonly label?: string;
};

type Relation = 'before' | 'until' | 'after' | 'from';

const RELATIONS: readonly (readonly [phrase: string, relation: Relation])[] = [
  ['terminus ante quem', 'until'],
  ['taq', 'until'],
  ['terminus post quem', 'from'],
  ['tpq', 'from'],
  ['not later than', 'until'],
  ['no later than', 'until'],
  ['not after', 'until'],
  ['on or before', 'until'],
  ['in or before', 'until'],
  ['at or before', 'until'],
  ['by or before', 'until'],
  ['up to', 'until'],
  ['until', 'until'],
  ['till', 'until'],
  ['by', 'until'],
  ['not earlier than', 'from'],
  ['no earlier than', 'from'],
  ['not before', 'from'],
  ['on or after', 'from'],
  ['in or after', 'from'],
  ['at or after', 'from'],
  ['since', 'from'],
  ['from', 'from'],
  ['earlier than', 'before'],
  ['prior to', 'before'],
  ['before', 'before'],
  ['pre -', 'before'],
  ['pre', 'before'],
  ['later than', 'after'],
  ['after', 'after'],
  ['post -', 'after'],
  ['post', 'after'],
];
const TRAILING: readonly (readonly [phrase: string, relation: Relation])[] = [
  ['or earlier', 'until'],
  ['or before', 'until'],
  ['and before', 'until'],
  ['and earlier', 'until'],
  ['or later', 'from'],
  ['or after', 'from'],
  ['and after', 'from'],
  ['and later', 'from'],
  ['onwards', 'from'],
  ['onward', 'from'],
];
const ABOUT = ['c', 'ca', 'circa', 'cca', 'about', 'abt', 'around', 'approximately', 'approx', 'roughly', 'vers', 'um'];
const PERHAPS = ['probably', 'prob', 'possibly', 'poss', 'perhaps', 'presumably'];

/** A reader of one kind of date. */
export type PieceReader = (cursor: Cursor, options: DateOptions) => Piece | undefined;

/**
 * A wording as the trade writes it:
 * 1. `any time`; 2. `between A and B`, `from A to B`, `A–B`; 3. `before`, `by`, `after`, `from`, `until` and their like;
 * 4. `A or B`; 5. one date. Dates are approximate after `c.` and its like, uncertain after `probably` or before `?`.
 * `before X` ends the day before X's first day, `by X` and `until X` on X's last; `after X` begins the day after X's
 * last day, `from X` on X's first.
 */
export function readWording(
  cursor: Cursor,
  options: DateOptions,
  readers: readonly PieceReader[],
): Meaning | undefined {
  const end = <Found>(found: Found | undefined): Found | undefined => (cursor.done ? found : undefined);
  return (
    cursor.attempt(() => end(anyTime(cursor))) ??
    cursor.attempt(() => end(between(cursor, options, readers))) ??
    cursor.attempt(() => end(range(cursor, options, readers))) ??
    cursor.attempt(() => end(related(cursor, options, readers))) ??
    cursor.attempt(() => end(alternatives(cursor, options, readers))) ??
    cursor.attempt(() => end(single(cursor, options, readers)))
  );
}

function anyTime(cursor: Cursor): Meaning | undefined {
  cursor.word('at');
  if (!cursor.words(['any', 'time'])) return undefined;
  const open = { precision: 'day', ...SURE } as const;
  const parts = [{ span: { from: NO_START, until: NO_END }, from: open, until: open }];
  return { parts, edtf: '../..', calendar: 'gregorian' };
}

/** `c.`, `probably`, `?` before a date, in any order. */
function readFlags(cursor: Cursor): Flags {
  let { approximate, uncertain } = SURE as Flags;
  for (;;) {
    if (cursor.word(...ABOUT)) {
      approximate = true;
      cursor.sign('.');
    } else if (cursor.word(...PERHAPS) || cursor.sign('?')) uncertain = true;
    else if (cursor.sign('~')) approximate = true;
    else if (cursor.words(['some', 'time']) || cursor.word('sometime', 'dated', 'in', 'on', 'during')) continue;
    else return { approximate, uncertain };
  }
}

function readFlagsAfter(cursor: Cursor): Flags {
  if (cursor.sign('?')) return { approximate: cursor.sign('~') !== undefined, uncertain: true };
  if (cursor.sign('~')) return { approximate: true, uncertain: cursor.sign('?') !== undefined };
  if (cursor.sign('%')) return { approximate: true, uncertain: true };
  if (cursor.words(['(', '?', ')'])) return { approximate: false, uncertain: true };
  return SURE;
}

const both = (a: Flags, b: Flags): Flags => ({
  approximate: a.approximate || b.approximate,
  uncertain: a.uncertain || b.uncertain,
});

/** One end of a range: a date of any kind, or parts of a written one. */
type Half = { readonly flags: Flags; readonly piece?: Piece; readonly written?: PartialDate };

function readHalf(cursor: Cursor, options: DateOptions, readers: readonly PieceReader[]): Half | undefined {
  return cursor.attempt(() => {
    const before = readFlags(cursor);
    for (const reader of readers) {
      const piece = cursor.attempt((one) => reader(one, options));
      if (piece !== undefined) return { flags: both(before, readFlagsAfter(cursor)), piece };
    }
    const written = readWrittenDate(cursor);
    return written === undefined ? undefined : { flags: both(before, readFlagsAfter(cursor)), written };
  });
}

/** A whole date: nothing is missing in it. */
function readWhole(cursor: Cursor, options: DateOptions, readers: readonly PieceReader[]): Piece | undefined {
  return cursor.attempt(() => {
    const half = readHalf(cursor, options, readers);
    return half === undefined ? undefined : wholeOf(half, cursor, options);
  });
}

function wholeOf({ flags, piece, written }: Half, cursor: Cursor, options: DateOptions): Piece | undefined {
  if (piece !== undefined) return flagged(piece, flags);
  if (written?.year === undefined) return undefined;
  return flagged(daysOf({ ...written, year: written.year }, cursor.source, options), flags);
}

/** Completes what one end of a range leaves to the other: `3–8 May 1834`, `May–July 1834`, `1834–36`. */
function completed(left: PartialDate, right: PartialDate): [PartialDate, PartialDate] {
  let [a, b] = [left, right];
  const short = b.bare;
  if (short !== undefined && a.year !== undefined) {
    const size = 10 ** short.digits;
    const century = Math.floor(a.year / size) * size;
    b = { ...without(b), year: century + short.value };
  }
  if (a.bare !== undefined && b.day !== undefined && b.month !== undefined) a = { ...without(a), day: a.bare.value };
  if (b.day !== undefined && b.month === undefined && a.month !== undefined) b = { ...b, month: a.month };
  if (a.day !== undefined && a.month === undefined && b.month !== undefined) a = { ...a, month: b.month };
  if (a.year === undefined && b.year !== undefined) {
    a = { ...a, year: b.year, ...(b.secondYear === undefined ? {} : { secondYear: b.secondYear }) };
  }
  if (a.style === undefined && b.style !== undefined) a = { ...a, style: b.style };
  return [a, b];
}

const without = ({ bare: _, ...rest }: PartialDate): PartialDate => rest;

function between(cursor: Cursor, options: DateOptions, readers: readonly PieceReader[]): Meaning | undefined {
  if (!cursor.word('between', 'betw', 'bet')) return undefined;
  return twoEnds(cursor, options, readers, () => cursor.word('and', 'to') ?? cursor.sign('-', '&'), false);
}

function range(cursor: Cursor, options: DateOptions, readers: readonly PieceReader[]): Meaning | undefined {
  const worded = cursor.word('from') !== undefined;
  const joined = () =>
    cursor.word('to', 'until', 'till', 'through', 'bis') ??
    (cursor.words(['up', 'to']) ? cursor.peek(-1) : cursor.sign('-'));
  return twoEnds(cursor, options, readers, joined, !worded);
}

/** @param spread an "about" before the first date counts for both, as in `c. 1834–36`. */
function twoEnds(
  cursor: Cursor,
  options: DateOptions,
  readers: readonly PieceReader[],
  joint: () => unknown,
  spread: boolean,
): Meaning | undefined {
  const left = readHalf(cursor, options, readers);
  if (left === undefined || joint() === undefined) return undefined;
  const right = readHalf(cursor, options, readers);
  if (right === undefined) return undefined;
  let [a, b] = [left, right];
  if (left.written && right.written) {
    const [first, second] = completed(left.written, right.written);
    a = { ...left, written: first };
    b = { ...right, written: second };
  }
  if (spread) b = { ...b, flags: both(b.flags, { approximate: a.flags.approximate, uncertain: false }) };
  const [from, until] = [wholeOf(a, cursor, options), wholeOf(b, cursor, options)];
  if (from === undefined || until === undefined) return undefined;
  if (from.span.from >= until.span.until) {
    const at = right.written?.at ?? 0;
    throw dateError(
      cursor.source,
      at,
      right.written?.length ?? 1,
      'it ends before it begins',
      'Put the earlier date first, and write both years in full.',
    );
  }
  const edtf = `${edtfEnd(from.span.from, 'from', edgeOfPiece(from))}/${edtfEnd(lastDay(until.span), 'until', edgeOfPiece(until))}`;
  return { parts: [partOf(from, until)], edtf, calendar: eitherCalendar([from, until]) };
}

function related(cursor: Cursor, options: DateOptions, readers: readonly PieceReader[]): Meaning | undefined {
  const leading = RELATIONS.find(([phrase]) => cursor.words(phrase.split(' ')));
  const piece = readWhole(cursor, options, readers);
  if (piece === undefined) return undefined;
  const relation = (leading ?? TRAILING.find(([phrase]) => cursor.words(phrase.split(' '))))?.[1];
  if (relation === undefined) return undefined;
  return inRelation(relation, piece);
}

function inRelation(relation: Relation, piece: Piece): Meaning {
  const edge = edgeOfPiece(piece);
  const open = { precision: 'day', ...SURE } as const;
  const { from, until } = piece.span;
  const spans: Record<Relation, Span> = {
    before: { from: NO_START, until: from },
    until: { from: NO_START, until },
    after: { from: until, until: NO_END },
    from: { from, until: NO_END },
  };
  const span = spans[relation];
  const early = relation === 'before' || relation === 'until';
  const edtf = early ? `../${edtfEnd(lastDay(span), 'until', edge)}` : `${edtfEnd(span.from, 'from', edge)}/..`;
  return { parts: [{ span, from: early ? open : edge, until: early ? edge : open }], edtf, calendar: piece.calendar };
}

/** `1834 or 1836`, `either May or July 1834`. */
function alternatives(cursor: Cursor, options: DateOptions, readers: readonly PieceReader[]): Meaning | undefined {
  cursor.word('either');
  const halves: Half[] = [];
  do {
    const half = readHalf(cursor, options, readers);
    if (half === undefined) return undefined;
    halves.push(half);
  } while (cursor.word('or') ?? (cursor.peek(1)?.kind === 'number' ? cursor.sign(',') : undefined));
  if (halves.length < 2) return undefined;
  for (let i = halves.length - 1; i > 0; i--) {
    const [left, right] = [halves[i - 1], halves[i]];
    if (left?.written === undefined || right?.written === undefined) continue;
    const [a, b] = completed(left.written, right.written);
    halves[i - 1] = { ...left, written: a };
    halves[i] = { ...right, written: b };
  }
  const pieces = halves.map((half) => wholeOf(half, cursor, options));
  const whole = pieces.filter((piece) => piece !== undefined);
  if (whole.length < pieces.length) return undefined;
  const edtf = `[${whole.map((piece) => edtfOfPiece(piece).replace('/', '..')).join(',')}]`;
  return { parts: whole.map((piece) => partOf(piece)), edtf, calendar: eitherCalendar(whole) };
}

function single(cursor: Cursor, options: DateOptions, readers: readonly PieceReader[]): Meaning | undefined {
  const piece = readWhole(cursor, options, readers);
  if (piece === undefined) return undefined;
  const { label, calendar } = piece;
  return { parts: [partOf(piece)], edtf: edtfOfPiece(piece), calendar, ...(label === undefined ? {} : { label }) };
}

const eitherCalendar = (pieces: readonly Piece[]): Calendar =>
  pieces.find((piece) => piece.calendar !== 'gregorian')?.calendar ?? 'gregorian';
