import type { ChanceGrounds, Join, JoinGround } from '../careers/linkage/linkage.ts';
import { bearingReader } from '../ledger/bearers.ts';
import { samenesses } from '../ledger/conflict-lookups.ts';
import { samePeople } from '../ledger/people.ts';
import { chanceInWords } from './careers-certain.ts';
import type { CareersFound } from './careers-found.ts';
import type { Side } from './grounds-sides.ts';
import type { Reckoned } from './grounds-tenures.ts';
import { type Ground, type GroundsReader, ground, note } from './grounds-tree.ts';
import { pairGround, signed } from './grounds-weights.ts';

/** Two entries, whether they are of one person. */
export type Pair = { readonly one: string; readonly other: string };

/**
 * Which two entries the chance is about: those named, or the ones asked about of the two persons; of one entry alone the
 * one before it with which it is put together, else the one after, else one that it is asked about with.
 */
export function pairMeant(found: CareersFound, side: Side, other: Side | undefined): Pair | undefined {
  const { doubts, pieces, source } = found;
  const { entry } = side;
  const isOf = ({ entry: own, pieces: of }: Side, id: string): boolean =>
    own === id || (own === undefined && of.has(pieces.pieceOf[pieces.at(id) ?? -1] ?? -1));
  const isIn = (of: Side, id: string): boolean => of.pieces.has(pieces.pieceOf[pieces.at(id) ?? -1] ?? -1);
  const among = (is: (of: Side, id: string) => boolean) =>
    doubts.find((doubt) =>
      other === undefined
        ? is(side, doubt.one) || is(side, doubt.other)
        : (is(side, doubt.one) && is(other, doubt.other)) || (is(side, doubt.other) && is(other, doubt.one)),
    );
  if (other?.entry !== undefined && entry !== undefined) {
    const named = { one: entry, other: other.entry };
    if (found.linkage.explained(entry, other.entry) !== undefined) return named;
    return within(found, side, other) ?? among(isOf) ?? named;
  }
  const asked = among(isOf);
  if (asked !== undefined) return asked;
  if (entry !== undefined) {
    const joins = joinsOf(found, side);
    const own =
      (other === undefined || isIn(other, entry)) &&
      (joins.find(({ later }) => later === entry) ?? joins.find(({ earlier }) => earlier === entry));
    if (own) return { one: own.earlier, other: own.later };
  }
  const near = among(isIn);
  if (near !== undefined || other === undefined) return near;
  const [a, b] = [nearest(found, side, other), nearest(found, other, side)];
  return a === undefined || b === undefined ? undefined : { one: a, other: b };

  /** The entry of a side that stands next to the entry of the other, or its last. */
  function nearest({ pieces: all }: CareersFound, of: Side, to: Side): string | undefined {
    if (of.entry !== undefined) return of.entry;
    const own = [...of.pieces].flatMap((piece) => all.pieces[piece]?.entries ?? []);
    const dayAt = (at: number): number =>
      source.input.editions[source.input.entries[at]?.edition ?? -1]?.asAt.from ?? Number.NaN;
    const wanted = to.entry === undefined ? Number.POSITIVE_INFINITY : dayAt(all.at(to.entry) as number);
    const sorted = own.sort((x, y) => dayAt(x) - dayAt(y));
    const at = sorted.findLast((each) => dayAt(each) < wanted) ?? sorted[0];
    return at === undefined ? undefined : source.input.entries[at]?.id;
  }
}

const joinsOf = ({ pieces }: CareersFound, side: Side): readonly Join[] =>
  [...side.pieces].flatMap((piece) => pieces.pieces[piece]?.joins.filter((join) => join !== undefined) ?? []);

/** Of two entries that are put together by way of others, the least sure join between them. */
function within(found: CareersFound, side: Side, other: Side): Pair | undefined {
  const [piece] = side.pieces;
  if (piece === undefined || !other.pieces.has(piece)) return undefined;
  const { entries, joins } = found.pieces.pieces[piece] as (typeof found.pieces.pieces)[number];
  const places = [side, other].map(({ entry }) => entries.indexOf(found.pieces.at(entry ?? '') ?? -1));
  const between = joins.slice(Math.min(...places) + 1, Math.max(...places) + 1).filter((join) => join !== undefined);
  const least = between.reduce<Join | undefined>(
    (least, join) => (least === undefined || join.chance < least.chance ? join : least),
    undefined,
  );
  return least === undefined ? undefined : { one: least.earlier, other: least.later };
}

