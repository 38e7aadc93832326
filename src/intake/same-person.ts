import { isAlike } from '../ledger/differences.ts';
import type { Cell } from '../ledger/journal.ts';
import type { Kind } from '../ledger/kind.ts';
import { kindNamed } from '../ledger/kinds.ts';
import type { Draft, Recording } from '../ledger/recording.ts';
import { currentRow, draftCells } from '../ledger/records.ts';
import { idOfKey } from '../ledger/refs.ts';
import { editionsOf, entriesIn, isBare, nameParts, namesakes, twinsOf } from '../ledger/twins.ts';
import { fold } from '../services/fold.ts';

type Cells = Readonly<Record<string, Cell | undefined>>;

/** What a file says of one person. */
export type PersonEvidence = {
  readonly entries: readonly { readonly draft: Draft }[];
  readonly notices: readonly { readonly draft: Draft }[];
  /** How many other records are about them. */
  readonly others: number;
};

type Localised = { readonly draft: Draft; readonly isKnown: boolean };

/**
 * Who here a person of a file may be, the likeliest first. Certain is
 * 1. one of whom the file and the ledger have an entry in the same edition in the same rank, or a notice of the same day;
 * 2. one of the same key, or born on the same day, whose name agrees;
 * 3. one of the same name of whom one of the two says nothing more.
 * Whoever is listed in the same edition as somebody else is another. Any other namesake is a question.
 */
export function whoIsIt(
  into: Recording,
  key: string,
  cells: Cells,
  evidence: PersonEvidence,
  localised: (kind: Kind, draft: Draft) => Localised,
): { readonly id: number; readonly certain: boolean }[] {
  const { db } = into;
  const person = kindNamed('person');
  const own = nameParts(db, Number(cells['name_id']));
  const of = (kind: Kind, lines: PersonEvidence['entries'], id: number) =>
    lines.flatMap(({ draft }) => {
      const { draft: said, isKnown } = localised(kind, draft);
      return isKnown ? [draftCells(into, kind, { ...said, person: `p${id}` })] : [];
    });
  const found = namesakes(db, own.surname)
    .filter(({ forenames }) => agree(own.forenames, forenames))
    .flatMap(({ id, forenames }) => {
      const row = currentRow(db, person, id) ?? {};
      const entries = evidence.entries.filter(({ draft }) => draft['edition'] !== undefined);
      const listed = of(kindNamed('entry'), entries, id);
      const shared = listed.filter((entry) =>
        entriesIn(db, id, Number(entry['edition_id'])).some(
          ({ cells: other }) =>
            isAlike(db, RANK, other['rank_id'] ?? null, entry['rank_id'] ?? null) &&
            (other['appointment'] ?? null) === (entry['appointment'] ?? null),
        ),
      );
      const noticed = of(kindNamed('notice'), evidence.notices, id).some(
        (notice) => twinsOf(db, kindNamed('notice'), notice).length > 0,
      );
      const born = typeof cells['born_id'] === 'number' && typeof row['born_id'] === 'number';
      const sameBirth = born && isAlike(db, BORN, cells['born_id'] ?? null, row['born_id'] ?? null);
      if (shared.length > 0 || noticed) return [{ id, certain: true, weight: 100 + shared.length }];
      const editions = new Set(editionsOf(db, id));
      if (listed.some((entry) => editions.has(Number(entry['edition_id'])))) return [];
      if (born && !sameBirth) return [];
      const isSameName = plain(own.forenames) === plain(forenames);
      const saysNoMore = evidence.entries.length + evidence.notices.length + evidence.others === 0 || isBare(db, id);
      const certain =
        idOfKey(db, person, key) === `p${id}` || (isSameName && (sameBirth || (own.forenames !== null && saysNoMore)));
      return [{ id, certain, weight: certain ? 50 : isSameName ? 1 : 0 }];
    });
  return found.sort((a, b) => b.weight - a.weight || a.id - b.id);
}

const RANK = fieldOf('entry', 'rank');
const BORN = fieldOf('person', 'born');

function fieldOf(kind: 'entry' | 'person', name: string) {
  const field = kindNamed(kind).fields.find((each) => each.name === name);
  if (field === undefined) throw new Error(`no field ${name} of ${kind}`);
  return field;
}

const plain = (text: string | null): string =>
  fold(text ?? '')
    .replaceAll(/[^\p{L}\p{N}]+/gu, ' ')
    .trim();

/** Whether one can be the other with some forenames as initials, or left out. */
function agree(a: string | null, b: string | null): boolean {
  const [one, other] = [plain(a).split(' '), plain(b).split(' ')];
  return one.every((word, at) => {
    const there = other[at];
    return there === undefined || there.startsWith(word) || word.startsWith(there);
  });
}
