import { kindNamed, parseId } from '../ledger/kinds.ts';
import { ladderOf } from '../ledger/ladders.ts';
import type { Db } from '../ledger/open.ts';
import { readRecord } from '../ledger/reading-records.ts';
import { readRank } from '../services/read-rank.ts';
import { readDate } from '../time/read-date.ts';

/**
 * What is worth saying of the rank of an entry just recorded: that lists of those days are not known to print it, that
 * its words set the kind, or that its bearer was not in post though he kept the rank.
 */
export function rankNote(db: Db, id: string): string | undefined {
  const { kind, row } = parseId(id) ?? { kind: kindNamed('entry'), row: 0 };
  const fields = readRecord(db, kind, row)?.fields ?? {};
  const { rank, service, edition, person, kind: appointment } = fields;
  if (typeof rank !== 'string' || typeof service !== 'string' || typeof edition !== 'string') return undefined;
  const asAt = readRecord(db, kindNamed('edition'), parseId(edition)?.row ?? 0)?.fields['asAt'];
  const span = typeof asAt === 'string' ? readDate(asAt).span : undefined;
  const reading = readRank(rank, ladderOf(db, service), { column: true, ...(span === undefined ? {} : { span }) });
  if (reading.kind !== 'found') return undefined;
  const said = [
    ...(reading.caution === undefined ? [] : [reading.caution]),
    ...(reading.appointment !== undefined && reading.appointment === appointment
      ? [`Recorded as ${appointment}, as "${rank}" says: it takes no part in the succession of posts.`]
      : []),
    ...(isKept(appointment) && reading.status.includes(appointment)
      ? [
          `Recorded as ${appointment}, as "${rank}" says: the rank was kept, the post was not. Where the day is known: heldby notice add --person ${typeof person === 'string' ? person : 'P'} --event ${appointment} …`,
        ]
      : []),
  ];
  return said.length === 0 ? undefined : said.join('\n');
}

const isKept = (kind: unknown): kind is 'half-pay' | 'retired' => kind === 'half-pay' || kind === 'retired';
