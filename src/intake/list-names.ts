import { HeldbyError } from '../errors.ts';
import type { NameParts } from '../ledger/dictionary.ts';
import type { Recording } from '../ledger/recording.ts';
import type { CodedList } from './coded-list.ts';
import type { ColumnValues } from './column-values.ts';
import type { ListFaults } from './list-faults.ts';

export type Names = { ids: Int32Array; surnames: Int32Array };

/** Names as printed, or made of a surname and forenames given apart. */
export function namesOf(into: Recording, list: CodedList, faults: ListFaults): Names {
  const { name, surname, forenames } = list.codes;
  if (name && !surname) return printedNamesOf(into, list, name, faults);
  const names: Names = { ids: new Int32Array(list.count), surnames: new Int32Array(list.count) };
  const known = new Map<number, { id: number; surnameId: number }>();
  const width = (list.values.name?.size ?? 0) + 1;
  const widthOfForenames = (list.values.forenames?.size ?? 0) + 1;
  const codeOf = (codes: Int32Array | undefined, row: number): number => (codes ? (codes[row] as number) : -1);
  const keyOf = (row: number): number => {
    const [n, s] = [codeOf(name, row), codeOf(surname, row)];
    return s < 0 ? n + 1 : ((s + 1) * widthOfForenames + codeOf(forenames, row) + 1) * width + n + 1;
  };
  for (let row = 0; row < list.count; row += 1) {
    const [n, s, f] = [codeOf(name, row), codeOf(surname, row), codeOf(forenames, row)];
    const signature = keyOf(row);
    let found = known.get(signature);
    if (!found) {
      const read = (): { id: number; surnameId: number } => {
        if (n < 0 && s < 0) throw new HeldbyError('VALUE', 'The row has no name.', 'Give a name, or a surname.');
        const printed = n >= 0 ? list.values.name?.text(n) : undefined;
        if (s < 0) return into.words.name(printed ?? '');
        const parts: NameParts = {
          surname: list.values.surname?.text(s) ?? '',
          forenames: f >= 0 ? (list.values.forenames?.text(f) ?? null) : null,
          honours: null,
          suffix: null,
        };
        return into.words.name(
          printed ?? (parts.forenames === null ? parts.surname : `${parts.forenames} ${parts.surname}`),
          parts,
        );
      };
      found = faults.at(list.lines[row] as number, surname ? 'surname' : 'name', read, { keyOf, key: signature }) ?? {
        id: 0,
        surnameId: 0,
      };
      known.set(signature, found);
    }
    names.ids[row] = found.id;
    names.surnames[row] = found.surnameId;
  }
  return names;
}

/** Every distinct name is read once. */
function printedNamesOf(into: Recording, list: CodedList, codes: Int32Array, faults: ListFaults): Names {
  const values = list.values.name as ColumnValues;
  const idOfCode = new Int32Array(values.size);
  const surnameOfCode = new Int32Array(values.size);
  for (let code = 0; code < values.size; code += 1) {
    faults.of('name', values, code, () => {
      const { id, surnameId } = into.words.name(values.text(code));
      idOfCode[code] = id;
      surnameOfCode[code] = surnameId;
    });
  }
  const names: Names = { ids: new Int32Array(list.count), surnames: new Int32Array(list.count) };
  for (let row = 0; row < list.count; row += 1) {
    const code = codes[row] as number;
    if (code < 0) {
      faults.at(list.lines[row] as number, 'name', () => {
        throw new HeldbyError('VALUE', 'The row has no name.', 'Give the name as it is printed.');
      });
      continue;
    }
    names.ids[row] = idOfCode[code] as number;
    names.surnames[row] = surnameOfCode[code] as number;
  }
  return names;
}
