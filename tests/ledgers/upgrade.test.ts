import { once } from 'node:events';
import { copyFileSync, existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { makePlace, type Place } from '../cli/heldby.ts';
import { wait } from '../faults/under-fault.ts';
import { NEXT, nextVersion } from './next-version.ts';

const COPY = `heldby.sqlite.before-format-${NEXT}`;
const QUICK = 'CREATE TABLE later (row INTEGER PRIMARY KEY) STRICT;';
/** Writes for several seconds, so that it is in the middle when it is killed. */
const SLOW = `${QUICK}
WITH RECURSIVE n (i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < 20000000) INSERT INTO later SELECT i FROM n;`;

let place: Place;
beforeEach(() => {
  place = makePlace();
  place.json('init');
  place.json('person', 'add', 'Ralph Holt', '--born', '1790');
});
afterEach(() => place.remove());

describe('a ledger of the format before', () => {
  test('is brought up to date when something is recorded, told, with a copy that the version before uses', async () => {
    const before = place.run('export', '--all', '--acts').out;
    const next = await nextVersion(place, QUICK);
    const recorded = next.run('person', 'add', 'Anne Holt');
    expect(recorded.status).toBe(0);
    expect(recorded.err).toContain(`is now in format ${NEXT}; as it was, it is kept in ${place.path(COPY)}.`);
    expect(next.run('verify').out).toContain('sound');
    expect(JSON.parse(next.run('list', 'people', '--json').out)).toMatchObject({ total: 2 });
    expect(place.run('--ledger', COPY, 'export', '--all', '--acts').out).toBe(before);
    expect(place.run('--ledger', COPY, 'verify').status).toBe(0);
    expect(place.run('verify')).toMatchObject({ status: 5 });
    // Once is enough.
    expect(next.run('person', 'add', 'Mary Holt').err).not.toContain('format');
    expect(readdirSync(place.folder).filter((name) => name.includes('before-format'))).toEqual([COPY]);
  });

  test('is left as it is by a question, and what it says to do helps', async () => {
    const next = await nextVersion(place, QUICK);
    const bytes = readFileSync(place.path('heldby.sqlite'));
    const asked = next.run('--ledger', 'heldby.sqlite', 'list', 'people', '--json');
    expect(asked).toMatchObject({ status: 5, out: '' });
    const { code, hint } = JSON.parse(asked.err).error;
    expect(code).toBe('LEDGER_OLDER');
    expect(readFileSync(place.path('heldby.sqlite')).equals(bytes)).toBe(true);
    expect(existsSync(place.path(COPY))).toBe(false);

    const words = /: heldby (upgrade .+)$/.exec(hint)?.[1]?.split(' ') ?? [];
    expect(next.run(...words)).toMatchObject({ status: 0, out: `The ledger is up to date (format ${NEXT}).\n` });
    expect(next.run('list', 'people')).toMatchObject({ status: 0, err: '' });
    expect(existsSync(place.path(COPY))).toBe(true);
  });

  test('of a name that is taken, the copy takes another', async () => {
    writeFileSync(place.path(COPY), 'mine');
    expect((await nextVersion(place, QUICK)).run('upgrade').err).toContain(`${COPY}-2.`);
    expect(readFileSync(place.path(COPY), 'utf8')).toBe('mine');
    expect(place.run('--ledger', `${COPY}-2`, 'verify').status).toBe(0);
  });

  test('is as it was where the migration fails', async () => {
    const before = place.run('export', '--all', '--acts').out;
    expect((await nextVersion(place, `${QUICK} CREATE TABLE act (x);`)).run('upgrade').status).not.toBe(0);
    expect(place.run('export', '--all', '--acts').out).toBe(before);
    expect(place.run('verify').status).toBe(0);
  });

  test('is whole, and so is its copy, where the upgrade is killed in the middle', async () => {
    const before = place.run('export', '--all', '--acts').out;
    copyFileSync(place.path('heldby.sqlite'), place.path('kept'));
    const child = (await nextVersion(place, SLOW)).start('upgrade');
    while (!existsSync(place.path(COPY))) {
      expect(child.exitCode).toBe(null);
      await wait(20);
    }
    await wait(300);
    child.kill('SIGKILL');
    const [, signal] = await once(child, 'close');
    expect(signal).toBe('SIGKILL');

    for (const ledger of ['heldby.sqlite', COPY]) {
      expect(place.run('--ledger', ledger, 'export', '--all', '--acts').out).toBe(before);
      expect(place.run('--ledger', ledger, 'verify').status).toBe(0);
    }
    const again = (await nextVersion(place, QUICK)).run('upgrade');
    expect(again).toMatchObject({ status: 0 });
    expect(again.err).toContain(`${COPY}-2.`);
  }, 60_000);
});

test('a new ledger leaves no copy', async () => {
  expect((await nextVersion(place, QUICK)).run('init', 'new').status).toBe(0);
  expect(readdirSync(place.folder).filter((name) => name.includes('before-format'))).toEqual([]);
});
