import { HeldbyError } from '../errors.ts';

/**
 * A strict reader of comma-separated values (RFC 4180) over bytes. It hands out each record as places in a buffer, so
 * that a list of millions is coded without making a string for every cell. Also read: a byte order mark, CRLF or LF or
 * both, a last line without its end, empty lines (passed over), and a semicolon or tab where the header uses it.
 */
export type CsvRecord = {
  readonly buffer: Buffer;
  /** Number of fields; field f lies in buffer[starts[f], ends[f]). */
  fields: number;
  readonly starts: Int32Array;
  readonly ends: Int32Array;
  /** FNV-1a over the bytes of each plain field, reckoned while looking for its end; 0 for a quoted one. */
  readonly hashes: Int32Array;
  /** Physical line on which the record begins, from 1. */
  line: number;
};

export const FNV_START = -2128831035;
export const FNV_PRIME = 16777619;
const MAX_FIELDS = 1024;
const CHUNK_BYTES = 1 << 20;
const QUOTE = 34;
const LF = 10;
const CR = 13;

/** Fills the part of the buffer it is given, returns how many bytes it wrote; 0 at the end. */
export type ByteSource = (into: Buffer) => number;

/**
 * Calls `onRecord` for each record in turn, the header first. What it is given holds until it returns.
 * @throws HeldbyError INPUT_FILE with line and field for a quote that does not close or stands inside a plain field.
 */
export function readCsv(source: ByteSource, onRecord: (record: CsvRecord) => void): void {
  let buffer = Buffer.allocUnsafe(CHUNK_BYTES);
  let used = 0;
  let ended = false;
  let at = 0;
  let line = 1;
  let delimiter = 0;
  const starts = new Int32Array(MAX_FIELDS);
  const ends = new Int32Array(MAX_FIELDS);
  const hashes = new Int32Array(MAX_FIELDS);
  const escaped = new Uint8Array(MAX_FIELDS);
  /** Bytes that end a plain field, or may not stand in one. */
  const special = new Uint8Array(256);
  for (const byte of [QUOTE, LF, CR, 0]) special[byte] = 1;
  let record: CsvRecord = { buffer, fields: 0, starts, ends, hashes, line };

  const more = (): void => {
    if (at > 0) {
      buffer.copyWithin(0, at, used);
      used -= at;
      at = 0;
    } else if (used === buffer.length) {
      buffer = Buffer.concat([buffer], buffer.length * 2);
      record = { ...record, buffer };
    }
    const got = source(buffer.subarray(used));
    if (got === 0) ended = true;
    used += got;
  };

  more();
  refuseOtherEncodings(buffer, used);
  if (used >= 3 && buffer[0] === 0xef && buffer[1] === 0xbb && buffer[2] === 0xbf) at = 3;

  for (;;) {
    while (at < used && (buffer[at] === LF || buffer[at] === CR)) {
      if (buffer[at] === LF) line += 1;
      at += 1;
    }
    if (at >= used) {
      if (ended) return;
      more();
      continue;
    }
    if (delimiter === 0) {
      while (!ended && buffer.subarray(at, used).indexOf(LF) < 0) more();
      delimiter = delimiterOf(buffer, at, used);
      special[delimiter] = 1;
    }
    const next = scan();
    if (next < 0) {
      more();
      continue;
    }
    record.line = line;
    for (let field = 0; field < record.fields; field += 1) if (escaped[field]) withoutDoubled(field);
    const passed = countLines(at, next);
    onRecord(record);
    line += passed;
    at = next;
  }

  /** Finds the ends of one record from `at`; returns where the next begins, or -1 when the buffer holds too little. */
  function scan(): number {
    const end = used;
    let p = at;
    let field = 0;
    for (;;) {
      if (field === MAX_FIELDS)
        throw fault(
          line,
          `has more than ${MAX_FIELDS} fields`,
          'Look whether the file is a list of comma-separated values.',
        );
      if (p < end && buffer[p] === QUOTE) {
        let hasEscape = 0;
        const start = p + 1;
        p = start;
        for (;;) {
          p = buffer.indexOf(QUOTE, p);
          if (p < 0 || p >= end) {
            if (ended)
              throw fault(
                line,
                `opens a quotation mark in field ${field + 1} that is never closed`,
                'Close it, or double it (""), in the file.',
              );
            return -1;
          }
          if (p + 1 >= end && !ended) return -1;
          if (p + 1 < end && buffer[p + 1] === QUOTE) {
            hasEscape = 1;
            p += 2;
            continue;
          }
          break;
        }
        if (buffer.subarray(start, p).includes(0)) throw zeroByte(line, field);
        starts[field] = start;
        ends[field] = p;
        escaped[field] = hasEscape;
        hashes[field] = 0;
        p += 1;
        if (p < end && buffer[p] !== delimiter && buffer[p] !== LF && buffer[p] !== CR) {
          throw fault(
            line,
            `has text behind the closing quotation mark of field ${field + 1}`,
            'Double a quotation mark that belongs to the text ("").',
          );
        }
      } else {
        starts[field] = p;
        let byte = 0;
        let hash = FNV_START;
        while (p < end) {
          byte = buffer[p] as number;
          if (special[byte] === 1) {
            if (byte === 0) throw zeroByte(line, field);
            if (byte !== QUOTE) break;
            throw fault(
              line,
              `has a quotation mark inside field ${field + 1}`,
              'Put the whole field in quotation marks and double the one inside ("").',
            );
          }
          hash = Math.imul(hash ^ byte, FNV_PRIME);
          p += 1;
        }
        ends[field] = p;
        hashes[field] = hash;
        escaped[field] = 0;
      }
      field += 1;
      if (p >= end) {
        if (!ended) return -1;
        record.fields = field;
        return end;
      }
      if (buffer[p] === delimiter) {
        p += 1;
        continue;
      }
      record.fields = field;
      return p + 1;
    }
  }

  /** A doubled quotation mark stands for one. */
  function withoutDoubled(field: number): void {
    let write = starts[field] as number;
    const end = ends[field] as number;
    for (let read = write; read < end; read += 1) {
      const byte = buffer[read] as number;
      buffer[write++] = byte;
      if (byte === QUOTE) read += 1;
    }
    ends[field] = write;
  }

  function countLines(from: number, until: number): number {
    let lines = 0;
    // Only quoted fields hold line breaks; a plain record is one line, whose end is its last byte.
    if (buffer[until - 1] === LF) lines = 1;
    for (let field = 0; field < record.fields; field += 1) {
      const start = starts[field] as number;
      if (start > from && buffer[start - 1] === QUOTE) {
        for (let p = start; p < (ends[field] as number); p += 1) if (buffer[p] === LF) lines += 1;
      }
    }
    return lines;
  }
}

