import { createHash } from 'node:crypto';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { describePhoto, keepPhoto, photoPath } from '../../src/ledger/photos.ts';

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'heldby-test-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const place = (name: string) => join(folder, name);
const picture = (name: string, bytes: string | Buffer): string => {
  writeFileSync(place(name), bytes);
  return place(name);
};

test('a copy lies under the hash of its bytes, whole', () => {
  const bytes = Buffer.alloc(3 << 20, 'flap');
  const sha256 = createHash('sha256').update(bytes).digest('hex');
  expect(keepPhoto(place('l.sqlite'), picture('flap.jpg', bytes))).toEqual({
    file: 'flap.jpg',
    sha256,
    bytes: 3 << 20,
  });
  expect(photoPath(place('l.sqlite'), sha256)).toBe(
    join(folder, 'l.sqlite.photos', sha256.slice(0, 2), sha256.slice(2)),
  );
  expect(readFileSync(photoPath(place('l.sqlite'), sha256)).equals(bytes)).toBe(true);
});
test('the same picture under two names is kept once, and nothing else is left', () => {
  const { sha256 } = keepPhoto(place('l.sqlite'), picture('a.jpg', 'slope'));
  expect(keepPhoto(place('l.sqlite'), picture('b.jpg', 'slope'))).toEqual({ file: 'b.jpg', sha256, bytes: 5 });
  expect(readdirSync(join(place('l.sqlite.photos'), sha256.slice(0, 2)))).toEqual([sha256.slice(2)]);
});
test('a copy that was spoiled is mended by the picture', () => {
  const { sha256 } = keepPhoto(place('l.sqlite'), picture('a.jpg', 'slope'));
  writeFileSync(photoPath(place('l.sqlite'), sha256), 'spoilt');
  keepPhoto(place('l.sqlite'), place('a.jpg'));
  expect(readFileSync(photoPath(place('l.sqlite'), sha256), 'utf8')).toBe('slope');
});
test.each<[what: string, make: () => string, says: string]>([
  ['no such file', () => place('none.jpg'), 'There is no file'],
  ['a folder', () => folder, 'is a folder'],
  ['an empty file', () => picture('empty.jpg', ''), 'is empty'],
])('refused: %s', (_what, make, says) => expect(() => describePhoto(make())).toThrow(says));
test('where no copy can be kept, nothing is left', () => {
  writeFileSync(place('l.sqlite.photos'), 'in the way');
  expect(() => keepPhoto(place('l.sqlite'), picture('a.jpg', 'slope'))).toThrow('No copy of a.jpg can be kept');
  expect(existsSync(place('l.sqlite.photos'))).toBe(true);
});
