import { HeldbyError } from '../errors.ts';
import { readRank } from '../services/read-rank.ts';
import type { Cell } from './journal.ts';
import type { Kind } from './kind.ts';
import { ladderOf, type RankStyle, stylesOffLadder } from './ladders.ts';
import type { Db } from './open.ts';

/**
 * Watches a correction that can take the meaning from ranks that are recorded: 1 another service of a list, 2 another
 * list of an edition, 3 a corrected or withdrawn rank of a ladder.
 * @returns what looks again when the correction stands, and throws HeldbyError RANK if a rank can no longer be read.
 */
export function watchRanks(db: Db, kind: Kind, before: Readonly<Record<string, Cell>>): () => void {
  if (kind.kind === 'rank') {
    const services = new Set([String(before['service'])]);
    const already = new Set([...services].flatMap((service) => stylesOffLadder(db, service).map(({ text }) => text)));
    return () => {
      for (const service of services)
        for (const { text } of stylesOffLadder(db, service))
          if (!already.has(text) && isUsed(db, service, text))
            throw lost(text, service, 'Amend those records first, or leave the rank as it is.');
    };
  }
  const id = Number(before['id']);
  const service = (): unknown => serviceOf(db, kind, id);
  if (kind.kind !== 'series' && kind.kind !== 'edition') return () => undefined;
  const old = service();
  return () => {
    const now = service();
    if (now === old || typeof now !== 'string') return;
    const ladder = ladderOf(db, now);
    const bad = stylesListed(db, kind, id).find(
      ({ text }) => readRank(text, ladder, { column: true }).kind !== 'found',
    );
    if (bad !== undefined) throw lost(bad.text, now, `Add it first: heldby rank add ${now} "${bad.text}" --order N`);
  };
}

const lost = (text: string, service: string, hint: string): HeldbyError =>
  new HeldbyError(
    'RANK',
    `Recorded entries have the rank "${text}", which is none of the service ${service} then.`,
    hint,
  );

const serviceOf = (db: Db, kind: Kind, id: number): unknown =>
  db
    .prepare(
      kind.kind === 'series'
        ? 'SELECT service FROM current_series WHERE id = ?'
        : 'SELECT s.service FROM current_edition AS e JOIN current_series AS s ON s.id = e.series_id WHERE e.id = ?',
    )
    .pluck()
    .get(id);

/** Every wording of a rank in the lines of a list, or of one edition. */
const stylesListed = (db: Db, kind: Kind, id: number): RankStyle[] =>
  db
    .prepare(
      `SELECT DISTINCT r.text, r.rank FROM current_entry AS x JOIN rank_style AS r ON r.id = x.rank_id WHERE x.edition_id IN (${
        kind.kind === 'series' ? 'SELECT id FROM current_edition WHERE series_id = ?' : '?'
      })`,
    )
    .all(id) as RankStyle[];

const isUsed = (db: Db, service: string, text: string): boolean =>
  ['entry', 'notice', 'condition'].some(
    (table) =>
      db
        .prepare(
          `SELECT 1 FROM "current_${table}" WHERE rank_id IN (SELECT id FROM rank_style WHERE service = ? AND text = ?) LIMIT 1`,
        )
        .get(service, text) !== undefined,
  );
