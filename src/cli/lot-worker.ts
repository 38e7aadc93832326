import { workerData } from 'node:worker_threads';
import { standAsOf } from '../ledger/as-of.ts';
import { closeLedger, openLedger } from '../ledger/open.ts';
import { lastActId } from '../ledger/undo.ts';
import { type LotMessage, type LotsTask, takeLot } from './lot-messages.ts';
import { lotToPrint } from './lot-to-print.ts';

/** Works out lots of a batch in a thread of its own, with its own connection to the same state of the ledger. */
const { ledger, lastAct, names, asked, board, port } = workerData as LotsTask;

const db = openLedger(ledger, 'read');
if (asked.asOf !== undefined) standAsOf(db, asked.asOf);
// If somebody has recorded something meanwhile, this thread would tell of another state.
if (lastActId(db) === lastAct) workOut();
closeLedger(db);

function workOut(): void {
  for (;;) {
    const wanted = Atomics.load(board.wanted, 0);
    const place = takeLot(board, wanted);
    if (place !== undefined) tell({ place, lot: lotAt(place) });
    else if (board.taken.every((taken) => taken === 1)) return;
    else Atomics.wait(board.wanted, 0, wanted);
  }
}

function lotAt(place: number): LotMessage['lot'] {
  try {
    return lotToPrint(db, names[place] as string, asked);
  } catch {
    return undefined;
  }
}

function tell(message: LotMessage): void {
  port.postMessage(message);
  Atomics.add(board.knocks, 0, 1);
  Atomics.notify(board.knocks, 0);
}
