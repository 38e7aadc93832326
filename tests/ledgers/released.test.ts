import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gunzipSync } from 'node:zlib';
import Database from 'better-sqlite3';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { LATEST_MIGRATION, migrations } from '../../src/ledger/migrate.ts';
import { openLedger } from '../../src/ledger/open.ts';
import { makePlace, type Place } from '../cli/heldby.ts';

const HERE = import.meta.dirname;
const formats = readdirSync(HERE).flatMap((name) => {
  const format = /^format-(\d+)\.ledger\.gz$/.exec(name)?.[1];
  return format === undefined ? [] : [Number(format)];
});
const ledgerOf = (format: number): Buffer => gunzipSync(readFileSync(join(HERE, `format-${format}.ledger.gz`)));

test('there is a ledger of each format', () =>
  expect(formats.sort((a, b) => a - b)).toEqual(Array.from({ length: LATEST_MIGRATION }, (_, at) => at + 1)));

describe.each(formats)('a ledger of format %i', (format) => {
  let place: Place;
  beforeAll(() => {
    place = makePlace();
    writeFileSync(place.path('heldby.sqlite'), ledgerOf(format));
  });
  afterAll(() => place.remove());

  test('is what the migrations up to its number make: none of them was changed since', () => {
    const made = new Database(':memory:');
    for (const { number, sql } of migrations()) if (number <= format) made.exec(sql);
    const folder = mkdtempSync(join(tmpdir(), 'heldby-test-'));
    writeFileSync(join(folder, 'l'), ledgerOf(format));
    const kept = new Database(join(folder, 'l'));
    const schema = (db: Database.Database): unknown[] =>
      db.prepare('SELECT type, name, sql FROM sqlite_schema ORDER BY type, name').all();
    expect(kept.pragma('user_version', { simple: true })).toBe(format);
    expect(schema(kept)).toEqual(schema(made));
    for (const db of [made, kept]) db.close();
    rmSync(folder, { recursive: true });
  });

  test('is brought to the present format when it is recorded in, with a copy beside it, and is sound', () => {
    openLedger(place.path('heldby.sqlite'), 'record').close();
    const copy = place.path(`heldby.sqlite.before-format-${LATEST_MIGRATION}`);
    expect(existsSync(copy)).toBe(format < LATEST_MIGRATION);
    if (format < LATEST_MIGRATION) {
      const [kept, given] = [copy, place.path('given')];
      writeFileSync(given, ledgerOf(format));
      const rows = (file: string): unknown[] => {
        const db = new Database(file, { readonly: true });
        const tables = db.prepare("SELECT name FROM sqlite_schema WHERE type = 'table' ORDER BY name").pluck().all();
        const all = [
          db.pragma('user_version', { simple: true }),
          ...tables.map((table) => db.prepare(`SELECT * FROM "${table}"`).raw().all()),
        ];
        db.close();
        return all;
      };
      expect(rows(kept)).toEqual(rows(given));
    }
    expect(place.json('verify')).toMatchObject({ sound: true });
  });

  // Answers may say more than they did, and the same of what they said.
  const answers = readFileSync(join(HERE, `format-${format}.answers.jsonl`), 'utf8')
    .trim()
    .split('\n')
    .map((line) => JSON.parse(line) as { words: string[]; answer: object });
  test.each(answers.map(({ words, answer }) => [words.join(' '), words, answer] as const))(
    'answers as it did: %s',
    (_said, words, answer) => {
      expect(place.json(...words)).toMatchObject(answer);
    },
  );
});
