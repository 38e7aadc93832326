import { lstatSync, mkdirSync, readdirSync, readFileSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { gathered, writeWhole } from '../../src/report/write-file.ts';
import { temporaryFolder } from './ledgers.ts';

const folder = temporaryFolder();
const at = (name: string) => join(folder, name);

test('a file is written whole', () => {
  writeWhole(at('a.txt'), ['one ', 'two ', Buffer.from('three')]);
  expect(readFileSync(at('a.txt'), 'utf8')).toBe('one two three');
});

test('when writing fails the old file stays, and nothing lies beside it', () => {
  writeFileSync(at('b.txt'), 'old');
  function* broken(): Iterable<string> {
    yield 'new'.repeat(50_000);
    throw new Error('broken');
  }
  expect(() => writeWhole(at('b.txt'), broken())).toThrow('broken');
  expect(readFileSync(at('b.txt'), 'utf8')).toBe('old');
  expect(readdirSync(folder).filter((name) => name.includes('part'))).toEqual([]);
});

test('a link is replaced, not what it points to', () => {
  writeFileSync(at('target.txt'), 'precious');
  symlinkSync(at('target.txt'), at('link.txt'));
  writeWhole(at('link.txt'), ['new']);
  expect(readFileSync(at('target.txt'), 'utf8')).toBe('precious');
  expect(lstatSync(at('link.txt')).isSymbolicLink()).toBe(false);
});

test('a place that cannot be written is said in words', () => {
  mkdirSync(at('d'));
  expect(() => writeWhole(at('none/a.txt'), ['x'])).toThrow('there is no such folder');
  expect(() => writeWhole(at('d'), ['x'])).toThrow('it is a folder');
});

test('pieces are gathered without a change', () => {
  const pieces = Array.from({ length: 999 }, (_, i) => 'é'.repeat(i % 300));
  expect(Buffer.concat([...gathered(pieces)]).toString('utf8')).toBe(pieces.join(''));
});