/** Signs that part the fields of a list; the header shows which. */
const DELIMITERS = [',', ';', '\t', '|'] as const;

/** The sign that parts the fields of a text: the one met most often outside quotation marks, a comma where none is. */
export function delimiterIn(text: string): string {
  const outside = text.replaceAll(/"[^"]*"/g, '');
  const count = (sign: string) => outside.split(sign).length - 1;
  return DELIMITERS.reduce((a, b) => (count(b) > count(a) ? b : a));
}

function delimiterOf(buffer: Buffer, from: number, until: number): number {
  const newline = buffer.indexOf(LF, from);
  const header = buffer.toString('latin1', from, newline < 0 || newline > until ? until : newline);
  return delimiterIn(header).charCodeAt(0);
}

function refuseOtherEncodings(buffer: Buffer, used: number): void {
  const utf16 = used >= 2 && ((buffer[0] === 0xff && buffer[1] === 0xfe) || (buffer[0] === 0xfe && buffer[1] === 0xff));
  const zero = buffer.subarray(0, Math.min(used, 1024)).includes(0);
  if (utf16 || zero)
    throw new HeldbyError(
      'INPUT_FILE',
      'The file is not UTF-8 text.',
      'Save it from the spreadsheet as "CSV UTF-8" and import that.',
      'line 1',
    );
}

const zeroByte = (line: number, field: number): HeldbyError =>
  fault(line, `has a zero byte in field ${field + 1}`, 'Look whether the file is a list of comma-separated values.');

const fault = (line: number, what: string, hint: string) =>
  new HeldbyError('INPUT_FILE', `Line ${line} ${what}.`, hint, `line ${line}`);
