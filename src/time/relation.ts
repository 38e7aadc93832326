import { dateError } from './date-error.ts';
import { type Context, readWhole } from './half.ts';
import { edgeOfPiece, edtfOfPart, type Meaning, OPEN_EDGE, type Piece } from './piece.ts';
import { isDoubledSixth } from './roman-day.ts';
import { NO_END, NO_START, type Span } from './span.ts';

type Relation = 'before' | 'until' | 'after' | 'from';

/** Longer phrases first where one begins with another. */
const LEADING: Readonly<Record<Relation, readonly string[]>> = {
  until: [
    'terminus ante quem',
    'taq',
    'not later than',
    'no later than',
    'not after',
    'on or before',
    'in or before',
    'at or before',
    'by or before',
    'up to',
    'until',
    'till',
    'by',
    "jusqu'en",
    "jusqu'a",
    "jusqu'au",
    'bis zum',
    'bis',
    'spatestens',
    'au plus tard en',
    'au plus tard',
    'nicht nach',
    'nicht spater als',
    'pas apres',
    'pas plus tard que',
  ],
  from: [
    'terminus post quem',
    'tpq',
    'not earlier than',
    'no earlier than',
    'not before',
    'on or after',
    'in or after',
    'at or after',
    'since',
    'from',
    'seit',
    'ab',
    'fruhestens',
    'depuis',
    'des',
    'a partir de',
    'au plus tot en',
    'au plus tot',
    'nicht vor',
    'nicht fruher als',
    'pas avant',
    'pas plus tot que',
  ],
  before: ['earlier than', 'prior to', 'before', 'bef', 'ante', 'pre -', 'pre', 'vor', 'avant'],
  after: ['later than', 'after', 'aft', 'post -', 'post', 'nach', 'apres'],
};
const TRAILING: Readonly<Partial<Record<Relation, readonly string[]>>> = {
  until: ['or earlier', 'or before', 'and before', 'and earlier', 'oder fruher', 'ou avant'],
  from: [
    'or later',
    'or after',
    'and after',
    'and later',
    'onwards',
    'onward',
    'oder spater',
    'ou apres',
    'ou plus tard',
  ],
};
const RELATIONS = ['until', 'from', 'before', 'after'] as const;

/**
 * `before X` ends the day before X's first day, `by X` and `until X` on X's last; `after X` begins the day after X's
 * last day, `from X` on X's first. `not later than` and its like are `until`, `not earlier than` is `from`.
 */
export function readRelated(context: Context): Meaning | undefined {
  const { cursor } = context;
  const reads = (phrases: readonly string[] | undefined) =>
    phrases?.some((phrase) => cursor.words(phrase.split(' '))) ?? false;
  const leading = cursor.begins(isDoubledSixth) ? undefined : RELATIONS.find((relation) => reads(LEADING[relation]));
  const at = cursor.peek()?.at ?? 0;
  const piece = readWhole(context);
  if (piece === undefined) return undefined;
  const relation = leading ?? RELATIONS.find((one) => reads(TRAILING[one]));
  if (relation === undefined) return undefined;
  const meaning = inRelation(relation, piece);
  if (meaning === undefined) {
    const hint = 'Write “from” its first day, or the day itself.';
    throw dateError(cursor.source, at, cursor.source.length - at, 'it has no end that anything could come after', hint);
  }
  return piece.label === undefined ? meaning : { ...meaning, label: `${relation} ${piece.label}` };
}

function inRelation(relation: Relation, piece: Piece): Meaning | undefined {
  const edge = edgeOfPiece(piece);
  const { from, until } = piece.span;
  const spans: Record<Relation, Span> = {
    before: { from: NO_START, until: from },
    until: { from: NO_START, until },
    after: { from: until, until: NO_END },
    from: { from, until: NO_END },
  };
  const span = spans[relation];
  if (span.from >= span.until) return undefined;
  const early = relation === 'before' || relation === 'until';
  const part = { span, from: early ? OPEN_EDGE : edge, until: early ? edge : OPEN_EDGE };
  return { parts: [part], edtf: edtfOfPart(part), calendar: piece.calendar };
}
