import type { DateOptions } from '../time/reading-options.ts';
import { type Dictionary, dictionary } from './dictionary.ts';
import type { Act } from './journal.ts';
import type { Db } from './open.ts';

/** What somebody says of a record, by the names of its fields: texts, numbers, lists of texts; null: nothing. */
export type Draft = Readonly<Record<string, unknown>>;

/** Everything that recording needs while one act is open. */
export type Recording = {
  readonly db: Db;
  readonly act: Act;
  readonly words: Dictionary;
  readonly dates: DateOptions;
  readonly nextRow: Map<string, number>;
  /** Dates of a list are read as it writes them; a record that comes from a ledger means its dates as they stand. */
  readonly asListsWrite?: true;
  /** Numbers by table that are kept for the records whose keys name them (`p7`). */
  readonly keptRows: Map<string, ReadonlySet<number>>;
};

/** @param dates how the dates of the act are written, beside their words. */
export const recording = (db: Db, act: Act, dates: DateOptions = {}): Recording => ({
  db,
  act,
  words: dictionary(db, act, dates),
  dates,
  nextRow: new Map(),
  keptRows: new Map(),
});
