import { HeldbyError } from '../errors.ts';

/** The distinct values of a column, by their codes. The bytes of value c lie in pool[starts[c], starts[c + 1]). */
export class ColumnValues {
  readonly column: string;
  readonly pool: Uint8Array;
  readonly starts: Int32Array;
  readonly lines: Int32Array;

  constructor(column: string, pool: Uint8Array, starts: Int32Array, lines: Int32Array) {
    this.column = column;
    this.pool = pool;
    this.starts = starts;
    this.lines = lines;
  }

  get size(): number {
    return this.lines.length;
  }

  /**
   * The value as text.
   * @throws HeldbyError INPUT_FILE when its bytes are not UTF-8, with the line where it first stands.
   */
  text(code: number): string {
    const [from = 0, until = 0] = [this.starts[code], this.starts[code + 1]];
    const bytes = Buffer.from(this.pool.buffer, this.pool.byteOffset + from, until - from);
    const text = bytes.toString('utf8');
    if (text.includes('\ufffd') && !Buffer.from(text, 'utf8').equals(bytes)) {
      const line = this.firstLine(code);
      throw new HeldbyError(
        'INPUT_FILE',
        `“${bytes.toString('latin1').slice(0, 40)}” is not UTF-8 text.`,
        'Save the file from the spreadsheet as "CSV UTF-8" and import that.',
        `line ${line}, column ${this.column}`,
      );
    }
    return text.normalize('NFC');
  }

  /** The line on which the value first stands. */
  firstLine(code: number): number {
    return this.lines[code] as number;
  }
}
