import { mkdirSync, readdirSync, readFileSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { writeBatch } from '../../src/report/batch.ts';
import { newSet, putInPlace } from '../../src/report/file-set.ts';
import { temporaryFolder } from './ledgers.ts';

const all = (folder: string) =>
  Object.fromEntries(readdirSync(folder).map((name) => [name, readFileSync(join(folder, name), 'utf8')]));

/** A folder with a set that was completed, and not put in place. */
function completed(files: Readonly<Record<string, string>>): string {
  const folder = temporaryFolder();
  const set = newSet(folder);
  for (const [name, text] of Object.entries(files)) set.add(name, Buffer.from(text));
  set.complete();
  return folder;
}

test('a complete set is put in place by whoever comes next, and told of', () => {
  const folder = completed({ 'index.txt': 'all', '1.txt': 'one', '2.txt': 'two' });
  expect(readdirSync(folder)).toEqual(['.heldby-complete']);
  const result = writeBatch(folder, [{ name: '1.txt', bytes: Buffer.from('one') }]);
  expect(result).toEqual({ written: [], unchanged: 1, finished: ['1.txt', '2.txt', 'index.txt'] });
  expect(all(folder)).toEqual({ '1.txt': 'one', '2.txt': 'two', 'index.txt': 'all' });
});

test('indexes come last, whatever lots are called', () => {
  const names = ['index.html', 'zebra.html', 'index.csv', 'index-1.html', 'a.csv'];
  const folder = completed(Object.fromEntries(names.map((name) => [name, name])));
  expect(putInPlace(folder)).toEqual(['a.csv', 'index-1.html', 'zebra.html', 'index.csv', 'index.html']);
  expect(putInPlace(folder)).toEqual([]);
});

test('what another run completed meanwhile goes before', () => {
  const folder = completed({ '1.txt': 'earlier', '2.txt': 'earlier' });
  const set = newSet(folder);
  set.add('1.txt', Buffer.from('later'));
  set.complete();
  expect(readFileSync(join(folder, '1.txt'), 'utf8')).toBe('earlier');
  putInPlace(folder);
  expect(all(folder)).toEqual({ '1.txt': 'later', '2.txt': 'earlier' });
});

test('a folder where a file belongs is met before anything is put in place', () => {
  const folder = temporaryFolder();
  mkdirSync(join(folder, '2.txt'));
  const files = ['1.txt', '2.txt'].map((name) => ({ name, bytes: Buffer.from(name) }));
  expect(() => writeBatch(folder, files)).toThrow(/2\.txt cannot be written: something else has that name/);
  expect(readdirSync(folder)).toEqual(['2.txt']);
});

test('what has the name of a complete set and is none is left alone', () => {
  for (const put of [
    (path: string) => symlinkSync(temporaryFolder(), path),
    (path: string) => writeFileSync(path, ''),
    (path: string) => mkdirSync(join(path, 'folder'), { recursive: true }),
  ]) {
    const folder = temporaryFolder();
    put(join(folder, '.heldby-complete'));
    expect(() => writeBatch(folder, [])).toThrow(/\.heldby-complete cannot be written: something else has that name/);
    expect(readdirSync(folder)).toEqual(['.heldby-complete']);
  }
});
