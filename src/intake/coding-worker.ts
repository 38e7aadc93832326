import { closeSync, openSync } from 'node:fs';
import { workerData } from 'node:worker_threads';
import { HeldbyError } from '../errors.ts';
import { type CodedList, readCodedList } from './coded-list.ts';
import { type CodedParts, type CodingMessage, type CodingTask, READ_AHEAD } from './coding-messages.ts';
import type { ColumnValues } from './column-values.ts';
import { hashedSource } from './hashed-source.ts';
import type { ListField } from './list-fields.ts';

/**
 * Codes a long list in a thread of its own, and hands on the new values as they come: while it reads, the ledger's
 * thread already looks them up. Every message is followed by a knock on the shared signal.
 */
const { path, mapping, signal, port } = workerData as CodingTask;
const knock = new Int32Array(signal);

function tell(message: CodingMessage, transfer: ArrayBuffer[] = []): void {
  port.postMessage(message, transfer);
  Atomics.add(knock, 0, 1);
  Atomics.notify(knock, 0);
}

const told = new Map<ListField, number>();

function tellNewValues(values: CodedList['values']): void {
  const texts: Partial<Record<ListField, string[]>> = {};
  for (const field of READ_AHEAD) {
    const column = values[field];
    if (!column) continue;
    const fresh: string[] = [];
    try {
      for (let code = told.get(field) ?? 0; code < column.size; code += 1) fresh.push(column.text(code));
    } catch (error) {
      // What is no text is told, with its line, when the list is looked through.
      if (!(error instanceof HeldbyError)) throw error;
    }
    told.set(field, column.size);
    texts[field] = fresh;
  }
  tell({ kind: 'values', texts });
}

const descriptor = openSync(path, 'r');
try {
  const source = hashedSource(descriptor);
  const list = readCodedList(source.read, new Map(mapping), tellNewValues);
  const buffers: ArrayBuffer[] = [];
  const own = <T extends Int32Array | Uint8Array>(array: T): T => {
    const copy = array.slice() as T;
    buffers.push(copy.buffer as ArrayBuffer);
    return copy;
  };
  const parts: CodedParts = {
    ...list,
    lines: own(list.lines),
    codes: Object.fromEntries(Object.entries(list.codes).map(([field, codes]) => [field, own(codes)])),
    values: Object.fromEntries(
      Object.entries(list.values).map(([field, { column, pool, starts, lines }]: [string, ColumnValues]) => [
        field,
        { column, pool: own(pool), starts: own(starts), lines: own(lines) },
      ]),
    ),
  };
  tell({ kind: 'done', parts, sha256: source.hash() }, buffers);
} catch (error) {
  if (error instanceof HeldbyError) {
    const { code, message, hint, where } = error;
    tell({ kind: 'refused', code, message, hint, where });
  } else tell({ kind: 'failed', message: error instanceof Error ? error.message : String(error) });
} finally {
  closeSync(descriptor);
}
