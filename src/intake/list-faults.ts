import { type HeldbyError, isFaultOfInput } from '../errors.ts';
import { FileFaults, type LineFault } from './accept-good-faults.ts';
import type { CodedList } from './coded-list.ts';
import type { ColumnValues } from './column-values.ts';
import type { ListField } from './list-fields.ts';

const FAULTS_SHOWN = 10;
/** Lines that are named with a fault that stands on several. */
const OTHERS_SHOWN = 5;

/** A cell can be as long as a file; what is said of it can be read. */
const MOST_SAID = 240;
const short = (text: string): string =>
  text.length <= MOST_SAID ? text : `${text.slice(0, MOST_SAID / 2)} … ${text.slice(-MOST_SAID / 2)}`;

/** Rows with the same key have the same fault. */
type Alike = { readonly keyOf: (row: number) => unknown; readonly key: unknown };
type Found = {
  readonly line: number;
  readonly column: string;
  readonly error: HeldbyError;
  readonly alike: Alike | undefined;
};

/** Gathers what is wrong with a file, so that it can be mended in one go. */
export class ListFaults {
  readonly #list: CodedList;
  readonly #found: Found[] = [];
  readonly #codeOf = new Map<ListField, (row: number) => unknown>();

  constructor(list: CodedList) {
    this.#list = list;
  }

  of<T>(field: ListField, values: ColumnValues, code: number, work: () => T): T | undefined {
    const keyOf = this.#codeOf.get(field) ?? ((row: number) => this.#list.codes[field]?.[row]);
    this.#codeOf.set(field, keyOf);
    return this.at(values.firstLine(code), field, work, { keyOf, key: code });
  }

  /** @param alike on which other lines the same fault stands, where it is looked at on the first of them alone. */
  at<T>(line: number, field: ListField, work: () => T, alike?: Alike): T | undefined {
    try {
      return work();
    } catch (error) {
      if (!isFaultOfInput(error)) throw error;
      this.#found.push({ line, column: this.#list.header[field] ?? field, error, alike });
      return undefined;
    }
  }

  /** Every line with what is wrong on it; the rows are gone through once for each way in which they are alike. */
  #lines(): LineFault[] {
    const lines: LineFault[] = [];
    const groups = new Map<Alike['keyOf'], Map<unknown, string[]>>();
    for (const { line, column, error, alike } of this.#found) {
      const says = `${column}: ${error.message} ${error.hint}`;
      if (alike === undefined) {
        lines.push({ line, says });
        continue;
      }
      const group = groups.get(alike.keyOf) ?? new Map<unknown, string[]>();
      groups.set(alike.keyOf, group.set(alike.key, [...(group.get(alike.key) ?? []), says]));
    }
    for (const [keyOf, group] of groups)
      for (let row = 0; row < this.#list.count; row += 1)
        for (const says of group.get(keyOf(row)) ?? []) lines.push({ line: this.#list.lines[row] as number, says });
    return lines;
  }

  /** The line and column of a fault, and which other lines have the same one. */
  #where({ line, column, alike }: Omit<Found, 'error'>): string {
    const others: number[] = [];
    for (let row = 0; alike !== undefined && row < this.#list.count; row += 1)
      if (alike.keyOf(row) === alike.key && this.#list.lines[row] !== line)
        others.push(this.#list.lines[row] as number);
    const more = others.length > OTHERS_SHOWN ? ` and ${others.length - OTHERS_SHOWN} more` : '';
    const also = others.length === 0 ? '' : ` (also line ${others.slice(0, OTHERS_SHOWN).join(', ')}${more})`;
    return `${line}, column ${column}${also}`;
  }

  throwIfAny(): void {
    const found = this.#found.sort((a, b) => a.line - b.line);
    const [first] = found;
    if (!first) return;
    const shown = found
      .slice(0, FAULTS_SHOWN)
      .map(({ error, ...at }) => `line ${this.#where(at)}: ${short(error.message)} ${short(error.hint)}`);
    if (found.length > shown.length) shown.push(`… and ${found.length - shown.length} more`);
    throw new FileFaults(
      found.length === 1
        ? `Line ${this.#where(first)}: ${short(first.error.message)}`
        : `The file has ${found.length} faults:\n${shown.join('\n')}`,
      found.length === 1
        ? `Nothing was recorded. ${short(first.error.hint)}`
        : 'Mend them and import the file again; nothing was recorded.',
      `line ${first.line}, column ${first.column}`,
      () => this.#lines(),
    );
  }
}
