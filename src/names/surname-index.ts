import { codeOf, type Direction } from './letter-costs.ts';
import { FORM_KINDS, nameForms } from './name-forms.ts';
import { foldName } from './pattern.ts';

/**
 * A list of surnames in one block of bytes, sorted and front-coded, so that a search can leave out a whole branch at the
 * first letters that do not fit, without making an object for any name.
 *
 * Header: `HBSN`, version, direction (0 forward, 1 backward), then as four bytes each, lowest first, the number of keys and
 * the length of the longest. Then the keys in order, each as
 * `shared` letters of the key before and number of `further` letters, a byte each; bytes of its own body and bytes of its
 * `branch` (the keys that follow and share more than `shared` letters); the further letters; and the names that have the
 * key, each as id · 4 + place in FORM_KINDS. All but the first two are numbers of seven bits a byte, lowest first.
 * The backward list has the letters of each key in the other order, for readings that begin with a gap.
 */
export const SURNAME_INDEX_VERSION = 1;

export const HEADER_BYTES = 14;
const MAGIC = [0x48, 0x42, 0x53, 0x4e];

export type SurnameIndex = { readonly forward: Uint8Array; readonly backward: Uint8Array };

/** A printed surname and the number it is known by, 0 to 2^28. */
export type IndexedSurname = { readonly id: number; readonly text: string };

/** What is searched of a longer name. */
const MOST_LETTERS = 255;

type Key = { readonly text: string; readonly refs: number[] };

/** Both lists, of every form in which each name may stand in a reading. */
export function buildSurnameIndex(names: readonly IndexedSurname[]): SurnameIndex {
  const byText = new Map<string, number[]>();
  for (const { id, text } of names)
    for (const form of nameForms(foldName(text).slice(0, MOST_LETTERS))) {
      const ref = id * FORM_KINDS.length + FORM_KINDS.indexOf(form.kind);
      const refs = byText.get(form.text);
      if (refs === undefined) byText.set(form.text, [ref]);
      else refs.push(ref);
    }
  const keys: Key[] = [...byText].map(([text, refs]) => ({ text, refs }));
  const backward = keys.map(({ text, refs }) => ({ text: text.split('').reverse().join(''), refs }));
  return { forward: written(keys, 'forward'), backward: written(backward, 'backward') };
}

const byKey = (a: Key, b: Key): number => (a.text < b.text ? -1 : 1);

function written(keys: Key[], direction: Direction): Uint8Array {
  const sorted = [...keys].sort(byKey);
  const shared = sorted.map(({ text }, index) => sharedLetters(sorted[index - 1]?.text ?? '', text));
  const body = sorted.map(({ text, refs }, index) => bodyBytes(text, shared[index] ?? 0, refs));
  const branch = branchBytes(sorted, shared, body);
  const total = sorted.reduce((sum, _key, index) => {
    const own = body[index] ?? 0;
    return sum + headBytes(own, branch[index] ?? 0) + own;
  }, HEADER_BYTES);
  const writer = new Writer(total);
  writer.header(direction, sorted);
  for (const [index, { text, refs }] of sorted.entries()) {
    const from = shared[index] ?? 0;
    writer.byte(from);
    writer.byte(text.length - from);
    writer.number(body[index] ?? 0);
    writer.number(branch[index] ?? 0);
    for (let at = from; at < text.length; at++) writer.number(codeOf(text.charAt(at)));
    for (const ref of refs) writer.number(ref);
  }
  return writer.bytes;
}

function sharedLetters(a: string, b: string): number {
  let count = 0;
  while (count < a.length && a.charCodeAt(count) === b.charCodeAt(count)) count++;
  return count;
}

const numberBytes = (value: number): number => {
  let bytes = 1;
  for (let rest = value; rest >= 0x80; rest = Math.floor(rest / 0x80)) bytes++;
  return bytes;
};

function bodyBytes(text: string, from: number, refs: readonly number[]): number {
  let bytes = 0;
  for (let at = from; at < text.length; at++) bytes += numberBytes(codeOf(text.charAt(at)));
  for (const ref of refs) bytes += numberBytes(ref);
  return bytes;
}

const headBytes = (body: number, branch: number): number => 2 + numberBytes(body) + numberBytes(branch);

/** Bytes of the keys behind each key that share more than its `shared` letters; from the last key to the first. */
function branchBytes(keys: readonly Key[], shared: readonly number[], body: readonly number[]): number[] {
  const branch = new Array<number>(keys.length).fill(0);
  const bytesToEnd = new Array<number>(keys.length + 1).fill(0);
  const ends: number[] = [keys.length]; // the next keys, nearest last, each sharing fewer letters than the one before
  for (let index = keys.length - 1; index >= 0; index--) {
    const here = shared[index] ?? 0;
    let end = ends.at(-1) ?? keys.length;
    while (end < keys.length && (shared[end] ?? 0) > here) {
      ends.pop();
      end = ends.at(-1) ?? keys.length;
    }
    ends.push(index);
    const behind = bytesToEnd[index + 1] ?? 0;
    branch[index] = behind - (bytesToEnd[end] ?? 0);
    const own = body[index] ?? 0;
    bytesToEnd[index] = behind + headBytes(own, branch[index] ?? 0) + own;
  }
  return branch;
}

class Writer {
  readonly bytes: Uint8Array;
  private at = 0;

  constructor(length: number) {
    this.bytes = new Uint8Array(length);
  }

  header(direction: Direction, keys: readonly Key[]): void {
    this.bytes.set([...MAGIC, SURNAME_INDEX_VERSION, direction === 'forward' ? 0 : 1]);
    const longest = keys.reduce((most, { text }) => Math.max(most, text.length), 0);
    const view = new DataView(this.bytes.buffer);
    view.setUint32(6, keys.length, true);
    view.setUint32(10, longest, true);
    this.at = HEADER_BYTES;
  }

  byte(value: number): void {
    this.bytes[this.at++] = value;
  }

  number(value: number): void {
    let rest = value;
    for (; rest >= 0x80; rest = Math.floor(rest / 0x80)) this.bytes[this.at++] = (rest % 0x80) | 0x80;
    this.bytes[this.at++] = rest;
  }
}

/** The number of letters of the longest key, or undefined where the bytes are no index of this version and direction. */
export function longestKey(list: Uint8Array, direction: Direction): number | undefined {
  const isOurs = list.length >= HEADER_BYTES && MAGIC.every((byte, index) => list[index] === byte);
  if (!isOurs || list[4] !== SURNAME_INDEX_VERSION || list[5] !== (direction === 'forward' ? 0 : 1)) return undefined;
  return new DataView(list.buffer, list.byteOffset, list.byteLength).getUint32(10, true);
}
