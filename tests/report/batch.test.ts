import { readdirSync, readFileSync, statSync, utimesSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { writeBatch } from '../../src/report/batch.ts';
import { temporaryFolder } from './ledgers.ts';

const lot = (ref: string, text: string) => ({ ref, bytes: () => Buffer.from(text) });
const index = (files: readonly string[]) => [{ name: 'index.txt', bytes: Buffer.from(files.join('\n')) }];
const write = (folder: string, lots: ReturnType<typeof lot>[]) => writeBatch(folder, 'txt', lots, index);

test('one file a lot, and an index, in a folder that is made', () => {
  const folder = join(temporaryFolder(), 'a', 'b');
  expect(write(folder, [lot('1', 'one'), lot('2/3', 'two')])).toEqual({
    written: ['1.txt', expect.stringMatching(/^2-3-[0-9a-f]{8}\.txt$/), 'index.txt'],
    unchanged: 0,
  });
  expect(readFileSync(join(folder, '1.txt'), 'utf8')).toBe('one');
  expect(readdirSync(folder)).toHaveLength(3);
});

test('only what changed is written: the others keep their date', () => {
  const folder = temporaryFolder();
  write(folder, [lot('1', 'one'), lot('2', 'two')]);
  const old = new Date('2020-01-01');
  for (const name of readdirSync(folder)) utimesSync(join(folder, name), old, old);
  expect(write(folder, [lot('1', 'one'), lot('2', 'TWO')])).toEqual({ written: ['2.txt'], unchanged: 2 });
  expect(statSync(join(folder, '1.txt')).mtime).toEqual(old);
});

test('a lot whose report fails leaves what was there before', () => {
  const folder = temporaryFolder();
  write(folder, [lot('1', 'one')]);
  const broken = {
    ref: '2',
    bytes: (): Buffer => {
      throw new Error('unreadable');
    },
  };
  expect(() => writeBatch(folder, 'txt', [lot('1', 'ONE'), broken], index)).toThrow('unreadable');
  expect(readFileSync(join(folder, '1.txt'), 'utf8')).toBe('one');
});
