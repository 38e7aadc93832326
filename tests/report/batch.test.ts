import { readdirSync, readFileSync, statSync, utimesSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { writeBatch } from '../../src/report/batch.ts';
import { temporaryFolder } from './ledgers.ts';

const file = (name: string, text: string) => ({ name, bytes: Buffer.from(text) });

test('in a folder that is made', () => {
  const folder = join(temporaryFolder(), 'a', 'b');
  expect(writeBatch(folder, [file('1.txt', 'one'), file('index.txt', 'all')])).toEqual({
    written: ['1.txt', 'index.txt'],
    unchanged: 0,
    finished: [],
  });
  expect(readFileSync(join(folder, '1.txt'), 'utf8')).toBe('one');
  expect(readdirSync(folder)).toHaveLength(2);
});

test('only what changed is written: the others keep their date', () => {
  const folder = temporaryFolder();
  writeBatch(folder, [file('1.txt', 'one'), file('2.txt', 'two')]);
  const old = new Date('2020-01-01');
  for (const name of readdirSync(folder)) utimesSync(join(folder, name), old, old);
  expect(writeBatch(folder, [file('1.txt', 'one'), file('2.txt', 'TWO')])).toEqual({
    written: ['2.txt'],
    unchanged: 1,
    finished: [],
  });
  expect(statSync(join(folder, '1.txt')).mtime).toEqual(old);
});

test('a lot whose report fails leaves the folder as it was', () => {
  const folder = temporaryFolder();
  writeBatch(folder, [file('1.txt', 'one')]);
  function* broken() {
    yield file('1.txt', 'ONE');
    throw new Error('unreadable');
  }
  expect(() => writeBatch(folder, broken())).toThrow('unreadable');
  expect(readFileSync(join(folder, '1.txt'), 'utf8')).toBe('one');
  expect(readdirSync(folder)).toEqual(['1.txt']);
});

test('nothing is put in its place before the last file has been made', () => {
  const folder = temporaryFolder();
  const seen: string[][] = [];
  function* files() {
    for (const name of ['1.txt', '2.txt', 'index.txt']) {
      seen.push(readdirSync(folder).filter((each) => !each.endsWith('.part')));
      yield file(name, name);
    }
  }
  writeBatch(folder, files());
  expect(seen).toEqual([[], [], []]);
  expect(readdirSync(folder).sort()).toEqual(['1.txt', '2.txt', 'index.txt']);
});
