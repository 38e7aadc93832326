import { type CsvRecord, readCsv } from '../../src/intake/csv-bytes.ts';

/** Hands out the bytes in pieces of these sizes, over and over: a pipe gives what it has. */
export function inPieces(bytes: Buffer, sizes: readonly number[] = [Number.MAX_SAFE_INTEGER]) {
  let at = 0;
  let turn = 0;
  return (into: Buffer): number => {
    const size = Math.max(1, sizes[turn++ % sizes.length] ?? 1);
    const copied = bytes.copy(into, 0, at, Math.min(at + size, bytes.length));
    at += copied;
    return copied;
  };
}

/** Every record as texts, with the line on which it begins. */
export function recordsOf(bytes: Buffer, sizes?: readonly number[]): { fields: string[]; line: number }[] {
  const records: { fields: string[]; line: number }[] = [];
  readCsv(inPieces(bytes, sizes), (record) => records.push({ fields: fieldsOf(record), line: record.line }));
  return records;
}

const fieldsOf = ({ buffer, fields, starts, ends }: CsvRecord): string[] =>
  Array.from({ length: fields }, (_, field) => buffer.toString('utf8', starts[field], ends[field]));
