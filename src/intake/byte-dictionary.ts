import { HeldbyError } from '../errors.ts';
import { FNV_PRIME, FNV_START } from './csv-bytes.ts';

/**
 * Numbers the distinct values of a column as they come, 0 first, comparing bytes: a string is made once for each
 * distinct value. Open addressing over FNV-1a.
 */
export class ByteDictionary {
  readonly column: string;
  /** Two cells a slot, a code (-1: free) and its hash: one reach into memory tells most misses. */
  #table = new Int32Array(1 << 13).fill(-1);
  #pool = Buffer.allocUnsafe(1 << 16);
  #poolView: DataView = new DataView(this.#pool.buffer, this.#pool.byteOffset, this.#pool.byteLength);
  #poolUsed = 0;
  #viewed: Buffer | undefined;
  #bufferView: DataView = this.#poolView;
  #starts = new Int32Array(1 << 11);
  #lines = new Int32Array(1 << 11);
  #last = -1;
  /** Which value came after each, when it last came: one edition repeats the order of the one before. */
  #after = new Int32Array(1 << 11).fill(-1);
  size = 0;

  constructor(column: string) {
    this.column = column;
    this.#starts[0] = 0;
  }

  /**
   * The code of buffer[start, end), spaces around it left out; -1 where nothing is left.
   * @param hash FNV-1a over those bytes, 0 where it is not known.
   */
  code(buffer: Buffer, start: number, end: number, hash: number, line: number): number {
    if (start === end) return -1;
    const trimmed = buffer[start] === 32 || buffer[end - 1] === 32 || buffer[start] === 9 || buffer[end - 1] === 9;
    if (trimmed) {
      while (start < end && (buffer[start] === 32 || buffer[start] === 9)) start += 1;
      while (end > start && (buffer[end - 1] === 32 || buffer[end - 1] === 9)) end -= 1;
      if (start === end) return -1;
    }
    const before = this.#last;
    if (before >= 0) {
      if (this.#equals(before, buffer, start, end)) return before;
      const expected = this.#after[before] as number;
      if (expected >= 0 && this.#equals(expected, buffer, start, end)) {
        this.#last = expected;
        return expected;
      }
    }
    const code = this.#lookUp(buffer, start, end, trimmed ? 0 : hash, line);
    if (before >= 0) this.#after[before] = code;
    this.#last = code;
    return code;
  }

  #lookUp(buffer: Buffer, start: number, end: number, given: number, line: number): number {
    let hash = given;
    if (hash === 0) {
      hash = FNV_START;
      for (let p = start; p < end; p += 1) hash = Math.imul(hash ^ (buffer[p] as number), FNV_PRIME);
    }
    hash ^= hash >>> 15;
    const table = this.#table;
    const mask = table.length - 2;
    let slot = (hash << 1) & mask;
    for (;;) {
      const code = table[slot] as number;
      if (code < 0) break;
      if (table[slot + 1] === hash && this.#equals(code, buffer, start, end)) return code;
      slot = (slot + 2) & mask;
    }
    const code = this.size;
    table[slot] = code;
    table[slot + 1] = hash;
    this.#add(buffer, start, end, line);
    return code;
  }

  /**
   * The value as text.
   * @throws HeldbyError INPUT_FILE when its bytes are not UTF-8, with the line where it first stands.
   */
  text(code: number): string {
    const bytes = this.#pool.subarray(this.#starts[code], this.#starts[code + 1]);
    const text = bytes.toString('utf8');
    if (text.includes('\ufffd') && !isUtf8(bytes)) {
      const line = this.firstLine(code);
      throw new HeldbyError(
        'INPUT_FILE',
        `Line ${line}, column ${this.column}: "${bytes.toString('latin1')}" is not UTF-8 text.`,
        'Save the file from the spreadsheet as "CSV UTF-8" and import that; nothing was recorded.',
        `line ${line}, column ${this.column}`,
      );
    }
    return text.normalize('NFC');
  }

  /** The line on which the value first stands. */
  firstLine(code: number): number {
    return this.#lines[code] as number;
  }

  /** Four bytes at a time: most values are compared whole, and found to be what was expected. */
  #equals(code: number, buffer: Buffer, start: number, end: number): boolean {
    let from = this.#starts[code] as number;
    if ((this.#starts[code + 1] as number) - from !== end - start) return false;
    if (this.#viewed !== buffer) this.#view(buffer);
    const pool = this.#poolView;
    const given = this.#bufferView;
    let at = start;
    for (const words = end - 4; at <= words; at += 4, from += 4)
      if (pool.getInt32(from) !== given.getInt32(at)) return false;
    for (; at < end; at += 1, from += 1) if (pool.getUint8(from) !== given.getUint8(at)) return false;
    return true;
  }

  #view(buffer: Buffer): void {
    this.#viewed = buffer;
    this.#bufferView = new DataView(buffer.buffer, buffer.byteOffset, buffer.byteLength);
  }

  #add(buffer: Buffer, start: number, end: number, line: number): void {
    const length = end - start;
    if (this.#poolUsed + length > this.#pool.length) {
      this.#pool = Buffer.concat([this.#pool], Math.max(this.#pool.length * 2, this.#poolUsed + length));
      this.#poolView = new DataView(this.#pool.buffer, this.#pool.byteOffset, this.#pool.byteLength);
    }
    buffer.copy(this.#pool, this.#poolUsed, start, end);
    this.#poolUsed += length;
    if (this.size + 2 > this.#starts.length) {
      this.#starts = grown(this.#starts);
      this.#lines = grown(this.#lines);
      this.#after = grown(this.#after);
    }
    this.#lines[this.size] = line;
    this.#after[this.size] = -1;
    this.size += 1;
    this.#starts[this.size] = this.#poolUsed;
    if (this.size * 4 > this.#table.length) this.#rehash();
  }

  #rehash(): void {
    const old = this.#table;
    const table = new Int32Array(old.length * 4).fill(-1);
    const mask = table.length - 2;
    for (let from = 0; from < old.length; from += 2) {
      if ((old[from] as number) < 0) continue;
      let slot = ((old[from + 1] as number) << 1) & mask;
      while ((table[slot] as number) >= 0) slot = (slot + 2) & mask;
      table[slot] = old[from] as number;
      table[slot + 1] = old[from + 1] as number;
    }
    this.#table = table;
  }
}

export function grown(array: Int32Array): Int32Array<ArrayBuffer> {
  const larger = new Int32Array(array.length * 2);
  larger.set(array);
  return larger;
}

function isUtf8(bytes: Buffer): boolean {
  return Buffer.compare(Buffer.from(bytes.toString('utf8'), 'utf8'), bytes) === 0;
}
