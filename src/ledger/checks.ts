import { HeldbyError } from '../errors.ts';
import { rankGiven } from '../names/mark-parts.ts';
import { readTranscription } from '../names/reading.ts';
import { shippedServices } from '../services/ladder.ts';
import { placeOf } from '../time/places.ts';
import type { Cell } from './journal.ts';
import type { Kind } from './kind.ts';
import { knownLadders } from './ladders.ts';
import type { Db } from './open.ts';

type Cells = Readonly<Record<string, Cell>>;

/**
 * What cannot be, whatever the evidence: refused before it is recorded. What is merely contradicted by other evidence
 * is recorded, and shows as a conflict.
 * @param id the record that is being corrected, if it is there already.
 * @throws HeldbyError VALUE or CONFLICT
 */
export function checkRecord(db: Db, kind: Kind, cells: Cells, id: number | undefined): void {
  switch (kind.kind) {
    case 'person':
      if (ordered(db, cells['born_id'], cells['died_id'])) break;
      throw new HeldbyError('VALUE', 'The death ends before the birth begins.', 'Look at the two dates again.', 'died');
    case 'name':
    case 'corps':
      if (kind.kind === 'corps') checkSameCorps(db, cells, id);
      if (ordered(db, cells['from_id'], cells['to_id'])) break;
      throw new HeldbyError(
        'VALUE',
        'The last day of use lies before the first.',
        'Look at the two dates again.',
        'to',
      );
    case 'same':
    case 'differ':
      if (cells['person_id'] === cells['other_id'])
        throw new HeldbyError('VALUE', 'The two people are one record already.', 'Name two different people.', 'other');
      break;
    case 'kin':
      if (cells['person_id'] === cells['relative_id'])
        throw new HeldbyError('VALUE', 'Nobody is kin to himself.', 'Name two different people.', 'relative');
      break;
    case 'mark':
      checkTranscription(cells['text']);
      checkOverlying(db, cells, id);
      checkMarkRank(db, cells['rank']);
      break;
    case 'reading':
      checkTranscription(cells['text']);
      break;
    case 'service':
      if (shippedServices().includes(String(cells['name'])))
        throw new HeldbyError(
          'CONFLICT',
          `The service ${cells['name']} comes with the program.`,
          `Use it as it is, or add to its ranks: heldby rank add ${cells['name']} TITLE --order N`,
          'name',
        );
      refuseTaken(db, 'service', 'name', cells['name'], id, 'name');
      break;
    case 'rank': {
      const other = db
        .prepare('SELECT id FROM current_rank WHERE service = ? AND title = ?')
        .pluck()
        .get(cells['service'], cells['title']) as number | undefined;
      if (other !== undefined && other !== id)
        throw new HeldbyError(
          'CONFLICT',
          `The service ${cells['service']} has a rank ${cells['title']} already (rk${other}).`,
          `Correct that one: heldby amend rk${other} order N --why TEXT`,
          'title',
        );
      break;
    }
    case 'condition': {
      const least = cells['at_least_days'];
      const most = cells['at_most_days'];
      if (least === null && most === null)
        throw new HeldbyError(
          'VALUE',
          'A condition of service says at least or at most how many days.',
          'Give --at-least DAYS or --at-most DAYS.',
          'atLeastDays',
        );
      if (typeof least === 'number' && typeof most === 'number' && least > most)
        throw new HeldbyError(
          'VALUE',
          'At least is more than at most.',
          'Look at the two numbers again.',
          'atMostDays',
        );
      break;
    }
    case 'search':
      if (cells['outcome'] === 'not found' && cells['person_id'] === null)
        throw new HeldbyError('VALUE', 'A nil search names the person looked for.', 'Give --person P.', 'person');
      if (cells['outcome'] === 'all taken' && cells['surname'] === null)
        throw new HeldbyError(
          'VALUE',
          'A sweep names the surname whose bearers were all taken down.',
          'Give --surname S.',
          'surname',
        );
      break;
    case 'object':
      refuseTaken(db, 'object', 'ref', cells['ref'], id, 'reference');
      break;
    case 'series':
      if (typeof cells['country'] === 'string') placeOf(cells['country']);
      refuseTaken(db, 'series', 'name', cells['name'], id, 'name');
      break;
    case 'edition': {
      const other = db
        .prepare('SELECT id FROM current_edition WHERE series_id = ? AND label = ?')
        .pluck()
        .get(cells['series_id'], cells['label']) as number | undefined;
      if (other !== undefined && other !== id)
        throw new HeldbyError(
          'CONFLICT',
          `This series has an edition ${cells['label']} already (ed${other}).`,
          'Use that one, or give this one another label.',
          'label',
        );
      break;
    }
    default:
      break;
  }
}

