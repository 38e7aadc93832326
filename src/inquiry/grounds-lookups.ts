import { HeldbyError } from '../errors.ts';
import { kindNamed } from '../ledger/kinds.ts';
import type { Db } from '../ledger/open.ts';
import { resolveRef } from '../ledger/refs.ts';
import { fold } from '../services/fold.ts';
import type { Reckoned } from './grounds-tenures.ts';
import { type GroundsReader, ground, note } from './grounds-tree.ts';
import { lookupsFor } from './lookups.ts';

/** So many look-ups are worked out to find the one asked for. */
const MOST_WORKED_OUT = 300;

/** What it is worth to look somebody up in an edition: `gain EDITION PERSON` or `gain EDITION SURNAME`. */
export function gainFigure(db: Db, of: string, words: readonly string[], reader: GroundsReader): Reckoned {
  const [edition, ...rest] = words;
  if (edition === undefined || rest.length === 0)
    throw new HeldbyError(
      'USAGE',
      'The gain of which look-up?',
      `Write: heldby grounds ${of} gain EDITION PERSON   (or a surname for a sweep)`,
    );
  const id = `ed${resolveRef(db, kindNamed('edition'), edition)}`;
  const whom = rest.join(' ');
  const { lookups } = lookupsFor(db, of, {
    limit: MOST_WORKED_OUT,
    cost: { usual: 0, ofSeries: new Map() },
    plan: undefined,
  });
  const found = lookups.find(
    (each) =>
      each.edition.id === id &&
      (each.surname === undefined
        ? [each.person?.id, each.person?.key, each.person?.name].includes(whom)
        : fold(each.surname) === fold(whom)),
  );
  if (found === undefined)
    throw new HeldbyError(
      'REFERENCE',
      `Looking up ${whom} in ${id} is worth nothing for ${of}, or less than ${MOST_WORKED_OUT} other look-ups.`,
      `See what is: heldby lookups ${of}`,
    );
  const who = found.person?.name ?? `every ${found.surname}`;
  return {
    value: found.gain,
    says: `looking up ${who} in ${found.edition.series} ${found.edition.label} is worth ${(found.gain * 100).toFixed(1)} points of share`,
    grounds: [
      ...found.answers.map(({ answer, chance, leader, leaderShare }) =>
        note(
          `${answer}: a chance of ${(chance * 100).toFixed(0)} %, and ${leader?.name ?? 'nobody'} would lead with ${(leaderShare * 100).toFixed(1)} %`,
        ),
      ),
      ...found.marks.map(({ id: mark, gain }) =>
        ground('figure', `for ${mark} it is worth ${(gain * 100).toFixed(1)} points`, mark, [], gain),
      ),
      reader.record(id),
    ],
  };
}
