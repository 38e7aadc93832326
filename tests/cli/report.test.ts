import { createHash } from 'node:crypto';
import { copyFileSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { SMALL } from '../report/ledgers.ts';
import { makePlace, type Place } from './heldby.ts';

let place: Place;
let other: Place;
beforeAll(() => {
  place = makePlace();
  other = makePlace();
  place.run('init');
  writeFileSync(place.path('small.jsonl'), SMALL.map((line) => JSON.stringify(line)).join('\n'));
  place.json('import', 'small.jsonl');
  copyFileSync(place.path('heldby.sqlite'), other.path('heldby.sqlite'));
});
afterAll(() => {
  place.remove();
  other.remove();
});

/** What a folder holds, file by file. */
const hashesIn = (folder: string): Record<string, string> =>
  Object.fromEntries(
    readdirSync(folder)
      .sort()
      .map((name) => [
        name,
        createHash('sha256')
          .update(readFileSync(join(folder, name)))
          .digest('hex'),
      ]),
  );

describe('two runs give the same bytes, in two folders, time zones and languages', () => {
  test.each(['text', 'markdown', 'html', 'csv', 'json', 'docx'])('%s', (format) => {
    const run = (where: Place, env: Record<string, string>): Record<string, string> => {
      const { status, err } = where.with({ env }, 'report', '--all', '--format', format, '--out', `out-${format}`);
      expect(err).toBe('');
      expect(status).toBe(0);
      return hashesIn(where.path(`out-${format}`));
    };
    const here = run(place, { TZ: 'Pacific/Auckland', LC_ALL: 'tr_TR.UTF-8', LANG: 'tr_TR.UTF-8' });
    const there = run(other, { TZ: 'America/Los_Angeles', LC_ALL: 'C', LANG: 'C' });
    expect(here).toEqual(there);
    expect(Object.keys(here)).toHaveLength(2);
  });

  test('exports, too', () => {
    for (const words of [['--all'], ['--all', '--acts'], ['objects', '--format', 'linked-art']]) {
      const [here, there] = [
        place.with({ env: { TZ: 'Asia/Tokyo', LC_ALL: 'de_DE.UTF-8' } }, 'export', ...words),
        other.with({ env: { TZ: 'UTC', LC_ALL: 'C' } }, 'export', ...words),
      ];
      expect(here.status).toBe(0);
      expect(here.out).toBe(there.out);
    }
  });
});

describe('report', () => {
  test('on standard output, nothing but the report', () => {
    const { status, out, err } = place.run('report', '214');
    expect([status, err]).toEqual([0, '']);
    expect(out).toMatch(/^214\. Brass-bound writing slope\n=+\n/);
    expect(out).toMatch(/\nheldby \S+; act 1 of the ledger, [^\n]+\.\n$/);
  });

  test('--strict: exit status 6, and which lots', () => {
    const { status, err } = place.run('report', '--all', '--strict', '--open');
    expect(status).toBe(6);
    expect(err).toContain('Unresolved: 214');
  });

  test('--strict with a style by which nothing counts', () => {
    writeFileSync(place.path('easy.json'), '{"unresolved":[]}');
    expect(place.run('report', '214', '--strict', '--style', 'easy.json').status).toBe(0);
  });

  test('a style beside which lies a file of phrases', () => {
    mkdirSync(place.path('house'), { recursive: true });
    writeFileSync(place.path('house/style.json'), '{"language":"words.json"}');
    writeFileSync(place.path('house/words.json'), '{"section.marks":"Inscriptions"}');
    expect(place.run('report', '214', '--style', 'house/style.json').out).toContain('\nInscriptions\n');
  });

  test.each<[what: string, status: number, message: string, words: string[]]>([
    ['neither objects nor --all', 2, 'Say which objects', ['report']],
    ['a format that there is none of', 2, 'no format "pdf"', ['report', '214', '--format', 'pdf']],
    ['an object that there is none of', 3, '999', ['report', '999']],
    ['a style that is not there', 2, 'none.json cannot be read', ['report', '214', '--style', 'none.json']],
    ['a document for word processors without a folder', 2, 'Say where', ['report', '214', '--format', 'docx']],
    ['a place that cannot be written', 5, 'cannot be written', ['report', '214', '--out', 'small.jsonl/x']],
    ['an act that there is none of', 3, 'no act 99', ['report', '214', '--as-of', '99']],
  ])('%s', (_what, status, message, words) => {
    const ran = place.run(...words);
    expect(ran.err).toContain(message);
    expect([ran.status, ran.out]).toEqual([status, '']);
  });

  test('--style-keys explains every key', () => {
    const { out } = place.run('report', '--style-keys');
    for (const key of ['circa', 'order', 'degrees', 'seenTo']) expect(out).toMatch(new RegExp(`^${key}$`, 'm'));
  });
});

describe('timeline, changes, export and import through the command', () => {
  test('timeline draws, and does not replace unasked', () => {
    expect(place.run('timeline', '214', '--svg', 'a.svg').status).toBe(0);
    expect(readFileSync(place.path('a.svg'), 'utf8')).toMatch(/^<svg [^>]*role="img"/);
    expect(place.run('timeline', '214', '--svg', 'a.svg').status).toBe(4);
    expect(place.run('timeline', '214').out).toContain('Who fits mark 1, and when');
  });

  test('what differs since an act, in words', () => {
    const later = makePlace();
    copyFileSync(place.path('heldby.sqlite'), later.path('heldby.sqlite'));
    later.run('amend', 'n1', 'source', 'Gazette, p. 48', '--why', 'misread');
    expect(later.run('report', '214', '--since', '1').out).toContain('Note: ');
    expect(later.run('changes', '1', '2').out).toMatch(/- n1 changed: .*\n/);
    expect(later.run('report', '214', '--as-of', '1').out).toBe(place.run('report', '214').out);
    later.remove();
  });

  test('a history is written and read into an empty ledger', () => {
    const again = makePlace();
    again.run('init');
    writeFileSync(again.path('history.jsonl'), place.run('export', '--all', '--acts').out);
    expect(again.run('import', 'history.jsonl').out).toMatch(/^Recorded again: 1 acts, \d+ records/);
    expect(again.run('report', '214').out).toBe(place.run('report', '214').out);
    again.remove();
  });

  test('CSV of every kind needs a folder', () => {
    expect(place.run('export', '--all', '--format', 'csv').status).toBe(2);
    expect(place.run('export', '--all', '--format', 'csv', '--out', 'sheets').status).toBe(0);
    expect(readdirSync(place.path('sheets'))).toContain('entries.csv');
  });
});

describe('a batch that several threads work out', () => {
  const LOTS = 24;
  const refs = Array.from({ length: LOTS }, (_, lot) => `T${lot + 1}`);
  beforeAll(() => {
    const marks = ['Lieut. J. Ferrand', 'J. P. Ferr[..]d', 'Capt. Ferrand', 'N. Nobody'];
    const lines = refs.flatMap((ref, lot) => [
      { type: 'object', key: ref, ref, title: 'Slope' },
      { type: 'feature', object: ref, text: 'screws', window: `${1800 + lot}/1840`, force: 'usual' },
      { type: 'mark', object: ref, text: marks[lot % marks.length], role: 'owner' },
    ]);
    writeFileSync(place.path('lots.jsonl'), lines.map((line) => JSON.stringify(line)).join('\n'));
    place.json('import', 'lots.jsonl');
  });

  test('says of each lot what is said of it alone', () => {
    expect(place.run('report', ...refs, '--out', 'many').status).toBe(0);
    for (const ref of [...refs.slice(0, 2), ...refs.slice(-2)]) {
      expect(place.run('report', ref, '--out', `alone-${ref}`).status).toBe(0);
      expect(hashesIn(place.path('many'))[`${ref}.txt`]).toBe(hashesIn(place.path(`alone-${ref}`))[`${ref}.txt`]);
    }
  });

  test('tells of a past state as it was', () => {
    const { id } = place.json('history', '--limit', '1').acts[0];
    place.json('feature', 'add', 'T3', 'drawer bottoms', '--window', '1835/1845', '--force', 'usual');
    expect(place.run('report', ...refs, '--out', 'past', '--as-of', String(id)).status).toBe(0);
    const { 'index.txt': _then, ...then } = hashesIn(place.path('past'));
    const { 'index.txt': _many, ...before } = hashesIn(place.path('many'));
    expect(then).toEqual(before);
  });
});
