/**
 * A check of 32 bits over the cells of one row: it tells which row of an act is other than it was, where the act's hash
 * tells that one is. No protection by itself.
 * @see Fowler, G., Noll, L. C., Vo, K.-P. and Eastlake, D., The FNV Non-Cryptographic Hash Algorithm (Internet-Draft
 *   draft-eastlake-fnv): FNV-1a, 32 bits.
 */
export const NO_CELLS = 0x811c9dc5 | 0;
const PRIME = 0x01000193;

const withOctet = (check: number, octet: number): number => Math.imul(check ^ octet, PRIME);

/** @param value of 32 bits, the least octet first. */
export const withInteger = (check: number, value: number): number =>
  withOctet(
    withOctet(withOctet(withOctet(check, value & 255), (value >>> 8) & 255), (value >>> 16) & 255),
    value >>> 24,
  );

const double = new Float64Array(1);
const halves = new Int32Array(double.buffer);

/** Any number, as its 64 bits. */
export function withNumber(check: number, value: number): number {
  double[0] = value;
  return withInteger(withInteger(check, halves[0] as number), halves[1] as number);
}

/** Its length, and each code unit as two octets. */
export function withText(check: number, text: string): number {
  let out = withInteger(check, text.length);
  for (let at = 0; at < text.length; at += 1) {
    const unit = text.charCodeAt(at);
    out = withOctet(withOctet(out, unit & 255), unit >>> 8);
  }
  return out;
}

export function withBytes(check: number, bytes: Uint8Array): number {
  let out = check;
  for (const octet of bytes) out = withOctet(out, octet);
  return out;
}

function checkIntegers(values: Int32Array, width: number, out: Int32Array): void {
  for (let row = 0, at = 0; row < out.length; row += 1) {
    let check = NO_CELLS;
    for (const end = at + width; at < end; at += 1) check = withInteger(check, values[at] as number);
    out[row] = check;
  }
}

/** Checks of many rows, in their order. */
export class RowChecks {
  length = 0;
  #checks = new Int32Array(16);

  add(check: number): void {
    this.#roomFor(1);
    this.#checks[this.length++] = check;
  }

  /** Rows that are made of integers only, `width` of them a row. */
  addIntegers(values: Int32Array, width: number): void {
    const rows = values.length / width;
    this.#roomFor(rows);
    checkIntegers(values, width, this.#checks.subarray(this.length, this.length + rows));
    this.length += rows;
  }

  #roomFor(rows: number): void {
    if (this.length + rows <= this.#checks.length) return;
    const more = new Int32Array(Math.max(this.#checks.length * 2, this.length + rows));
    more.set(this.#checks);
    this.#checks = more;
  }

  /** Counts something more into the last row. */
  amend(more: (check: number) => number): void {
    this.#checks[this.length - 1] = more(this.#checks[this.length - 1] as number);
  }

  values(): Int32Array {
    return this.#checks.subarray(0, this.length);
  }
}

/** A row that is not the one sealed. `at`: its place among the rows there; of a missing one, that of the row behind it. */
export type Parting = { readonly is: 'changed' | 'missing' | 'added'; readonly at: number };

/** Rows that are not those sealed, one by one: behind rows that are missing or were added, the others are compared again. */
export function partings(sealed: Int32Array, there: Int32Array): Parting[] {
  const found: Parting[] = [];
  let [s, t] = [0, 0];
  while (s < sealed.length || t < there.length) {
    if (s < sealed.length && t < there.length && sealed[s] === there[t]) {
      s += 1;
      t += 1;
      continue;
    }
    const surplus = sealed.length - s - (there.length - t);
    const missing = surplus > 0 ? stepsTo(sealed, s, there[t], surplus) : 0;
    const added = surplus < 0 ? stepsTo(there, t, sealed[s], -surplus) : 0;
    for (let i = 0; i < missing; i += 1) found.push({ is: 'missing', at: t });
    for (let i = 0; i < added; i += 1) found.push({ is: 'added', at: t + i });
    if (missing + added === 0) found.push({ is: 'changed', at: t });
    s += added > 0 ? 0 : Math.max(1, missing);
    t += missing > 0 ? 0 : Math.max(1, added);
  }
  return found;
}

/** How many values further on the wanted one comes, 0 if it does not within so many; where none is wanted, all of them. */
function stepsTo(values: Int32Array, from: number, wanted: number | undefined, most: number): number {
  if (wanted === undefined) return most;
  const at = values.subarray(from + 1, from + 1 + most).indexOf(wanted);
  return at + 1;
}
