import { HeldbyError } from '../errors.ts';
import { FileFaults } from './accept-good-faults.ts';
import type { CodedList } from './coded-list.ts';
import type { ColumnValues } from './column-values.ts';
import type { ListField } from './list-fields.ts';

const FAULTS_SHOWN = 10;

/** A cell can be as long as a file; what is said of it can be read. */
const MOST_SAID = 240;
const short = (text: string): string =>
  text.length <= MOST_SAID ? text : `${text.slice(0, MOST_SAID / 2)} … ${text.slice(-MOST_SAID / 2)}`;

/** Gathers what is wrong with a file, so that it can be mended in one go. */
export class ListFaults {
  readonly #list: CodedList;
  readonly #found: { line: number; column: string; error: HeldbyError; again?: () => number[] }[] = [];

  constructor(list: CodedList) {
    this.#list = list;
  }

  of<T>(field: ListField, values: ColumnValues, code: number, work: () => T): T | undefined {
    return this.at(values.firstLine(code), field, work, () => this.#linesWith(field, code));
  }

  /** @param again every line on which the same fault stands, where it is not this one alone. */
  at<T>(line: number, field: ListField, work: () => T, again?: () => number[]): T | undefined {
    try {
      return work();
    } catch (error) {
      if (!(error instanceof HeldbyError)) throw error;
      this.#found.push({ line, column: this.#list.header[field] ?? field, error, ...(again ? { again } : {}) });
      return undefined;
    }
  }

  #linesWith(field: ListField, code: number): number[] {
    const lines: number[] = [];
    this.#list.codes[field]?.forEach((each, row) => {
      if (each === code) lines.push(this.#list.lines[row] as number);
    });
    return lines;
  }

  throwIfAny(): void {
    const found = this.#found.sort((a, b) => a.line - b.line);
    const [first] = found;
    if (!first) return;
    const shown = found
      .slice(0, FAULTS_SHOWN)
      .map(({ line, column, error }) => `line ${line}, column ${column}: ${short(error.message)} ${short(error.hint)}`);
    if (found.length > shown.length) shown.push(`… and ${found.length - shown.length} more`);
    throw new FileFaults(
      found.length === 1
        ? `Line ${first.line}, column ${first.column}: ${short(first.error.message)}`
        : `The file has ${found.length} faults:\n${shown.join('\n')}`,
      found.length === 1
        ? `Nothing was recorded. ${short(first.error.hint)}`
        : 'Mend them and import the file again; nothing was recorded.',
      `line ${first.line}, column ${first.column}`,
      found.flatMap(({ line, column, error, again }) =>
        (again?.() ?? [line]).map((each) => ({ line: each, says: `${column}: ${error.message} ${error.hint}` })),
      ),
    );
  }
}
