import type { MessagePort } from 'node:worker_threads';
import type { LotToPrint } from '../report/lot-to-print.ts';
import type { LotAsked } from './lot-to-print.ts';

/** What a thread that works out lots is given. */
export type LotsTask = {
  /** The file of the ledger, and the last act that the command sees. */
  readonly ledger: string;
  readonly lastAct: number;
  readonly names: readonly string[];
  readonly asked: LotAsked;
  readonly board: LotBoard;
  readonly port: MessagePort;
};

export type LotMessage = {
  readonly place: number;
  /** Undefined where it could not be worked out: whoever wants it meets the reason by working it out again. */
  readonly lot: LotToPrint | undefined;
};

/** What all threads see: whole numbers in shared memory. */
export type LotBoard = {
  /** For each lot 1 once somebody has taken it on. */
  readonly taken: Int32Array<SharedArrayBuffer>;
  /** The place of the lot that is wanted next. */
  readonly wanted: Int32Array<SharedArrayBuffer>;
  /** Counts messages, so that a thread can wait for one. */
  readonly knocks: Int32Array<SharedArrayBuffer>;
};

/** So many lots are worked out before they are wanted, and no more: they have to be held. */
const LOTS_AHEAD = 8;

export function makeBoard(lots: number): LotBoard {
  const shared = (length: number) => new Int32Array(new SharedArrayBuffer(4 * length));
  return { taken: shared(lots), wanted: shared(1), knocks: shared(1) };
}

/** Takes on the first lot from `from` that nobody has, within what may be worked out ahead; undefined if there is none. */
export function takeLot({ taken, wanted }: LotBoard, from: number): number | undefined {
  const end = Math.min(taken.length, Atomics.load(wanted, 0) + LOTS_AHEAD);
  for (let place = from; place < end; place += 1) {
    if (Atomics.compareExchange(taken, place, 0, 1) === 0) return place;
  }
  return undefined;
}
