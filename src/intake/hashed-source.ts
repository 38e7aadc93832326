import { createHash } from 'node:crypto';
import { readSync } from 'node:fs';
import type { ByteSource } from './csv-bytes.ts';

/** Reads an open file in pieces and hashes what it reads. */
export function hashedSource(descriptor: number): { readonly read: ByteSource; readonly hash: () => string } {
  const hash = createHash('sha256');
  return {
    read: (buffer) => {
      const got = readSync(descriptor, buffer, 0, buffer.length, null);
      hash.update(buffer.subarray(0, got));
      return got;
    },
    hash: () => hash.digest('hex'),
  };
}