/** The chance that two entries are of one person, as `careers` prints it, with everything it is reckoned from. */
export function chanceFigure(found: CareersFound, { one, other }: Pair, reader: GroundsReader): Reckoned {
  const { linkage } = found;
  const records = [reader.record(one), reader.record(other)];
  const decided = decidedGrounds(found, one, other, reader);
  if (decided !== undefined)
    return { value: 1, says: `${one} and ${other} are of one person by decision, whatever they say`, grounds: decided };
  const explained = linkage.explained(one, other);
  if (explained !== undefined) return explainedChance(found, one, other, explained, reader);
  const never = linkage.whyNever(one, other);
  const isAsked = found.doubts.some((doubt) => doubt.one === one && doubt.other === other);
  if (never !== undefined && !isAsked)
    return { value: null, says: `${one} and ${other} are never put together: ${never}`, grounds: records };
  const { chance, grounds } = linkage.compared(one, other);
  return {
    value: chance,
    says: `the chance that ${one} and ${other} are of one person is ${chanceInWords(chance)}, were there no other lines than theirs and those that go with each`,
    grounds: [
      pairGround({ earlier: one, later: other, ...summed(grounds), sign: 1 }, linkage.weights, reader),
      note(
        isAsked
          ? 'by the years they are two, since the lines between are of another post; one may have been taken down under the wrong edition, so it is asked'
          : 'as things stand they are neither joined nor asked about: other lines fit each of them better',
      ),
    ],
  };
}

const summed = (grounds: readonly JoinGround[]) => ({
  grounds,
  bits: grounds.reduce((sum, { bits }) => sum + bits, 0),
});

function explainedChance(
  found: CareersFound,
  one: string,
  other: string,
  { chance, margin, line, pairs, otherwise }: ChanceGrounds,
  reader: GroundsReader,
): Reckoned {
  const { weights } = found.linkage;
  const { instead, bits, pairs: rivals } = otherwise;
  const about =
    line === undefined
      ? `${one} and ${other} are of one person`
      : `${line} is of the person of ${one === line ? other : one}`;
  const next =
    instead !== undefined
      ? `the next best, ${line ?? 'one of them'} with ${instead} instead`
      : Math.abs(bits) < LEAST_BITS
        ? 'left apart, as two'
        : 'as things stand, with others';
  const rest = bits - rivals.reduce((sum, pair) => sum + pair.sign * pair.bits, 0);
  return {
    value: chance,
    says: `the chance that ${about} is ${chanceInWords(chance)}: so it is ${Math.abs(margin).toFixed(1)} bits ${margin < 0 ? 'worse' : 'better'} than otherwise, odds of ${oddsInWords(margin)}`,
    grounds: [
      ...pairs.map((pair) => pairGround(pair, weights, reader)),
      ground(
        'figure',
        `${next}: ${signed(bits)} bits`,
        null,
        [
          ...rivals.map((pair) => pairGround(pair, weights, reader)),
          ...(instead !== undefined && Math.abs(rest) >= LEAST_BITS
            ? [
                ground(
                  'note',
                  `${signed(rest)} bits: what becomes of the lines that are joined there now`,
                  null,
                  [],
                  rest,
                ),
              ]
            : []),
        ],
        bits,
      ),
      thresholdGround(found, reader),
    ],
  };
}

/** Bits that would be printed as 0.0. */
const LEAST_BITS = 0.05;

/** From where on a join is certain. */
export function thresholdGround({ source }: CareersFound, reader: GroundsReader): Ground {
  const { certainShare } = source.input;
  const bits = Math.log2(certainShare / (1 - certainShare));
  return ground(
    'rule',
    `from ${signed(bits)} bits on, a chance of ${certainShare}, a join is certain and recorded by careers --accept; below that it is asked`,
    null,
    [reader.assumption('wording.certain')],
    bits,
  );
}

function oddsInWords(bits: number): string {
  const odds = 2 ** Math.abs(bits);
  const told = odds >= 1e6 ? 'more than a million' : odds >= 10 ? `${Math.round(odds)}` : odds.toFixed(1);
  return bits < 0 ? `1 to ${told}` : `${told} to 1`;
}

/** By what two entries are bound to one person; undefined where they are not. */
function decidedGrounds(
  { db, pieces, source }: CareersFound,
  one: string,
  other: string,
  reader: GroundsReader,
): Ground[] | undefined {
  const [a, b] = [one, other].map((id) => source.input.entries[pieces.at(id) ?? -1]?.person);
  if (a === undefined || b === undefined) return undefined;
  const together = samePeople(db)(Number(a.slice(1)));
  if (a !== b && !together.includes(Number(b.slice(1)))) return undefined;
  const bearing = bearingReader(db);
  const borne = [one, other].map((id, place) => {
    const { decision } = bearing(Number(id.slice(1)), undefined);
    const person = [a, b][place];
    const why = decision?.why === undefined ? '' : `: ${decision.why}`;
    return ground(
      'claim',
      `${id} is borne by ${person}${decision === undefined ? ', as it was recorded' : `, by decision${why}`}`,
      decision?.link ?? id,
      [reader.record(decision?.link ?? id)],
    );
  });
  const findings =
    a === b
      ? []
      : samenesses(db)
          .filter((each) => together.includes(each.person) && together.includes(each.other))
          .map(({ id }) => reader.record(`sm${id}`));
  const before = note('what the chance was before that: the same question with --as-of ACT');
  return [...borne, ...findings, before];
}
