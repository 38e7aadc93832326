import { HeldbyError } from '../errors.ts';
import type { CodedList } from './coded-list.ts';
import type { ListFaults } from './list-faults.ts';
import { LIST_FIELDS } from './list-fields.ts';

/** A sign for what stands above, alone or before the rest: `do.`, `ditto`, `"`, a dash. `do Carmo` is a name. */
const DITTO = /^(?:["”“„〃″]|''|,,|do\.|do$|d°|ditto|idem|id\.|[-–—_]+)(?:\s|$)/iu;
/** In a column of pages, the usual sign for none. */
const DASH = /^[-–—_]+$/;
/** The bytes with which one can begin; nearly every value is passed over by them. */
const FIRST_BYTES = new Set(Buffer.from('"\',-_dDiI”〃'));
const LOOKED_AT_BYTES = 10;

/**
 * A list of a file is read line by line, in any order and in part: what a ditto stands for is not known there. Taken as
 * it is written it would become a name or a corps, so it is refused wherever it means something.
 */
export function refuseDittos({ values }: CodedList, faults: ListFaults): void {
  for (const field of LIST_FIELDS) {
    const column = values[field];
    if (column === undefined || field === 'note' || field === 'person') continue;
    for (let code = 0; code < column.size; code += 1) {
      const from = column.starts[code] as number;
      if (!FIRST_BYTES.has(column.pool[from] as number)) continue;
      const until = Math.min(column.starts[code + 1] as number, from + LOOKED_AT_BYTES);
      const beginning = Buffer.from(column.pool.subarray(from, until)).toString('utf8');
      if (!DITTO.test(beginning) || (field === 'page' && DASH.test(beginning))) continue;
      faults.of(field, column, code, () => {
        throw new HeldbyError(
          'VALUE',
          `"${column.text(code)}" stands for what is above it, or for nothing.`,
          'Write out what it stands for, or leave the cell empty; heldby entry take reads dittos as a page has them.',
        );
      });
    }
  }
  faults.throwIfAny();
}
