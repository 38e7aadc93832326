import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { MessageChannel, receiveMessageOnPort, Worker } from 'node:worker_threads';
import { HeldbyError } from '../errors.ts';
import type { CodedList } from './coded-list.ts';
import type { CodingMessage, CodingTask } from './coding-messages.ts';
import { ColumnValues } from './column-values.ts';
import type { ListField } from './list-fields.ts';

/** How long to wait for the thread to say anything at all, before the list is read without it. */
const FIRST_WORD_MS = 10_000;

/** Built beside the program; not there when the sources run as they are. */
const built = (): string => join(import.meta.dirname, 'coding-worker.cjs');

export const canCodeInThread = (): boolean => existsSync(built());

/**
 * Has a long list coded in a thread of its own, and waits for it: an act is one transaction of one thread, so the
 * messages are taken one by one without leaving it.
 * @param onValues told the new values of a column as they come.
 * @throws HeldbyError as `readCodedList` does.
 */
export function codeInThread(
  path: string,
  mapping: ReadonlyMap<ListField, string>,
  onValues: (field: ListField, texts: readonly string[]) => void,
): { list: CodedList; sha256: string } {
  const signal = new SharedArrayBuffer(4);
  const knock = new Int32Array(signal);
  const { port1: here, port2: there } = new MessageChannel();
  const task: CodingTask = { path, mapping: [...mapping], signal, port: there };
  const worker = new Worker(built(), { workerData: task, transferList: [there] });
  worker.unref();
  here.unref();
  try {
    for (let heard = 0; ; ) {
      const received = receiveMessageOnPort(here) as { message: CodingMessage } | undefined;
      if (!received) {
        if (Atomics.wait(knock, 0, heard, FIRST_WORD_MS) === 'timed-out')
          throw new Error('the thread that codes the list does not answer');
        heard = Atomics.load(knock, 0);
        continue;
      }
      const { message } = received;
      switch (message.kind) {
        case 'values':
          for (const [field, texts] of Object.entries(message.texts)) onValues(field as ListField, texts);
          break;
        case 'done': {
          const values = Object.fromEntries(
            Object.entries(message.parts.values).map(([field, { column, pool, starts, lines }]) => [
              field,
              new ColumnValues(column, pool, starts, lines),
            ]),
          );
          return { list: { ...message.parts, values }, sha256: message.sha256 };
        }
        case 'refused':
          throw new HeldbyError(message.code, message.message, message.hint, message.where);
        case 'failed':
          throw new Error(message.message);
      }
    }
  } finally {
    here.close();
    void worker.terminate();
  }
}
