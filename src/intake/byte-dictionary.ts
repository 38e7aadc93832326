import { ColumnValues } from './column-values.ts';
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
  #poolView: DataView = viewOf(this.#pool);
  #poolUsed = 0;
  #viewed: Buffer | undefined;
  #bufferView: DataView = this.#poolView;
  #starts = new Int32Array(1 << 11);
  #hashes = new Int32Array(1 << 11);
  #lines = new Int32Array(1 << 11);
  #last = -1;
  /** Which value came after each, when it last came: one edition repeats the order of the one before. */
  #after = new Int32Array(1 << 11).fill(-1);
  size = 0;

  constructor(column: string) {
    this.column = column;
  }

  /**
   * The code of buffer[start, end), spaces around it left out; -1 where nothing is left.
   * @param known FNV-1a over those bytes, 0 where it is not known.
   */
  code(buffer: Buffer, start: number, end: number, known: number, line: number): number {
    if (start === end) return -1;
    let hash = known;
    if (isSpace(buffer[start]) || isSpace(buffer[end - 1])) {
      while (start < end && isSpace(buffer[start])) start += 1;
      while (end > start && isSpace(buffer[end - 1])) end -= 1;
      if (start === end) return -1;
      hash = 0;
    }
    if (hash === 0) {
      hash = FNV_START;
      for (let p = start; p < end; p += 1) hash = Math.imul(hash ^ (buffer[p] as number), FNV_PRIME);
    }
    const before = this.#last;
    if (before >= 0) {
      if (this.#hashes[before] === hash && this.#equals(before, buffer, start, end)) return before;
      const expected = this.#after[before] as number;
      if (expected >= 0 && this.#hashes[expected] === hash && this.#equals(expected, buffer, start, end)) {
        this.#last = expected;
        return expected;
      }
    }
    const code = this.#lookUp(buffer, start, end, hash, line);
    if (before >= 0) this.#after[before] = code;
    this.#last = code;
    return code;
  }

  /** What has been numbered so far, to read from. */
  values(): ColumnValues {
    return new ColumnValues(
      this.column,
      this.#pool.subarray(0, this.#poolUsed),
      this.#starts.subarray(0, this.size + 1),
      this.#lines.subarray(0, this.size),
    );
  }

  #lookUp(buffer: Buffer, start: number, end: number, hash: number, line: number): number {
    const table = this.#table;
    const mask = table.length - 2;
    let slot = ((hash ^ (hash >>> 15)) << 1) & mask;
    for (;;) {
      const code = table[slot] as number;
      if (code < 0) break;
      if (table[slot + 1] === hash && this.#equals(code, buffer, start, end)) return code;
      slot = (slot + 2) & mask;
    }
    const code = this.size;
    table[slot] = code;
    table[slot + 1] = hash;
    this.#add(buffer, start, end, hash, line);
    return code;
  }

  /** Four bytes at a time: most values are compared whole, and found to be what was expected. */
  #equals(code: number, buffer: Buffer, start: number, end: number): boolean {
    let from = this.#starts[code] as number;
    if ((this.#starts[code + 1] as number) - from !== end - start) return false;
    if (this.#viewed !== buffer) {
      this.#viewed = buffer;
      this.#bufferView = viewOf(buffer);
    }
    const pool = this.#poolView;
    const given = this.#bufferView;
    let at = start;
    for (const words = end - 4; at <= words; at += 4, from += 4)
      if (pool.getInt32(from) !== given.getInt32(at)) return false;
    for (; at < end; at += 1, from += 1) if (pool.getUint8(from) !== given.getUint8(at)) return false;
    return true;
  }

  #add(buffer: Buffer, start: number, end: number, hash: number, line: number): void {
    const length = end - start;
    if (this.#poolUsed + length > this.#pool.length) {
      this.#pool = Buffer.concat([this.#pool], Math.max(this.#pool.length * 2, this.#poolUsed + length));
      this.#poolView = viewOf(this.#pool);
    }
    buffer.copy(this.#pool, this.#poolUsed, start, end);
    this.#poolUsed += length;
    if (this.size + 2 > this.#starts.length) {
      this.#starts = grown(this.#starts);
      this.#hashes = grown(this.#hashes);
      this.#lines = grown(this.#lines);
      this.#after = grown(this.#after);
    }
    this.#hashes[this.size] = hash;
    this.#lines[this.size] = line;
    this.#after[this.size] = -1;
    this.size += 1;
    this.#starts[this.size] = this.#poolUsed;
    if (this.size * 4 > this.#table.length) this.#rehash();
  }

  #rehash(): void {
    const table = new Int32Array(this.#table.length * 4).fill(-1);
    const mask = table.length - 2;
    for (let code = 0; code < this.size; code += 1) {
      const hash = this.#hashes[code] as number;
      let slot = ((hash ^ (hash >>> 15)) << 1) & mask;
      while ((table[slot] as number) >= 0) slot = (slot + 2) & mask;
      table[slot] = code;
      table[slot + 1] = hash;
    }
    this.#table = table;
  }
}

const viewOf = (bytes: Uint8Array): DataView => new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);

const isSpace = (byte: number | undefined): boolean => byte === 32 || byte === 9;

export function grown(array: Int32Array): Int32Array<ArrayBuffer> {
  const larger = new Int32Array(array.length * 2);
  larger.set(array);
  return larger;
}
