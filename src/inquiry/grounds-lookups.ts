import { HeldbyError } from '../errors.ts';
import { kindNamed } from '../ledger/kinds.ts';
import type { Db } from '../ledger/open.ts';
import { resolveRef } from '../ledger/refs.ts';
import { fold } from '../services/fold.ts';
import type { Reckoned } from './grounds-tenures.ts';
import { type GroundsReader, ground, note } from './grounds-tree.ts';
import type { VolumeCost } from './lookup-subject.ts';
import { lookupsFor, MOST_PLANNED, USUAL_LIMIT } from './lookups.ts';

/** Calling up a volume costs nothing unless said, as in `lookups`. */
export const NO_COST: VolumeCost = { usual: 0, ofSeries: new Map<string, number>() };

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
  const { lookups } = lookupsFor(db, of, { limit: MOST_WORKED_OUT, cost: NO_COST, plan: undefined });
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

/** Look-ups in a plan unless said. */
const USUAL_PLAN = 3;

/**
 * What the look-ups of one visit are worth together, as `lookups --plan` has them.
 * @param words how many looks the visit has room for.
 * @throws HeldbyError USAGE
 */
export function planFigure(
  db: Db,
  of: string,
  words: string | undefined,
  cost: VolumeCost,
  reader: GroundsReader,
): Reckoned {
  const room = words === undefined ? USUAL_PLAN : Number(words);
  if (!Number.isInteger(room) || room < 1 || room > MOST_PLANNED)
    throw new HeldbyError(
      'USAGE',
      `"${words}" is no number of looks.`,
      `Write: heldby grounds ${of} plan 3   (up to ${MOST_PLANNED})`,
    );
  const { plan, lookups, marks } = lookupsFor(db, of, { limit: USUAL_LIMIT, cost, plan: room });
  const planned = plan ?? [];
  const gain = planned.at(-1)?.gain ?? 0;
  const subject = ({ edition, person, surname }: (typeof planned)[number]): string =>
    `${person?.name ?? `every ${surname}`} in ${edition.series} ${edition.label}`;
  return {
    value: gain,
    says:
      planned.length === 0
        ? `no look-up that is known would make a name on ${of} surer`
        : `${planned.length === 1 ? 'one look' : `${planned.length} looks in one visit`} (${planned.map(subject).join('; ')}) ${planned.length === 1 ? 'is' : 'are together'} worth ${points(gain)} of share`,
    grounds: [
      ...planned.map((each, place) => {
        const adds = each.gain - (planned[place - 1]?.gain ?? 0);
        const alone = lookups.find(
          ({ edition, person, surname }) =>
            edition.id === each.edition.id && person?.name === each.person?.name && surname === each.surname,
        );
        const own = alone === undefined ? '' : `; by itself ${points(alone.gain)}`;
        return ground(
          'figure',
          `${subject(each)} adds ${points(adds)}, whatever came of those before it${own}`,
          each.person?.id ?? null,
          [reader.record(each.edition.id)],
          adds,
        );
      }),
      ...marks.map(({ id, text, leader, leaderShare }) =>
        ground(
          'figure',
          `as things stand ${leader?.name ?? 'nobody'} leads “${text}” with ${points(leaderShare)}`,
          id,
          [reader.record(id)],
          leaderShare,
        ),
      ),
      note(
        'each is that which adds most, by the answers to be expected to all of them; the first is the best by itself, so another set may be worth a little more',
      ),
    ],
  };
}

const points = (share: number): string => `${(share * 100).toFixed(1)} points`;
