import { WHOLE_INITIALS, WHOLE_LINES } from '../ledger/linkage-input.ts';
import { changeSaid, exchangedSaid, lineSaid, proposedInAnswer } from './careers.ts';
import { certainPlacings, chanceInWords, placingOf, waitingPieces } from './careers-certain.ts';
import type { CareersFound } from './careers-found.ts';
import type { Piece } from './careers-pieces.ts';
import { chanceFigure, type Pair, pairMeant, thresholdGround } from './grounds-joins.ts';
import { entryOrPerson, type Side, sideOf } from './grounds-sides.ts';
import type { Reckoned } from './grounds-tenures.ts';
import { type Ground, type GroundsReader, ground, note } from './grounds-tree.ts';
import { evidenceGround, foundFigure, newShareFigure, signed, weightFigures } from './grounds-weights.ts';

/** The figures of an entry, or of a person, that `careers` works out, with what they mean. */
export const JOINED_FIGURES = {
  careers: 'whose line it is by what the lines say: with which others, how surely, and who else it may be',
  chance: 'the chance that it is of one person with another; the line before it unless you say',
  settles: 'how many pairs of entries an answer to that would settle',
  nameChange: 'the evidence, apart from the surname, that a name was changed or is spelt otherwise',
  exchanged: 'whether it may have been exchanged for a line beside it',
} as const;

export type JoinedFigure = keyof typeof JOINED_FIGURES;

export const isJoinedFigure = (name: string): name is JoinedFigure => Object.hasOwn(JOINED_FIGURES, name);

/** The figures of all entries together. */
export const CAREERS_FIGURES = {
  certain: { takes: '', about: 'how many entries --accept would place, and of how many people' },
  waiting: { takes: '', about: 'how many wait for a decision' },
  whole: { takes: '', about: 'which editions count as taken down whole' },
  weight: { takes: 'FIELD [LEVEL]', about: 'what it weighs that two lines agree so in a field' },
  found: { takes: '[EDITIONS]', about: 'the chance to be found again after so many editions' },
  newShare: { takes: '', about: 'the chance that a line is somebody’s first' },
} as const;

export type CareersFigure = keyof typeof CAREERS_FIGURES;

/**
 * A figure of an entry or a person among the careers.
 * @param id of the entry or the person. @param asked the other one, where the figure takes one, and the two entries that
 * were meant when it was first asked.
 */
export function joinedFigure(
  found: CareersFound,
  id: string,
  figure: JoinedFigure,
  asked: { readonly words: string | undefined; readonly pair: Pair | undefined },
  reader: GroundsReader,
): Reckoned {
  const side = sideOf(found, id);
  const other = otherSide(found, asked.words);
  switch (figure) {
    case 'careers':
      return whoseFigure(found, side, reader);
    case 'nameChange':
      return changeFigure(found, side, other, reader);
    case 'exchanged':
      return exchangedFigure(found, side, reader);
    case 'chance':
    case 'settles': {
      const isThere = (each: string): boolean => found.pieces.at(each) !== undefined;
      const pair =
        asked.pair !== undefined && isThere(asked.pair.one) && isThere(asked.pair.other)
          ? asked.pair
          : pairMeant(found, side, other);
      if (pair === undefined)
        return {
          value: null,
          says: `${id} is put with nobody, and nothing is asked about it: no line is like it`,
          grounds: [],
        };
      return figure === 'chance'
        ? chanceFigure(found, pair, reader)
        : settlesFigure(found, pair.one, pair.other, reader);
    }
  }
}

const otherSide = (found: CareersFound, words: string | undefined): Side | undefined =>
  words === undefined ? undefined : sideOf(found, entryOrPerson(found.db, words));

/** The two entries that a chance is about. @throws HeldbyError REFERENCE for one that is not there. */
export const pairNamed = (found: CareersFound, id: string, words: string | undefined): Pair | undefined =>
  pairMeant(found, sideOf(found, id), otherSide(found, words));

const counted = (count: number, one: string, many: string): string => `${count} ${count === 1 ? one : many}`;

