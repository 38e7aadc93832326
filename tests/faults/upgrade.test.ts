import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { gunzipSync } from 'node:zlib';
import Database from 'better-sqlite3';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { LATEST_MIGRATION } from '../../src/ledger/migrate.ts';
import { makePlace, type Place } from '../cli/heldby.ts';
import { errorIn } from '../cli/refusals.ts';
import { discard, started, wait, withoutRoom } from './under-fault.ts';

const FIRST = gunzipSync(readFileSync(join(import.meta.dirname, '../ledgers/format-1.ledger.gz')));
const COPY = `heldby.sqlite.before-format-${LATEST_MIGRATION}`;

let place: Place;
beforeEach(() => {
  place = makePlace();
});
afterEach(() => place.remove());

/** A ledger of the first format, and nothing beside it. */
function fresh(): void {
  discard(place, ...readdirSync(place.folder));
  writeFileSync(place.path('heldby.sqlite'), FIRST);
}

/** What a file holds, whatever its format: every row of every act, by what seals them. */
function holds(name: string): { format: number; seals: unknown[]; entries: number; sound: string } {
  const db = new Database(place.path(name));
  const found = {
    format: db.pragma('user_version', { simple: true }) as number,
    seals: db.prepare('SELECT act_id, row_count, hex(hash) FROM seal ORDER BY act_id').raw().all(),
    entries: db.prepare('SELECT count(*) FROM entry').pluck().get() as number,
    sound: db.pragma('integrity_check', { simple: true }) as string,
  };
  db.close();
  return found;
}

/** The ledger is as it was, or upgraded whole; and whatever has the name of a copy is one, whole, of it as it was. */
function expectWhole(was: ReturnType<typeof holds>): 'as it was' | 'upgraded' {
  const copies = readdirSync(place.folder).filter((name) => /before-format-\d+(?:-\d+)?$/.test(name));
  for (const copy of copies) expect(holds(copy)).toEqual(was);
  const now = holds('heldby.sqlite');
  expect({ ...now, format: 0 }).toEqual({ ...was, format: 0 });
  expect([was.format, LATEST_MIGRATION]).toContain(now.format);
  if (now.format === was.format) return 'as it was';
  expect(copies).toContain(COPY);
  return 'upgraded';
}

test('where no file can grow beyond any size: the ledger as it was or upgraded, and no half of a copy', () => {
  fresh();
  const was = holds('heldby.sqlite');
  expect(was).toMatchObject({ format: 1, sound: 'ok' });
  const wholeKib = Math.ceil(FIRST.length / 1024);
  const seen = new Set<string>();
  const sizes = [0, 1, 4, 16, 40, 100, wholeKib - 60, wholeKib - 4, wholeKib, wholeKib + 40, wholeKib * 3];
  for (const kib of sizes.filter((each) => each >= 0)) {
    fresh();
    const ran = withoutRoom(place, kib, 'upgrade', '--json');
    const state = expectWhole(was);
    seen.add(state);
    if (state === 'as it was')
      expect([ran.status, ran.out, errorIn(ran).code], `${kib} KiB`).toEqual([5, '', 'CANNOT_WRITE']);
    else expect(ran.status, `${kib} KiB`).toBe(0);
    expect(place.run('upgrade').status, `${kib} KiB, then room`).toBe(0);
    expect(expectWhole(was)).toBe('upgraded');
    expect(readdirSync(place.folder).filter((name) => /\.part/.test(name))).toEqual([]);
  }
  expect([...seen].sort()).toEqual(['as it was', 'upgraded']);
  expect(place.run('verify').status).toBe(0);
}, 240_000);

test('killed at any moment: the same', { timeout: 240_000 }, async () => {
  fresh();
  const was = holds('heldby.sqlite');
  const begun = performance.now();
  await started(place, 'upgrade').ended;
  const usual = performance.now() - begun;
  const rounds = 24;
  for (let round = 0; round < rounds; round += 1) {
    fresh();
    const { child, ended } = started(place, 'upgrade');
    // Close together about the end, when it writes: all before is the start of the program.
    await wait(usual * (0.4 + (0.7 * round) / rounds));
    child.kill('SIGKILL');
    await ended;
    expectWhole(was);
    expect(place.run('upgrade').status).toBe(0);
    expect(expectWhole(was)).toBe('upgraded');
  }
  expect(place.run('verify').status).toBe(0);
});
