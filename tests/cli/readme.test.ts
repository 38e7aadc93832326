import { spawnSync } from 'node:child_process';
import { chmodSync, copyFileSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { delimiter, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { makePlace, type Place } from './heldby.ts';

const ROOT = resolve(import.meta.dirname, '../..');
const readme = readFileSync(resolve(ROOT, 'README.md'), 'utf8');

/** The lines of the shell blocks below a heading. */
const shellLines = (heading: string): string[] => {
  const section = readme.split(`\n## ${heading}\n`)[1]?.split('\n## ')[0] ?? '';
  return [...section.matchAll(/```sh\n([\s\S]*?)```/g)].flatMap((block) => (block[1] ?? '').trim().split('\n'));
};

let place: Place;
let path: string;
beforeAll(() => {
  place = makePlace();
  mkdirSync(place.path('bin'));
  writeFileSync(
    place.path('bin/heldby'),
    `#!/bin/sh\nexec "${process.execPath}" "${resolve(ROOT, 'bin/heldby.js')}" "$@"\n`,
  );
  chmodSync(place.path('bin/heldby'), 0o755);
  path = `${place.path('bin')}${delimiter}${process.env['PATH'] ?? ''}`;
});
afterAll(() => place.remove());

const typed = (line: string) =>
  spawnSync('sh', ['-c', line], {
    cwd: place.folder,
    env: { ...process.env, PATH: path, HELDBY_LEDGER: '' },
    encoding: 'utf8',
  });

describe('the lines of the README', () => {
  test('a first ledger: every line is taken, and the last one answers', () => {
    const lines = shellLines('A first ledger in ten lines').slice(0, 10);
    expect(lines).toHaveLength(10);
    let out = '';
    for (const line of lines) {
      const ran = typed(line);
      expect(`${line}: ${ran.status} ${ran.status === 0 ? '' : ran.stderr}`.trim()).toBe(`${line}: 0`);
      out = ran.stdout;
    }
    expect(out).toContain('Julian Peter Ferrand');
    expect(out).toContain('somebody unrecorded');
    expect(typed('heldby tenures Ferrand --grounds').stdout).toContain('Lieutenant, 2nd Fencibles');
  });

  test('a colleague', () => {
    const lines = shellLines('A first ledger in ten lines').slice(13);
    expect(lines).toHaveLength(5);
    for (const line of lines) expect(`${line}: ${typed(line).status}`).toBe(`${line}: 0`);
    expect(typed(lines.at(-1) ?? '').stdout, 'all of it came from here').toMatch(/^Nothing new to record/);
  });

  test('files', () => {
    copyFileSync(resolve(ROOT, 'examples/records.jsonl'), place.path('records.jsonl'));
    copyFileSync(resolve(ROOT, 'examples/lists.csv'), place.path('lists.csv'));
    writeFileSync(place.path('roster.csv'), 'person_id,name,office,list,date\nx1,"Holt, Anne",Warden,1st,1834-01-01\n');
    const lines = shellLines('A first ledger in ten lines').slice(10, 13);
    expect(lines.map((line) => line.split(' ').slice(0, 3).join(' '))).toEqual([
      'heldby import lists.csv',
      'heldby import roster.csv',
      'heldby import records.jsonl',
    ]);
    expect(typed('heldby init files.sqlite').status).toBe(0);
    for (const line of [lines[2], lines[0], lines[1]])
      expect(typed(`HELDBY_LEDGER=files.sqlite ${line}`).stderr).not.toContain('heldby:');
  });
});