/** Whose an entry would be, or what would be added to a person. */
function whoseFigure(found: CareersFound, side: Side, reader: GroundsReader): Reckoned {
  const { pieces, linkage } = found;
  const waiting = waitingPieces(found);
  const own = [...side.pieces].map((place) => ({ place, piece: pieces.pieces[place] as Piece }));
  const told = own.map(({ place, piece }) => ({ piece, waits: waiting.has(place), ...proposed(found, piece) }));
  const isShown = (
    { earlier, later }: { readonly earlier: string; readonly later: string },
    added: readonly string[],
  ) =>
    side.entry === undefined ? added.includes(earlier) || added.includes(later) : [earlier, later].includes(side.entry);
  const asked = found.doubts.filter((doubt) =>
    [doubt.one, doubt.other].some((id) => side.pieces.has(pieces.pieceOf[pieces.at(id) as number] as number)),
  );
  const changes = linkage
    .nameChanges()
    .filter(({ last, first }) =>
      [last, first].some((id) => side.pieces.has(pieces.pieceOf[pieces.at(id) as number] as number)),
    );
  return {
    value: told.map(({ person, name, entries, added, leastChance, waits }) => ({
      person,
      name,
      entries,
      added,
      leastChance,
      waits,
    })),
    says:
      told.length === 0 ? `no line is borne by ${side.id}` : told.map((each) => whoseInWords(side, each)).join('; '),
    grounds: [
      ...told.flatMap(({ piece, added }) => {
        const joins = piece.joins.flatMap((join) => join ?? []);
        const shown = joins.filter((join) => isShown(join, added));
        const rest = joins.filter((join) => !shown.includes(join));
        return [
          ...shown.map(({ earlier, later }) => asFigure(chanceFigure(found, { one: earlier, other: later }, reader))),
          ...(rest.length === 0
            ? []
            : [
                ground(
                  'note',
                  `the other joins of this person, each by itself: heldby grounds ENTRY chance`,
                  null,
                  rest.map(({ earlier, later, chance }) =>
                    ground(
                      'figure',
                      `${earlier} and ${later}: a chance of ${chanceInWords(chance)}`,
                      later,
                      [],
                      chance,
                    ),
                  ),
                ),
              ]),
        ];
      }),
      ...asked.map(({ one, other, joined }) =>
        ground(
          'note',
          `asked is whether ${one} and ${other} are one, until then taken for ${joined ? 'one' : 'two'}`,
          null,
          [asFigure(chanceFigure(found, { one, other }, reader))],
        ),
      ),
      ...changes.map(({ last, first }) =>
        asFigure(changeFigure(found, sideOf(found, last), sideOf(found, first), reader)),
      ),
      thresholdGround(found, reader),
    ],
  };
}

const asFigure = ({ says, value, grounds }: Reckoned): Ground => ground('figure', says, null, grounds, value);

const proposed = (found: CareersFound, piece: Piece) => {
  const { entries } = found.source.input;
  const open = piece.entries.filter((at) => entries[at]?.person === undefined);
  return proposedInAnswer(placingOf(piece, open, entries, false), found);
};

function whoseInWords(
  side: Side,
  { person, name, entries, added, leastChance, waits }: ReturnType<typeof proposed> & { readonly waits: boolean },
): string {
  const who = person === null ? `${name} (new)` : `${name} ${person.id}`;
  const sure =
    leastChance === null ? 'by itself' : `every join ${chanceInWords(leastChance).replace(/^(?=\d)/, 'at least ')}`;
  const lines = `${counted(entries.length, 'line', 'lines')}, ${sure}`;
  if (side.entry === undefined) return `${who} has ${lines}; ${counted(added.length, 'line', 'lines')} would be added`;
  if (waits)
    return `${side.entry} waits for a decision: it goes with ${who}, ${lines}, who may be one with somebody of more lines`;
  return added.includes(side.entry)
    ? `${side.entry} would be recorded as of ${who}: ${lines}`
    : `${side.entry} is borne by ${who}: ${lines}`;
}

function settlesFigure(found: CareersFound, one: string, other: string, reader: GroundsReader): Reckoned {
  const stray = [...found.strays].find((doubt) => doubt.one === one && doubt.other === other);
  const sides =
    stray === undefined
      ? found.linkage.sides(one, other)
      : {
          one: [other],
          other: proposed(
            found,
            found.pieces.pieces[found.pieces.pieceOf[found.pieces.at(one) as number] as number] as Piece,
          ).entries,
        };
  if (sides === undefined) return { value: null, says: `nothing is asked about ${one} and ${other}`, grounds: [] };
  const value = sides.one.length * sides.other.length;
  const told = [sides.one, sides.other].map((ids) => counted(ids.length, 'entry', 'entries'));
  return {
    value,
    says: `whether ${one} and ${other} are one settles ${counted(value, 'pair of entries', 'pairs of entries')}: ${told.join(' times ')}`,
    grounds: [sides.one, sides.other].map((ids, place) =>
      ground(
        'note',
        `on ${place === 0 ? 'the one' : 'the other'} side ${told[place]}`,
        null,
        ids.map((id) => ground('note', lineSaid(found, id).says, id, [reader.record(id)])),
      ),
    ),
  };
}

function changeFigure(found: CareersFound, side: Side, other: Side | undefined, reader: GroundsReader): Reckoned {
  const { linkage, pieces } = found;
  const isIn = (of: Side, id: string): boolean => of.pieces.has(pieces.pieceOf[pieces.at(id) as number] as number);
  const change = linkage
    .nameChanges()
    .find(({ last, first }) =>
      other === undefined
        ? isIn(side, last) || isIn(side, first)
        : (isIn(side, last) && isIn(other, first)) || (isIn(side, first) && isIn(other, last)),
    );
  if (change === undefined)
    return {
      value: null,
      says: `no change of name is proposed of ${side.id}${other === undefined ? '' : ` and ${other.id}`}`,
      grounds: [
        note('one is proposed where one name ends and another begins with the same date of rank in the same corps'),
      ],
    };
  const { last, first, bits, grounds } = change;
  const { before, after, respelt } = changeSaid(change, found);
  return {
    value: bits,
    says: `${before} (${last}) ${respelt ? 'may be spelt' : 'may have become'} ${after} (${first}): apart from the surname ${signed(bits)} bits speak for one person, the sum of`,
    grounds: [
      ...grounds.map((each) => evidenceGround(each, linkage.weights)),
      note(
        'the one name ends and the other begins, with the same date of rank in the same corps; a change of name is proposed and never taken, however much speaks for it',
      ),
      ...(respelt ? [note('the surnames differ by so few letters that it may be a spelling or a misprint')] : []),
      reader.record(last),
      reader.record(first),
    ],
  };
}

