import type { Cursor } from './cursor.ts';
import { both, readFlags, readFlagsAfter } from './flags.ts';
import { daysOf } from './old-style.ts';
import { type Flags, flagged, type Piece } from './piece.ts';
import type { DateOptions } from './reading-options.ts';
import { type PartialDate, readWrittenDate } from './written-date.ts';

/** A reader of one kind of date. */
export type PieceReader = (cursor: Cursor, options: DateOptions) => Piece | undefined;

/** What every part of a wording is read with. */
export type Context = {
  readonly cursor: Cursor;
  readonly options: DateOptions;
  /** The kinds of dates that are not days, months and years; the first that fits is taken. */
  readonly readers: readonly PieceReader[];
};

/** One end of a range: a date of any kind, or parts of a written one. */
export type Half = { readonly flags: Flags; readonly piece?: Piece; readonly written?: PartialDate };

export function readHalf({ cursor, options, readers }: Context): Half | undefined {
  return cursor.attempt(() => {
    const before = readFlags(cursor);
    for (const reader of readers) {
      const piece = cursor.attempt((one) => reader(one, options));
      if (piece !== undefined) return { flags: both(before, readFlagsAfter(cursor)), piece };
    }
    const written = readWrittenDate(cursor, options);
    return written === undefined ? undefined : { flags: both(before, readFlagsAfter(cursor)), written };
  });
}

/** A date in which nothing is missing. */
export function readWhole(context: Context): Piece | undefined {
  return context.cursor.attempt(() => {
    const half = readHalf(context);
    return half && wholeOf(half, context);
  });
}

export function wholeOf({ flags, piece, written }: Half, { cursor, options }: Context): Piece | undefined {
  if (piece !== undefined) return flagged(piece, flags);
  if (written?.year === undefined) return undefined;
  return flagged(daysOf({ ...written, year: written.year }, cursor.source, options), flags);
}

/** The same two halves, each with what it left to the other. */
export function completedHalves(left: Half, right: Half): [Half, Half] {
  if (left.written === undefined || right.written === undefined) return [left, right];
  const [a, b] = completed(left.written, right.written);
  return [
    { ...left, written: a },
    { ...right, written: b },
  ];
}

/**
 * What one end of a range leaves to the other:
 * 1. the later year its first figures: `1834–36`;
 * 2. the earlier day its month and year: `3–8 May 1834`;
 * 3. the later day its month: `May 3–8, 1834`;
 * 4. the earlier month its year: `May–July 1834`;
 * 5. the earlier date its style: `3–8 May 1700 O.S.`
 */
function completed(left: PartialDate, right: PartialDate): [PartialDate, PartialDate] {
  let [a, b] = [left, right];
  if (b.bare !== undefined && a.year !== undefined) {
    const size = 10 ** b.bare.digits;
    b = { ...withoutBare(b), year: Math.floor(a.year / size) * size + b.bare.value };
  }
  if (a.bare !== undefined && b.day !== undefined && b.month !== undefined) {
    a = { ...withoutBare(a), day: a.bare.value, month: b.month };
  }
  if (b.day !== undefined && b.month === undefined && a.month !== undefined) b = { ...b, month: a.month };
  if (a.year === undefined && b.year !== undefined) {
    a = { ...a, year: b.year, ...(b.secondYear === undefined ? {} : { secondYear: b.secondYear }) };
  }
  if (a.style === undefined && b.style !== undefined) a = { ...a, style: b.style };
  return [a, b];
}

const withoutBare = ({ bare: _, ...rest }: PartialDate): PartialDate => rest;
