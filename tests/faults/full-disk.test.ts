import { closeSync, existsSync, openSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { makePlace, type Place, type Ran } from '../cli/heldby.ts';
import { errorIn, expectRefusalInWords, hashOf } from '../cli/refusals.ts';
import { answeringTo, discard, withoutRoom, writeList } from './under-fault.ts';

let place: Place;
let ledgerKib: number;
beforeAll(() => {
  place = makePlace();
  writeList(place, 'list.csv', 3_000);
});
beforeEach(() => {
  for (const name of readdirSync(place.folder)) if (name !== 'list.csv') discard(place, name);
  place.json('init');
  place.json('person', 'add', 'Julian Ferrand');
  ledgerKib = Math.ceil(statSync(place.path('heldby.sqlite')).size / 1024);
});
afterAll(() => place.remove());

const people = () => place.json('list', 'people').total as number;

describe('where the disk is full', () => {
  test.each<[what: string, roomKib: () => number]>([
    ['while the log is written', () => ledgerKib + 60],
    ['as the log begins', () => 40],
    ['before the log begins', () => 8],
  ])('an import is refused with 5 and leaves the ledger as it was: %s', (_what, roomKib) => {
    const before = hashOf(place.path('heldby.sqlite'));
    const refusal = { status: 5, message: /disk/, hint: /space|disk/ };
    expectRefusalInWords(withoutRoom(place, roomKib(), 'import', 'list.csv'), refusal);
    expect(hashOf(place.path('heldby.sqlite'))).toBe(before);
    const ran = withoutRoom(place, roomKib(), 'import', 'list.csv', '--json');
    expect([ran.status, ran.out, errorIn(ran).code]).toEqual([5, '', 'CANNOT_WRITE']);
    expect(hashOf(place.path('heldby.sqlite'))).toBe(before);
    expect(people()).toBe(1);
    expect(place.json('import', 'list.csv').act).toBe(2);
    expect(place.json('verify').findings).toEqual([]);
  });

  test('what a command says of itself is so, wherever the room ends', () => {
    const told = (ran: Ran) => (ran.status === 0 ? /^Recorded in act (\d+)/.exec(ran.out)?.[1] : undefined);
    for (const kib of [4, 32, 48, 64, 128, ledgerKib - 4, ledgerKib + 4]) {
      const before = people();
      const ran = withoutRoom(place, kib, 'person', 'add', `Ann Holt`);
      expect([0, 5], `${kib} KiB: ${ran.err}`).toContain(ran.status);
      expect(ran.err).not.toMatch(/defect/);
      expect(people() - before, `${kib} KiB: ${ran.out}${ran.err}`).toBe(told(ran) === undefined ? 0 : 1);
    }
    expect(place.json('verify').findings).toEqual([]);
  });

  test('no new ledger is half made', () => {
    for (const kib of [4, 20, 100]) {
      const ran = withoutRoom(place, kib, 'init', 'new.sqlite', '--json');
      expect([ran.status, errorIn(ran).code]).toEqual([5, 'CANNOT_WRITE']);
      expect(existsSync(place.path('new.sqlite')), `${kib} KiB`).toBe(false);
    }
    expect(place.run('init', 'new.sqlite').status).toBe(0);
  });

  test('no bundle is half written or half brought in, pictures included', () => {
    place.json('object', 'add', '214', '--title', 'Writing slope');
    place.json('mark', 'add', '214', 'J. Ferr[..]d', '--role', 'owner');
    writeFileSync(place.path('flap.jpg'), Buffer.alloc(90_000, 'picture'));
    place.json('photo', 'add', 'm1', 'flap.jpg');
    for (const kib of [0, 1, 60]) {
      const ran = withoutRoom(place, kib, 'bundle', '214', 'slope.jsonl', '--json');
      expect([ran.status, ran.out, errorIn(ran).code], `${kib} KiB`).toEqual([5, '', 'CANNOT_WRITE']);
      expect(existsSync(place.path('slope.jsonl')), `${kib} KiB`).toBe(false);
    }
    place.json('bundle', '214', 'slope.jsonl');
    place.json('init', 'theirs.sqlite');
    const before = hashOf(place.path('theirs.sqlite'));
    for (const kib of [0, 4, 40, 80]) {
      const ran = withoutRoom(place, kib, '--ledger', 'theirs.sqlite', 'import', 'slope.jsonl', '--json');
      expect([ran.status, ran.out, errorIn(ran).code], `${kib} KiB`).toEqual([5, '', 'CANNOT_WRITE']);
      expect(hashOf(place.path('theirs.sqlite')), `${kib} KiB`).toBe(before);
    }
    expect(place.json('--ledger', 'theirs.sqlite', 'import', 'slope.jsonl').act).toBe(1);
    expect(place.json('--ledger', 'theirs.sqlite', 'verify').findings).toEqual([]);
  });

  test('no backup is half made', () => {
    const ran = withoutRoom(place, 40, 'backup', 'copy.sqlite', '--json');
    expect([ran.status, errorIn(ran).code]).toEqual([5, 'CANNOT_WRITE']);
    expect(readdirSync(place.folder).filter((name) => name.startsWith('copy'))).toEqual([]);
  });
});

test('an answer that cannot be written is no defect, and does not make undone what was done', () => {
  const unwritable = openSync(place.path('list.csv'), 'r');
  const ran = answeringTo(place, unwritable, 'person', 'add', 'Ann Holt');
  closeSync(unwritable);
  expect(people()).toBe(2);
  expect([ran.status, ran.err]).toEqual([5, expect.not.stringMatching(/defect|nothing was recorded/i)]);
  expect(readFileSync(place.path('list.csv'), 'utf8')).toMatch(/^series,/);
});
