import { createHash } from 'node:crypto';
import { readFileSync, statSync } from 'node:fs';

/** The copy of a picture that is kept beside the ledger, and the SHA-256 that its bytes had. */
export type KeptPhotograph = { readonly path: string; readonly sha256: string };

/** One page holds no more than this, so that a browser opens it and a mailbox takes it. */
const MOST_BYTES_A_PAGE = 96 << 20;

/** What browsers show, by the first bytes of the file, in hexadecimal. */
const TYPES: readonly { readonly begins: RegExp; readonly type: string }[] = [
  { begins: /^ffd8ff/, type: 'image/jpeg' },
  { begins: /^89504e470d0a1a0a/, type: 'image/png' },
  { begins: /^474946383[79]61/, type: 'image/gif' },
  { begins: /^52494646.{8}57454250/, type: 'image/webp' },
];

/**
 * Photographs as they stand within one page: nothing is fetched from elsewhere.
 * @returns for each the data of its address; undefined where it is lost or changed, no picture that a browser shows, or
 * too much for the page.
 */
export function embeddedPhotographs(): (kept: KeptPhotograph) => string | undefined {
  let room = MOST_BYTES_A_PAGE;
  return ({ path, sha256 }) => {
    let bytes: Buffer;
    try {
      if (statSync(path).size > room) return undefined;
      bytes = readFileSync(path);
    } catch {
      return undefined; // what is lost is told by heldby verify
    }
    const first = bytes.subarray(0, 12).toString('hex');
    const type = TYPES.find(({ begins }) => begins.test(first))?.type;
    if (type === undefined || createHash('sha256').update(bytes).digest('hex') !== sha256) return undefined;
    room -= bytes.length;
    return `data:${type};base64,${bytes.toString('base64')}`;
  };
}
