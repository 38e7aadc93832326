import fc from 'fast-check';
import { expect, test } from 'vitest';
import { fileNames } from '../../src/report/file-names.ts';

test.each<[rule: string, reference: string, name: RegExp]>([
  ['a lot number', '214', /^214$/],
  ['an accession number', '2027.12-a', /^2027\.12-a$/],
  ['letters of any script', 'Größe', /^Größe$/],
  ['a slash', '1984/12', /^1984-12-[0-9a-f]{8}$/],
  ['a way out of the folder', '../../etc/passwd', /^etc-passwd-[0-9a-f]{8}$/],
  ['a way out with backslashes', '..\\..\\x', /^x-[0-9a-f]{8}$/],
  ['points alone', '..', /^lot-[0-9a-f]{8}$/],
  ['a hidden file', '.profile', /^profile-[0-9a-f]{8}$/],
  ['the name of a device', 'CON', /^CON-[0-9a-f]{8}$/],
  ['the name of the index', 'index', /^index-[0-9a-f]{8}$/],
  ['signs that cannot be seen', 'a\u202eb\u0000c', /^a-b-c-[0-9a-f]{8}$/],
  ['nothing', '', /^lot-[0-9a-f]{8}$/],
])('file name of %s', (_rule, reference, name) => expect(fileNames([reference])[0]).toMatch(name));

test('two references never have one name, on any disk', () => {
  const [a, b, c] = fileNames(['A1', 'a1', 'a 1']);
  expect(new Set([a, b, c].map((name) => name?.toLowerCase())).size).toBe(3);
});

test('a name never leaves the folder and never repeats', () =>
  fc.assert(
    fc.property(fc.uniqueArray(fc.string({ unit: 'binary', maxLength: 40 }), { maxLength: 12 }), (references) => {
      const names = fileNames(references);
      for (const name of names) expect(name).toMatch(/^[\p{L}\p{N}_][\p{L}\p{N}_.-]*$/u);
      expect(new Set(names.map((name) => name.toLowerCase())).size).toBe(names.length);
    }),
    { seed: 7, numRuns: 200 },
  ));

test('a long reference gives a name that a disk takes', () =>
  expect(Buffer.byteLength(fileNames(['漢'.repeat(500)])[0] ?? '')).toBeLessThan(250));
