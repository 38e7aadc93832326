import { copyFileSync, existsSync, statSync } from 'node:fs';
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { makePlace, type Place, type Ran } from '../cli/heldby.ts';
import { hashOf } from '../cli/refusals.ts';
import { discard, started, wait, writeList } from './under-fault.ts';

const ENTRIES = 20_000;
let place: Place;
let usualMs: number;
beforeAll(() => {
  place = makePlace();
  place.json('init', 'empty');
  writeList(place, 'list.csv', ENTRIES);
  place.json('init');
  const begun = performance.now();
  place.json('import', 'list.csv');
  usualMs = performance.now() - begun;
});
beforeEach(() => {
  discard(place, 'heldby.sqlite', 'heldby.sqlite-wal', 'heldby.sqlite-shm');
  copyFileSync(place.path('empty'), place.path('heldby.sqlite'));
});
afterAll(() => place.remove());

const HEADER = 'series,edition,as_at,name,rank\n';
const hash = () => hashOf(place.path('heldby.sqlite'));

/** All of the list or nothing of it, in a sound ledger in which one can go on. */
function expectAllOrNothing(before: string): 'all' | 'nothing' {
  const entries = place.json('list', 'entries', '--limit', '1').total as number;
  expect([0, ENTRIES]).toContain(entries);
  expect(place.json('history').acts).toHaveLength(entries === 0 ? 0 : 1);
  if (entries === 0) expect(hash()).toBe(before);
  expect(place.json('person', 'add', 'Ann Holt').act).toBe(entries === 0 ? 1 : 2);
  return entries === 0 ? 'nothing' : 'all';
}

describe('killed in the middle of an import', () => {
  test.each([[0.3], [0.6], [0.85]])('after %f of its usual time', async (part) => {
    const before = hash();
    const { child, ended } = started(place, 'import', 'list.csv');
    await wait(usualMs * part);
    child.kill('SIGKILL');
    const { out } = await ended;
    if (expectAllOrNothing(before) === 'nothing') expect(out).toBe('');
  });

  test('while it writes', async () => {
    const before = hash();
    const { child, ended } = started(place, 'import', 'list.csv');
    const log = place.path('heldby.sqlite-wal');
    let running = true;
    ended.then(() => (running = false));
    while (running && !(existsSync(log) && statSync(log).size > 0)) await wait(0);
    child.kill('SIGKILL');
    await ended;
    expectAllOrNothing(before);
    expect(place.json('verify').findings).toEqual([]);
  });
});

describe('interrupted by the user', () => {
  /** An import that waits for more of its list: it stops when it is told to, and nothing is recorded. */
  const stopped = async (signal: NodeJS.Signals): Promise<Ran & { signal: NodeJS.Signals | null }> => {
    const { child, ended } = started(place, 'import', '-', '--format', 'csv');
    child.stdin?.write(`${HEADER}Annual List,1834,1834,J. Ferrand,Lieut.\n`);
    await wait(1_000);
    child.kill(signal);
    const late = setTimeout(() => child.kill('SIGKILL'), 4_000);
    const ran = await ended;
    clearTimeout(late);
    return ran;
  };
  test.each<[signal: NodeJS.Signals, status: number]>([
    ['SIGINT', 130],
    ['SIGTERM', 143],
  ])('%s ends it at once, with nothing recorded', async (signal, status) => {
    const before = hash();
    const ran = await stopped(signal);
    expect(ran.status === status || ran.signal === signal, `ended with ${ran.status ?? ran.signal}`).toBe(true);
    expect([ran.out, ran.err]).toEqual(['', expect.not.stringMatching(/\n\s+at |defect/)]);
    expect(hash()).toBe(before);
    expect(place.json('history').acts).toEqual([]);
  });

  test('what a command says of itself is so, whenever it is interrupted', async () => {
    const before = hash();
    const { child, ended } = started(place, 'import', 'list.csv');
    await wait(usualMs * 0.6);
    child.kill('SIGINT');
    const ran = await ended;
    const recorded = expectAllOrNothing(before);
    if (ran.status === 0) expect([recorded, ran.out]).toEqual(['all', expect.stringContaining('Recorded in act 1')]);
    else {
      expect(ran.status === 130 || ran.signal === 'SIGINT', `ended with ${ran.status ?? ran.signal}`).toBe(true);
      expect(recorded).toBe('nothing');
    }
  });
});
