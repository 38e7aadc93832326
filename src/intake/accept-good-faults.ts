import { HeldbyError } from '../errors.ts';

/** What is wrong with a rejected line of a list stands in this further column. */
export const FAULT_COLUMN = 'fault';

/** What is wrong with one line of a file. */
export type LineFault = { readonly line: number; readonly says: string };

/**
 * A file that is refused for its lines. The message names the first of them; `lines` names every one, so that the others
 * can be recorded without them. A fault that would only show once those are mended is not among them.
 */
export class FileFaults extends HeldbyError {
  readonly #lines: () => readonly LineFault[];
  /** @param lines worked out where it is asked for: of a whole file at fault that is a long list. */
  constructor(message: string, hint: string, where: string, lines: () => readonly LineFault[]) {
    super('INPUT_FILE', message, hint, where);
    this.#lines = lines;
  }
  get lines(): readonly LineFault[] {
    return this.#lines();
  }
}
