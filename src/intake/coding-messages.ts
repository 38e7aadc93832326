import type { MessagePort } from 'node:worker_threads';
import type { ErrorCode } from '../errors.ts';
import type { CodedList } from './coded-list.ts';
import type { ListField } from './list-fields.ts';

/** Columns whose values are looked up while the rest of the list is still being read. */
export const READ_AHEAD = ['name', 'dated', 'corps'] as const satisfies readonly ListField[];

export type CodingTask = {
  readonly path: string;
  readonly mapping: readonly (readonly [ListField, string])[];
  readonly signal: SharedArrayBuffer;
  readonly port: MessagePort;
};

/** A coded list as it crosses from thread to thread: without methods. */
export type CodedParts = Omit<CodedList, 'values'> & {
  readonly values: Readonly<
    Partial<
      Record<
        ListField,
        { readonly column: string; readonly pool: Uint8Array; readonly starts: Int32Array; readonly lines: Int32Array }
      >
    >
  >;
};

export type CodingMessage =
  | { readonly kind: 'values'; readonly texts: Readonly<Partial<Record<ListField, readonly string[]>>> }
  | { readonly kind: 'done'; readonly parts: CodedParts; readonly sha256: string }
  | {
      readonly kind: 'refused';
      readonly code: ErrorCode;
      readonly message: string;
      readonly hint: string;
      readonly where: string | undefined;
    }
  | { readonly kind: 'failed'; readonly message: string };
