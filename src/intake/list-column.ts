import { HeldbyError } from '../errors.ts';
import type { CodedList } from './coded-list.ts';
import type { ListFaults } from './list-faults.ts';
import type { ListField } from './list-fields.ts';

/** What a cell says; empty where there is none. */
export function textAt(list: CodedList, field: ListField, row: number): string {
  const code = list.codes[field]?.[row] ?? -1;
  return code < 0 ? '' : (list.values[field]?.text(code) ?? '');
}

/** Ids of a column's values for each row, 0 where the cell is empty; each distinct value is looked at once. */
export function idsOf(list: CodedList, field: ListField, faults: ListFaults, id: (text: string) => number): Int32Array {
  const codes = list.codes[field];
  const values = list.values[field];
  const ids = new Int32Array(list.count);
  if (!codes || !values) return ids;
  const idOfCode = new Int32Array(values.size);
  for (let code = 0; code < values.size; code += 1)
    faults.of(field, values, code, () => (idOfCode[code] = id(values.text(code))));
  for (let row = 0; row < list.count; row += 1) {
    const code = codes[row] as number;
    if (code >= 0) ids[row] = idOfCode[code] as number;
  }
  return ids;
}

/** That a list has none of the columns by which a field is known. */
export const missing = (list: CodedList, field: string, called: string) =>
  new HeldbyError(
    'INPUT_FILE',
    `The file has no column for ${called}.`,
    `${
      list.ignored.some((header) => /^\d|\d{4}/.test(header))
        ? 'Line 1 looks like an entry: write the names of the columns over it, such as edition,as_at,name,rank,corps,dated,page. Or say'
        : 'Say'
    } which one it is: --map ${field}=COLUMN. Not used so far: ${list.ignored.join(', ') || 'none'}.`,
    'line 1',
  );
