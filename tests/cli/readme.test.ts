import { spawnSync } from 'node:child_process';
import { chmodSync, copyFileSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { delimiter, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { xlsxFile } from '../intake/xlsx-file.ts';
import { makePlace, type Place } from './heldby.ts';

const ROOT = resolve(import.meta.dirname, '../..');
const readme = readFileSync(resolve(ROOT, 'README.md'), 'utf8');

/** The blocks of a language below a heading. */
const blocks = (heading: string, language: string): string[] => {
  const section = readme.split(`\n## ${heading}\n`)[1]?.split('\n## ')[0] ?? '';
  return [...section.matchAll(new RegExp(`\`\`\`${language}\\n([\\s\\S]*?)\`\`\``, 'g'))].map(
    (block) => block[1] ?? '',
  );
};

/** The lines of the shell blocks below a heading. */
const shellLines = (heading: string): string[] => blocks(heading, 'sh').flatMap((block) => block.trim().split('\n'));

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

describe('the examples for scripts', () => {
  const EXAMPLES = resolve(ROOT, 'examples');
  const run = (line: string) => {
    const { status, stderr, stdout } = typed(`HELDBY_LEDGER=scripts.sqlite ${line}`);
    expect(`${line}: ${status} ${status === 0 ? '' : stderr}`.trim()).toBe(`${line}: 0`);
    return stdout;
  };
  const read = (name: string): string => readFileSync(place.path(name), 'utf8');
  beforeAll(() => {
    run('heldby init scripts.sqlite');
    for (const name of ['records.jsonl', 'lists.csv']) run(`heldby import ${resolve(EXAMPLES, name)}`);
  }, 120_000);

  test('every night: what is made, what is open, and what changed since it was sent', () => {
    const [night = ''] = blocks('For scripts', 'sh');
    writeFileSync(place.path('night.sh'), night);
    run('sh night.sh');
    expect(readdirSync(place.path('catalogue'))).toHaveLength(18);
    expect(read('catalogue/214.html')).toContain('The house has not opened the locks.');
    expect(read('unresolved.txt')).toContain('Unresolved: 214');
    expect(read('open.txt')).toContain('heldby lookups m1');
    expect(read('changed.txt').trim()).toBe('No lot reads otherwise.');
    expect(read('sent.act')).toBe('2\n');
    run('heldby amend 214 title "Brass-bound writing box" --why "measured again"');
    run('sh night.sh');
    expect(read('changed.txt')).toContain('Brass-bound writing box');
    expect(read('sent.act')).toBe('3\n');
  }, 240_000);

  test('a label for each lot, with Node', () => {
    const [labels = ''] = blocks('For scripts', 'js');
    writeFileSync(place.path('labels.mjs'), labels);
    run(`"${process.execPath}" labels.mjs`);
    const made: { lot: string; made: string; holder: string | null; open: string[] }[] = JSON.parse(
      read('labels.json'),
    );
    expect(made.map(({ lot }) => lot)).toEqual(['214', '221', '230', '238', '245']);
    expect(made[1]).toMatchObject({
      holder: 'almost certainly Thomas Marrick',
      open: expect.arrayContaining(['species']),
    });
  }, 120_000);

  test('with a spreadsheet: a sheet with a fault, the lots, the entries', () => {
    const head = ['series', 'edition', 'as_at', 'person', 'name', 'rank', 'corps', 'dated', 'page'];
    const line = (name: string, rank: string) => [
      'Annual List of the Coast Survey',
      '1834',
      '1834-01-01',
      name,
      name,
      rank,
      'Beacon Corps',
      '1 May 1833',
      12,
    ];
    writeFileSync(
      place.path('entries.xlsx'),
      xlsxFile({ entries: [head, line('Hugo Tarn', 'Lieut.'), line('Ivo Tarn', 'Lieutx')] }),
    );
    const [, sheet = ''] = blocks('For scripts', 'sh');
    for (const each of sheet.trim().split('\n')) typed(`HELDBY_LEDGER=scripts.sqlite ${each}`);
    expect(read('mend.csv')).toContain('Ivo Tarn');
    expect(read('lots.csv').split('\r\n')[0]).toMatch(/^ref,key,title,.*unresolved/);
    expect(read('all-entries.csv')).toContain('Hugo Tarn');
    expect(read('all-entries.csv')).not.toContain('Ivo Tarn');
  }, 120_000);
});
