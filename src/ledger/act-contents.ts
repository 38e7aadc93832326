import { createHash } from 'node:crypto';
import type { Db } from './open.ts';

/** An act as it was recorded. */
export type ActHead = {
  readonly id: number;
  readonly at: string;
  readonly who: string;
  readonly command: string;
  readonly why: string | null;
  readonly program: string;
  readonly undoes: number | null;
};

/** Every act, the earliest first, up to and including one; also those that were undone. */
export const actsInOrder = (db: Db, last: number): ActHead[] =>
  db
    .prepare('SELECT id, at, who, command, why, program, undoes FROM act WHERE id <= ? ORDER BY id')
    .all(last) as ActHead[];

type Signed = { readonly [Name in 'at' | 'who' | 'command' | 'why' | 'program']?: unknown };

/** By which an act is known in every ledger that it was brought into: who recorded it, when, how and why. */
export const actSignature = ({ at, who, command, why, program }: Signed): string =>
  JSON.stringify([at, who, command, why ?? null, program]);

/** By which a ledger is known, also its copies and continuations: its first act. */
export const ledgerMark = (first: Signed): string =>
  createHash('sha256').update(actSignature(first)).digest('hex').slice(0, 16);

/** A version that an act replaced by another (`successor`), or took away. `table`: that of the kind. */
export type Replacement = {
  readonly table: string;
  readonly target: number;
  readonly successor: number | null;
  readonly why: string | null;
};

/** What an act replaced, in the order in which it did; each version once. */
export const replacedBy = (db: Db, act: number): Replacement[] =>
  db
    .prepare(
      'SELECT kind AS "table", target, successor, min(why) AS why FROM replaced WHERE act_id = ? GROUP BY kind, target, successor ORDER BY min(row)',
    )
    .all(act) as Replacement[];

export type KeptFile = { readonly name: string; readonly sha256: string; readonly options: string };

/** Files that an act recorded, so that they are known when they come again. */
export const filesOf = (db: Db, act: number): KeptFile[] =>
  db.prepare('SELECT name, sha256, options FROM source_file WHERE act_id = ? ORDER BY row').all(act) as KeptFile[];