/** @throws HeldbyError READING, which names the place in the message. */
function checkTranscription(text: Cell | undefined): void {
  try {
    readTranscription(String(text));
  } catch (error) {
    if (error instanceof HeldbyError) throw new HeldbyError(error.code, error.message, error.hint, 'text');
    throw error;
  }
}

/** @throws HeldbyError RANK: a rank that no service has could not be asked about. */
function checkMarkRank(db: Db, rank: Cell | undefined): void {
  if (typeof rank !== 'string') return;
  try {
    rankGiven(rank, knownLadders(db), {});
  } catch (error) {
    if (error instanceof HeldbyError) throw new HeldbyError(error.code, error.message, error.hint, 'rank');
    throw error;
  }
}

/** True unless the second date ends before the first begins. */
function ordered(db: Db, earlier: Cell | undefined, later: Cell | undefined): boolean {
  if (typeof earlier !== 'number' || typeof later !== 'number') return true;
  const day = db.prepare('SELECT from_day, until_day FROM date_expression WHERE id = ?');
  const first = day.get(earlier) as { from_day: number | null };
  const second = day.get(later) as { until_day: number | null };
  return (second.until_day ?? Infinity) > (first.from_day ?? -Infinity);
}

/** @throws HeldbyError VALUE when a corps would be another title of itself, by way of others as well. */
function checkSameCorps(db: Db, cells: Cells, id: number | undefined): void {
  const other = db.prepare('SELECT same_as_id FROM current_corps WHERE id = ?').pluck();
  let next = cells['same_as_id'];
  while (id !== undefined && typeof next === 'number') {
    if (next === id)
      throw new HeldbyError(
        'VALUE',
        'A corps cannot be another title of itself.',
        'Name the corps of which it is another title, or none.',
        'sameAs',
      );
    next = other.get(next) as number | null;
  }
}

function checkOverlying(db: Db, cells: Cells, id: number | undefined): void {
  const under = db.prepare('SELECT object_id, over_id FROM current_mark WHERE id = ?');
  let below = cells['over_id'];
  if (
    typeof below === 'number' &&
    (under.get(below) as { object_id: number } | undefined)?.object_id !== cells['object_id']
  ) {
    throw new HeldbyError(
      'VALUE',
      `m${below} is a mark on another object.`,
      'A mark can only lie over one of the same object.',
      'over',
    );
  }
  // One that is only being recorded can lie beneath no other yet.
  while (id !== undefined && typeof below === 'number') {
    if (below === id)
      throw new HeldbyError('VALUE', 'A mark cannot lie over itself.', 'Name the mark that lies beneath it.', 'over');
    below = (under.get(below) as { over_id: number | null } | undefined)?.over_id ?? null;
  }
}

function refuseTaken(
  db: Db,
  table: string,
  column: string,
  value: Cell | undefined,
  id: number | undefined,
  called: string,
): void {
  const other = db.prepare(`SELECT id FROM "current_${table}" WHERE "${column}" = ?`).pluck().get(value) as
    | number
    | undefined;
  if (other !== undefined && other !== id) {
    throw new HeldbyError(
      'CONFLICT',
      `There is ${table === 'object' ? 'an' : 'a'} ${table} with the ${called} ${value} already.`,
      `Use that one, or give another ${called}.`,
      column,
    );
  }
}