function exchangedFigure(found: CareersFound, side: Side, reader: GroundsReader): Reckoned {
  const { entries } = found.source.input;
  const isOwn = (at: number): boolean =>
    side.entry === undefined ? side.pieces.has(found.pieces.pieceOf[at] as number) : entries[at]?.id === side.entry;
  const pair = found.odd.exchanged.find(({ one, other }) => isOwn(one) || isOwn(other));
  if (pair === undefined)
    return { value: null, says: `nothing shows that ${side.id} was exchanged for another line`, grounds: [] };
  const value = exchangedSaid(pair, found);
  const told = (id: string): Ground => ground('claim', lineSaid(found, id).says, id, [reader.record(id)]);
  return {
    value,
    says: `${value.one.id} and ${value.other.id} of one edition may have been exchanged: each says what the lines of the other’s name do in the editions beside, and not what its own do`,
    grounds: [told(value.one.id), told(value.other.id), ...value.like.map(told)],
  };
}

/** A figure of all entries together. */
export function careersFigure(
  found: CareersFound,
  figure: CareersFigure,
  words: readonly string[],
  reader: GroundsReader,
): Reckoned {
  switch (figure) {
    case 'weight':
      return weightFigures(found.linkage, words);
    case 'found':
      return foundFigure(found.linkage, words);
    case 'newShare':
      return newShareFigure(found.linkage);
    case 'whole':
      return wholeFigure(found, reader);
    case 'certain': {
      const placings = certainPlacings(found).map((placing) => proposedInAnswer(placing, found));
      const value = {
        entries: placings.reduce((sum, { added }) => sum + added.length, 0),
        newPeople: placings.filter(({ person }) => person === null).length,
        knownPeople: new Set(placings.flatMap(({ person }) => person?.id ?? [])).size,
      };
      return {
        value,
        says: `certain are ${counted(value.entries, 'entry', 'entries')}, of ${counted(value.newPeople, 'new person', 'new people')} and ${counted(value.knownPeople, 'person', 'people')} known already`,
        grounds: [
          thresholdGround(found, reader),
          ...placings.map(({ person, name, added, leastChance }) =>
            ground(
              'figure',
              `${name}${person === null ? ' (new)' : ` ${person.id}`}: ${counted(added.length, 'entry', 'entries')}${leastChance === null ? '' : `, the least sure join with a chance of ${chanceInWords(leastChance)}`}`,
              added[0] ?? null,
              [],
              leastChance,
            ),
          ),
        ],
      };
    }
    case 'waiting': {
      const { entries } = found.source.input;
      const open = [...waitingPieces(found).keys()].flatMap((place) =>
        (found.pieces.pieces[place] as Piece).entries.filter((at) => entries[at]?.person === undefined),
      );
      return {
        value: open.length,
        says: `${counted(open.length, 'entry waits', 'entries wait')} for a decision: of two that may be one the greater is recorded, and the other waits`,
        grounds: open.map((at) => {
          const id = entries[at]?.id ?? '';
          return ground('note', lineSaid(found, id).says, id, [reader.record(id)]);
        }),
      };
    }
  }
}

function wholeFigure({ source }: CareersFound, reader: GroundsReader): Reckoned {
  const { editions, entries } = source.input;
  const seen = editions.map(() => ({ lines: 0, initials: new Set<string>() }));
  for (const { edition, surname } of entries) {
    const of = seen[edition] as (typeof seen)[number];
    of.lines += 1;
    of.initials.add(surname.charAt(0).toUpperCase());
  }
  const whole = editions.filter((edition) => edition.whole).length;
  return {
    value: whole,
    says: `${whole} of ${counted(editions.length, 'edition counts', 'editions count')} as taken down whole; a name that is missing speaks against somebody only there`,
    grounds: [
      note(
        `unless you say (--whole all, --whole none), an edition counts so of which ${WHOLE_LINES} lines or more were taken, under surnames of ${WHOLE_INITIALS} initial letters or more: a judgement`,
      ),
      ...editions.map(({ id, label, whole: isWhole }, at) =>
        ground(
          'figure',
          `edition ${label}: ${counted(seen[at]?.lines ?? 0, 'line', 'lines')} under ${counted(seen[at]?.initials.size ?? 0, 'initial letter', 'initial letters')}, ${isWhole ? '' : 'not '}taken down whole`,
          id,
          [reader.record(id)],
          isWhole,
        ),
      ),
    ],
  };
}
