import type { Cursor } from './cursor.ts';
import { dateError } from './date-error.ts';
import type { Calendar } from './date-reading.ts';
import { both } from './flags.ts';
import { type Context, completedHalves, type Half, type PieceReader, readHalf, readWhole, wholeOf } from './half.ts';
import { daysOf } from './old-style.ts';
import { edtfOfPart, edtfOfPiece, edtfSet, type Meaning, OPEN_EDGE, type Piece, partOf } from './piece.ts';
import type { DateOptions } from './reading-options.ts';
import { readRelated } from './relation.ts';
import { ALL_TIME } from './span.ts';
import { readWrittenDate } from './written-date.ts';

/**
 * A wording as the trade writes it, by the kinds of dates that `readers` know:
 * 1. `any time`; 2. `between A and B`, `from A to B`, `A–B`, both ends inside; 3. `before`, `by`, `after`, `from`,
 * `until` and their like; 4. `A or B`, `A and B`; 5. one date. Dates are approximate after `c.` and its like, uncertain
 * after `probably` or before `?`. Brackets around the whole (a date that a cataloguer supplied) change nothing.
 */
export function readWording(
  cursor: Cursor,
  options: DateOptions,
  readers: readonly PieceReader[],
): Meaning | undefined {
  const context = { cursor, options, readers };
  const plain = cursor.attempt(() => plainDate(context));
  if (plain !== undefined) return plain;
  const bracket = cursor.sign('[', '(');
  const whole = (reader: (context: Context) => Meaning | undefined): Meaning | undefined =>
    cursor.attempt(() => {
      const found = reader(context);
      if (found === undefined) return undefined;
      cursor.sign('.', ',', ';');
      if (bracket !== undefined) cursor.sign(bracket.text === '[' ? ']' : ')');
      return cursor.done ? found : undefined;
    });
  return whole(anyTime) ?? whole(between) ?? whole(range) ?? whole(readRelated) ?? whole(alternatives) ?? whole(single);
}

/** A written date and nothing else, which most dates are: read without trying what else it might be. */
function plainDate({ cursor, options }: Context): Meaning | undefined {
  const written = readWrittenDate(cursor, options);
  if (written?.year === undefined || !cursor.done) return undefined;
  return meaningOf(daysOf({ ...written, year: written.year }, cursor.source, options));
}

function anyTime({ cursor }: Context): Meaning | undefined {
  cursor.word('at');
  if (!cursor.words(['any', 'time'])) return undefined;
  return { parts: [{ span: ALL_TIME, from: OPEN_EDGE, until: OPEN_EDGE }], edtf: '../..', calendar: 'gregorian' };
}

function between(context: Context): Meaning | undefined {
  const { cursor } = context;
  if (!cursor.word('between', 'betw', 'bet', 'entre', 'zwischen')) return undefined;
  return twoEnds(context, () => cursor.word('and', 'to', 'et', 'und') ?? cursor.sign('-', '&'), false);
}

function range(context: Context): Meaning | undefined {
  const { cursor } = context;
  const worded = cursor.word('from', 'von', 'vom', 'de', 'du') !== undefined;
  const joint = (left: Half) =>
    cursor.word('to', 'until', 'till', 'through', 'bis', 'a', 'au') ??
    (cursor.words(['up', 'to']) ? true : cursor.sign('-', ...(left.piece || isMonthAt(cursor) ? ['/'] : [])));
  return twoEnds(context, joint, !worded);
}

/** `Dec. 1805/Jan. 1806`: a stroke before a word stands between two dates. */
const isMonthAt = (cursor: Cursor): boolean => cursor.peek(1)?.kind === 'word';

/** @param spread an "about" before the first date counts for both, as in `c. 1834–36`. */
function twoEnds(context: Context, joint: (left: Half) => unknown, spread: boolean): Meaning | undefined {
  const left = readHalf(context);
  if (left === undefined || joint(left) === undefined) return undefined;
  const rightAt = context.cursor.peek()?.at ?? 0;
  const right = readHalf(context);
  if (right === undefined) return undefined;
  const [a, b] = completedHalves(left, right);
  const spreading = { approximate: spread && a.flags.approximate, uncertain: false };
  const from = wholeOf(a, context);
  const until = wholeOf({ ...b, flags: both(b.flags, spreading) }, context);
  if (from === undefined || until === undefined) return undefined;
  if (from.span.from >= until.span.until) {
    const { source } = context.cursor;
    const hint = 'Put the earlier date first, and write both years in full.';
    throw dateError(source, rightAt, source.length - rightAt, 'it ends before it begins', hint);
  }
  const part = partOf(from, until);
  return { parts: [part], edtf: edtfOfPart(part), calendar: eitherCalendar([from, until]) };
}

const OR = ['or', 'ou', 'oder'];
const AND = ['and', 'et', 'und'];

/** `1834 or 1836`, `either May or July 1834`, one of them; `1834 and 1836`, both. */
function alternatives(context: Context): Meaning | undefined {
  const { cursor } = context;
  cursor.word('either', 'both');
  const halves: Half[] = [];
  let joint = '';
  for (;;) {
    const half = readHalf(context);
    if (half === undefined) return undefined;
    halves.push(half);
    const next = cursor.word(...OR, ...AND) ?? cursor.sign(',', '&');
    if (next === undefined) break;
    if (next.text !== ',') joint = OR.includes(next.text) ? 'or' : 'and';
  }
  if (halves.length < 2 || joint === '') return undefined;
  for (let i = halves.length - 1; i > 0; i--) {
    const [left, right] = [halves[i - 1], halves[i]];
    if (left !== undefined && right !== undefined) [halves[i - 1], halves[i]] = completedHalves(left, right);
  }
  const pieces = halves.flatMap((half) => wholeOf(half, context) ?? []);
  if (pieces.length < halves.length) return undefined;
  const edtf = edtfSet(pieces.map(edtfOfPiece), joint === 'and');
  return { parts: pieces.map((piece) => partOf(piece)), edtf, calendar: eitherCalendar(pieces) };
}

function single(context: Context): Meaning | undefined {
  const piece = readWhole(context);
  return piece && meaningOf(piece);
}

const meaningOf = (piece: Piece): Meaning => ({
  parts: [partOf(piece)],
  edtf: edtfOfPiece(piece),
  calendar: piece.calendar,
  ...(piece.label === undefined ? {} : { label: piece.label }),
});

const eitherCalendar = (pieces: readonly Piece[]): Calendar =>
  pieces.find((piece) => piece.calendar !== 'gregorian')?.calendar ?? 'gregorian';
