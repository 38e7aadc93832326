import { existsSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { join } from 'node:path';
import { MessageChannel, type MessagePort, receiveMessageOnPort, Worker } from 'node:worker_threads';
import type { Db } from '../ledger/open.ts';
import { lastActId } from '../ledger/undo.ts';
import type { LotToPrint } from '../report/lot-to-print.ts';
import { type LotMessage, type LotsTask, makeBoard, takeLot } from './lot-messages.ts';
import { type LotAsked, lotToPrint } from './lot-to-print.ts';

/** With fewer lots a thread would not be ready before they are done. */
const FEWEST_LOTS = 8;
/** More threads than this wait for the one that writes. */
const MOST_THREADS = 7;
/** A thread holds one lot at a time, and is not to let its garbage lie. */
const LIMITS = { maxYoungGenerationSizeMb: 16, maxOldGenerationSizeMb: 1024 };
/** How long to wait for a lot that another thread took on, before it is worked out again here. */
const PATIENCE_MS = 60_000;

/** Built beside the program; not there when the sources run as they are. */
const built = (): string => join(import.meta.dirname, 'lot-worker.cjs');

export type Lots = {
  /** The lot at a place; asked for in order, each once. */
  at(place: number): LotToPrint;
  close(): void;
};

/**
 * The lots of a batch, worked out by as many threads as the machine has cores, this one among them: each takes on the
 * next that nobody has. What comes out does not depend on who worked it out.
 */
export function lotsInThreads(db: Db, names: readonly string[], asked: LotAsked): Lots {
  const board = makeBoard(names.length);
  const threads = names.length < FEWEST_LOTS || !existsSync(built()) ? 0 : availableParallelism() - 1;
  const ready = new Map<number, LotToPrint | undefined>();
  const task = { ledger: db.name, lastAct: lastActId(db), names, asked, board };
  const workers = Array.from({ length: Math.min(threads, MOST_THREADS) }, () => thread(task));

  const receive = (): void => {
    for (const { port } of workers) {
      for (let got = next(port); got !== undefined; got = next(port)) ready.set(got.place, got.lot);
    }
  };
  const own = (place: number): LotToPrint => lotToPrint(db, names[place] as string, asked);
  const waitFor = (place: number): LotToPrint => {
    for (let from = place + 1; ; ) {
      const heard = Atomics.load(board.knocks, 0);
      receive();
      if (ready.has(place)) break;
      const another = takeLot(board, from);
      if (another !== undefined) {
        ready.set(
          another,
          quietly(() => own(another)),
        );
        from = another + 1;
      } else if (Atomics.wait(board.knocks, 0, heard, PATIENCE_MS) === 'timed-out') break;
    }
    const lot = ready.get(place);
    ready.delete(place);
    return lot ?? own(place);
  };
  return {
    at(place) {
      Atomics.store(board.wanted, 0, place);
      Atomics.notify(board.wanted, 0);
      return Atomics.compareExchange(board.taken, place, 0, 1) === 0 ? own(place) : waitFor(place);
    },
    close() {
      for (const { worker, port } of workers) {
        port.close();
        void worker.terminate();
      }
    },
  };
}

function thread(task: Omit<LotsTask, 'port'>): { readonly worker: Worker; readonly port: MessagePort } {
  const { port1: port, port2: there } = new MessageChannel();
  const worker = new Worker(built(), {
    workerData: { ...task, port: there } satisfies LotsTask,
    transferList: [there],
    resourceLimits: LIMITS,
  });
  // A thread that fails leaves its lots to the others; what is wrong with a lot is met where it is worked out again.
  worker.on('error', () => {});
  worker.unref();
  port.unref();
  return { worker, port };
}

const next = (port: MessagePort): LotMessage | undefined =>
  (receiveMessageOnPort(port) as { message: LotMessage } | undefined)?.message;

/** A lot that is not wanted yet: what is wrong with it is met when it is. */
function quietly(work: () => LotToPrint): LotToPrint | undefined {
  try {
    return work();
  } catch {
    return undefined;
  }
}
