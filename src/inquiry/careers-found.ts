import type { ListEntry } from '../careers/linkage/entries.ts';
import { linkEntries } from '../careers/linkage/link-entries.ts';
import type { Doubt, Linkage } from '../careers/linkage/linkage.ts';
import { type OddLines, oddLines } from '../careers/linkage/odd-lines.ts';
import { assumptionsOf } from '../ledger/assumed.ts';
import { evidenceReader } from '../ledger/evidence.ts';
import { type LinkageSource, linkageSource } from '../ledger/linkage-input.ts';
import type { Db } from '../ledger/open.ts';
import { type Pieces, piecesOf } from './careers-pieces.ts';
import { isNotedRight } from './noted-right.ts';

export type Whole = 'all' | 'none' | 'by lines';

/** Entries put together, with what is needed to tell and record it. */
export type CareersFound = {
  readonly db: Db;
  readonly source: LinkageSource;
  readonly linkage: Linkage;
  readonly pieces: Pieces;
  readonly doubts: readonly Doubt[];
  /** Those of the doubts that are of stray lines. */
  readonly strays: ReadonlySet<Doubt>;
  readonly odd: OddLines;
  /** Who bears pieces that decisions have placed since. */
  readonly placedSince: Map<number, number>;
};

/** Puts all entries of the ledger together into people. */
export function careersFound(db: Db, whole: Whole): CareersFound {
  const assumptions = assumptionsOf(db);
  const source = linkageSource(db, evidenceReader(db, assumptions), assumptions, whole);
  const linkage = linkEntries(source.input);
  const pieces = piecesOf(linkage, source.input);
  const odd = notNotedRight(db, source.input.entries, oddLines(source.input));
  const doubts = linkage.doubts();
  const strays = strayLines(source.input.entries, linkage, pieces, odd, doubts);
  return {
    db,
    source,
    linkage,
    pieces,
    doubts: [...doubts, ...strays],
    strays: new Set(strays),
    odd,
    placedSince: new Map(),
  };
}

/** Without the lines that were looked at again and found to be right. */
function notNotedRight(db: Db, entries: readonly ListEntry[], odd: OddLines): OddLines {
  const isRight = (at: number): boolean => isNotedRight(db, entries[at]?.id ?? '');
  return {
    exchanged: odd.exchanged.filter(({ one, other }) => !isRight(one) && !isRight(other)),
    alike(at) {
      const like = odd.alike(at);
      return like === undefined || isRight(at) ? undefined : like;
    },
  };
}

/**
 * Lines that stand alone, though another of the same name says the same of the same day: by the years they are two, but
 * the line may have been taken down under the wrong edition, so it is asked.
 */
function strayLines(
  entries: readonly ListEntry[],
  linkage: Linkage,
  { pieces, at, pieceOf }: Pieces,
  odd: OddLines,
  asked: readonly Doubt[],
): Doubt[] {
  const known = new Set(asked.flatMap(({ one, other }) => [one, other].map((id) => pieceOf[at(id) as number])));
  const idOf = (place: number): string => entries[place]?.id ?? '';
  return pieces.flatMap(({ entries: own, people }, place): Doubt[] => {
    const [line] = own;
    if (line === undefined || own.length > 1 || people.length > 0 || known.has(place)) return [];
    const like = odd.alike(line);
    if (like === undefined || pieceOf[like] === place) return [];
    const [one, other] = [idOf(like), idOf(line)];
    const settles = pieces[pieceOf[like] as number]?.entries.length ?? 1;
    const { chance, grounds } = linkage.compared(one, other);
    return [{ one, other, joined: false, chance, settles, instead: undefined, grounds }];
  });
}
