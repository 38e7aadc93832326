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
 * every key that shares those letters is passed over, a branch at a time. Numbers of one byte are read in place: a search
 * in a new process runs before anything is compiled, and calls are what costs most then.
 */
function walk(list: Uint8Array, rows: LetterRows, found: Found): void {
  const { letters } = rows;
  const reader = new Reader(list);
  const length = list.length;
  let deadFrom = UNREACHED;
  for (let at = HEADER_BYTES; at < length; ) {
    const shared = list[at++] as number;
    const depths = shared + (list[at++] as number);
    let body = list[at++] as number;
    if (body >= MORE) {
      body = reader.from(at - 1);
      at = reader.at;
    }
    let branch = list[at++] as number;
    if (branch >= MORE) {
      branch = reader.from(at - 1);
      at = reader.at;
    }
    const end = at + body;
    if (shared >= deadFrom) {
      at = end + branch;
      continue;
    }
    deadFrom = UNREACHED;
    for (let depth = shared + 1; depth <= depths; depth++) {
      let letter = list[at++] as number;
      if (letter >= MORE) {
        letter = reader.from(at - 1);
        at = reader.at;
      }
      letters[depth - 1] = letter;
      fillRow(rows, depth);
      if (isDead(rows, depth)) {
        deadFrom = depth;
        break;
      }
    }
    const halfBits = deadFrom === UNREACHED ? costAt(rows, depths) : UNREACHED;
    if (halfBits < UNREACHED) for (reader.at = at; reader.at < end; ) found(halfBits, reader.from(reader.at));
    at = deadFrom === shared + 1 ? end + branch : end;
  }
}

/** A byte from here on has more behind it. */
const MORE = 0x80;

class Reader {
  at = 0;
  private readonly list: Uint8Array;

  constructor(list: Uint8Array) {
    this.list = list;
  }

  /** The number that begins there; `at` is behind it afterwards. */
  from(start: number): number {
    let at = start;
    let byte = this.list[at++] as number;
    let value = byte & 0x7f;
    for (let scale = MORE; byte >= MORE; scale *= MORE) {
      byte = this.list[at++] as number;
      value += (byte & 0x7f) * scale;
    }
    this.at = at;
    return value;
  }
}
