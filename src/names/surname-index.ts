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

/** The names that have a key, each as id · 4 + place in FORM_KINDS; most keys have one. */
type Refs = number | number[];

/** Both lists, of every form in which each name may stand in a reading. */
export function buildSurnameIndex(names: readonly IndexedSurname[]): SurnameIndex {
  const forward = new Map<string, Refs>();
  for (const { id, text } of names)
    for (const form of nameForms(foldName(text).slice(0, MOST_LETTERS))) {
      const ref = id * FORM_KINDS.length + FORM_KINDS.indexOf(form.kind);
      const refs = forward.get(form.text);
      if (refs === undefined) forward.set(form.text, ref);
      else if (typeof refs === 'number') forward.set(form.text, [refs, ref]);
      else refs.push(ref);
    }
  const backward = new Map<string, Refs>();
  for (const [text, refs] of forward) backward.set(reversed(text), refs);
  return { forward: written(forward, 'forward'), backward: written(backward, 'backward') };
}

/** Sizes of each key's entry in the list, in letters and bytes. */
type Sizes = {
  readonly shared: Uint8Array;
  readonly body: Int32Array;
  readonly branch: Int32Array;
  readonly total: number;
};

function reversed(text: string): string {
  let back = '';
  for (let at = text.length - 1; at >= 0; at--) back += text.charAt(at);
  return back;
}

function written(refsOfKey: ReadonlyMap<string, Refs>, direction: Direction): Uint8Array {
  const keys = [...refsOfKey.keys()].sort();
  const refs = keys.map((key) => refsOfKey.get(key) ?? []);
  const sizes = sizesOf(keys, refs);
  const writer = new Writer(HEADER_BYTES + sizes.total);
  writer.header(direction, keys);
  for (let index = 0; index < keys.length; index++) {
    const text = keys[index] as string;
    const from = sizes.shared[index] as number;
    writer.byte(from);
    writer.byte(text.length - from);
    writer.number(sizes.body[index] as number);
    writer.number(sizes.branch[index] as number);
    for (let at = from; at < text.length; at++) writer.number(codeAt(text, at));
    const ids = refs[index] as Refs;
    if (typeof ids === 'number') writer.number(ids);
    else for (const ref of ids) writer.number(ref);
  }
  return writer.bytes;
}

function sharedLetters(a: string, b: string): number {
  let count = 0;
  while (count < a.length && a.charCodeAt(count) === b.charCodeAt(count)) count++;
  return count;
}

/** `codeOf` without making a text of the letter. */
function codeAt(text: string, at: number): number {
  const code = text.charCodeAt(at);
  return code >= 97 && code <= 122 ? code - 96 : codeOf(text.charAt(at));
}

function numberBytes(value: number): number {
  let bytes = 1;
  for (let rest = value; rest >= 0x80; rest = Math.floor(rest / 0x80)) bytes++;
  return bytes;
}

/** From the last key to the first, for a branch is as long as the keys behind it are. */
function sizesOf(keys: readonly string[], refs: readonly Refs[]): Sizes {
  const count = keys.length;
  const shared = new Uint8Array(count);
  const body = new Int32Array(count);
  const branch = new Int32Array(count);
  const bytesToEnd = new Float64Array(count + 1);
  const ends = [count]; // the next keys, nearest last, each sharing fewer letters than the one before
  for (let index = 1; index < count; index++)
    shared[index] = sharedLetters(keys[index - 1] as string, keys[index] as string);
  for (let index = count - 1; index >= 0; index--) {
    const here = shared[index] as number;
    let end = ends[ends.length - 1] as number;
    while (end < count && (shared[end] as number) > here) {
      ends.pop();
      end = ends[ends.length - 1] as number;
    }
    ends.push(index);
    const behind = bytesToEnd[index + 1] as number;
    branch[index] = behind - (bytesToEnd[end] as number);
    body[index] = bodyBytes(keys[index] as string, here, refs[index] as Refs);
    const own = body[index] as number;
    bytesToEnd[index] = behind + 2 + numberBytes(own) + numberBytes(branch[index] as number) + own;
  }
  return { shared, body, branch, total: bytesToEnd[0] as number };
}

function bodyBytes(text: string, from: number, refs: Refs): number {
  let bytes = 0;
  for (let at = from; at < text.length; at++) bytes += numberBytes(codeAt(text, at));
  if (typeof refs === 'number') return bytes + numberBytes(refs);
  for (const ref of refs) bytes += numberBytes(ref);
  return bytes;
}

class Writer {
  readonly bytes: Uint8Array;
  private at = 0;

  constructor(length: number) {
    this.bytes = new Uint8Array(length);
  }

  header(direction: Direction, keys: readonly string[]): void {
    this.bytes.set([...MAGIC, SURNAME_INDEX_VERSION, direction === 'forward' ? 0 : 1]);
    let longest = 0;
    for (const key of keys) if (key.length > longest) longest = key.length;
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
