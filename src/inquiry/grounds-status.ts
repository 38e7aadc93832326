import { HeldbyError } from '../errors.ts';
import { actsOfKind, type KindCount, unplacedByEdition } from '../ledger/find-counts.ts';
import { kindNamed } from '../ledger/kinds.ts';
import type { Db } from '../ledger/open.ts';
import type { Reckoned } from './grounds-tenures.ts';
import { type GroundsReader, ground, note } from './grounds-tree.ts';
import { statusOf } from './status.ts';

export const STATUS_FIGURES = {
  counts: { takes: '[KIND]', about: 'how many records of a kind there are, and which acts recorded them' },
  unplaced: { takes: '', about: 'how many entries are nobody’s yet, and in which editions' },
} as const;
export type StatusFigure = keyof typeof STATUS_FIGURES;

/** So many acts or editions are told of one by one. */
const MOST_TOLD = 20;

/**
 * A count that `heldby` alone prints.
 * @param words which kind, by its plural or its name: all of them unless said.
 * @throws HeldbyError REFERENCE for what is no kind of record.
 */
export function statusFigure(db: Db, figure: StatusFigure, words: string | undefined, reader: GroundsReader): Reckoned {
  const { counts, unplaced } = statusOf(db, [], undefined);
  if (figure === 'unplaced') return unplacedFigure(db, unplaced, reader);
  const asked = words === undefined ? counts : [kindAsked(words, counts)];
  const told = asked.map((each) => countGround(db, each, reader));
  const [first] = told;
  return words !== undefined && first !== undefined
    ? { value: first.value, says: first.says, grounds: first.grounds }
    : {
        value: counts,
        says: counts.map(({ count, plural }) => `${count} ${plural}`).join(', ') || 'nothing is recorded yet',
        grounds: told,
      };
}

function kindAsked(words: string, counts: readonly KindCount[]): KindCount {
  const said = words.toLowerCase();
  const found = counts.find(({ kind, plural }) => kind === said || plural === said);
  if (found !== undefined) return found;
  throw new HeldbyError(
    'REFERENCE',
    `No "${words}" are counted in this ledger.`,
    `One of: ${counts.map(({ plural }) => plural).join(', ')}.`,
  );
}

function countGround(db: Db, { kind, plural, count }: KindCount, reader: GroundsReader) {
  const acts = actsOfKind(db, kindNamed(kind).table);
  const more = acts.length - MOST_TOLD;
  return ground(
    'figure',
    `${count} ${plural}: those recorded that were not withdrawn, replaced or undone`,
    null,
    [
      ...acts
        .slice(0, MOST_TOLD)
        .map(({ act, count: own }) =>
          ground('note', `${own} of them as act ${act} recorded them`, `act ${act}`, [reader.act(act)], own),
        ),
      ...(more > 0 ? [note(`and those of ${more} more acts`)] : []),
    ],
    count,
  );
}

function unplacedFigure(db: Db, unplaced: number | null, reader: GroundsReader): Reckoned {
  if (unplaced === null)
    return { value: null, says: 'the ledger is too large to count the entries that are nobody’s', grounds: [] };
  const editions = unplacedByEdition(db);
  const more = editions.length - MOST_TOLD;
  return {
    value: unplaced,
    says: `${unplaced} entries are nobody’s yet: recorded without a person, and given to none since`,
    grounds: [
      ...editions
        .slice(0, MOST_TOLD)
        .map(({ edition, count }) =>
          ground('note', `${count} of them in ed${edition}`, `ed${edition}`, [reader.record(`ed${edition}`)], count),
        ),
      ...(more > 0 ? [note(`and those of ${more} more editions`)] : []),
    ],
  };
}
