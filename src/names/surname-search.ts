import { HeldbyError } from '../errors.ts';
import { compile } from './compiled-pattern.ts';
import { type Direction, HALF_BITS } from './letter-costs.ts';
import { costAt, fillRow, isDead, type LetterRows, letterRows, UNREACHED } from './letter-rows.ts';
import { FORM_KINDS } from './name-forms.ts';
import type { Pattern } from './pattern.ts';
import { plannedWalks } from './search-plan.ts';
import { formBits, readingForms } from './surname-cost.ts';
import { HEADER_BYTES, longestKey, type SurnameIndex } from './surname-index.ts';

export type FoundSurname = { readonly id: number; readonly bits: number };

/**
 * Every surname of the index within the limit of the reading, nearest first, then by id: exactly those, and with exactly
 * the bits, that `surnameCost` gives for each name by itself.
 * @throws HeldbyError LEDGER_DAMAGED where the bytes are no index, or one of another version.
 */
export function searchSurnames(
  index: SurnameIndex,
  pattern: Pattern,
  limitBits: number,
  { elementBits }: { readonly elementBits: number },
): readonly FoundSurname[] {
  const least = new Map<number, number>();
  for (const reading of readingForms(pattern)) {
    const before = FORM_KINDS.map((kind) => formBits(kind, reading !== pattern, elementBits));
    const limit = Math.floor((limitBits - Math.min(...before)) * HALF_BITS);
    if (limit < 0) continue;
    const found: Found = (halfBits, ref) => {
      const kind = ref % FORM_KINDS.length;
      const bits = halfBits / HALF_BITS + (before[kind] ?? 0);
      const id = (ref - kind) / FORM_KINDS.length;
      const known = least.get(id);
      if (bits <= limitBits && (known === undefined || bits < known)) least.set(id, bits);
    };
    for (const { direction, early } of plannedWalks(reading, limit)) {
      const list = index[direction];
      walk(list, letterRows(compile(reading, direction), longestName(list, direction), limit, early), found);
    }
  }
  return [...least].map(([id, bits]) => ({ id, bits })).sort((a, b) => a.bits - b.bits || a.id - b.id);
}

type Found = (halfBits: number, ref: number) => void;

function longestName(list: Uint8Array, direction: Direction): number {
  const longest = longestKey(list, direction);
  if (longest !== undefined) return longest;
  throw new HeldbyError('LEDGER_DAMAGED', 'The index of surnames cannot be read.', 'Run: heldby verify');
}

/**
 * Goes through the keys of a list. Rows of the letters that a key shares with the one before are kept; where a row is dead,
 * every key that shares those letters is passed over, a branch at a time.
 */
function walk(list: Uint8Array, rows: LetterRows, found: Found): void {
  const { letters } = rows;
  const length = list.length;
  let at = HEADER_BYTES;
  let value = 0;
  const number = (): number => {
    let byte = list[at++] as number;
    if (byte < 0x80) return byte;
    value = byte & 0x7f;
    for (let scale = 0x80; byte >= 0x80; scale *= 0x80) {
      byte = list[at++] as number;
      value += (byte & 0x7f) * scale;
    }
    return value;
  };
  let deadFrom = UNREACHED;
  while (at < length) {
    const shared = number();
    const further = number();
    const body = number();
    const branch = number();
    const end = at + body;
    if (shared >= deadFrom) {
      at = end + branch;
      continue;
    }
    deadFrom = UNREACHED;
    const depths = shared + further;
    for (let depth = shared + 1; depth <= depths; depth++) {
      letters[depth - 1] = number();
      fillRow(rows, depth);
      if (isDead(rows, depth)) {
        deadFrom = depth;
        break;
      }
    }
    if (deadFrom <= depths) {
      at = deadFrom === shared + 1 ? end + branch : end;
      continue;
    }
    const halfBits = costAt(rows, depths);
    if (halfBits < UNREACHED) while (at < end) found(halfBits, number());
    at = end;
  }
}
