import { spawnSync } from 'node:child_process';
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { LAUNCHER, makePlace, type Place } from '../cli/heldby.ts';
import { discard, started, wait } from './under-fault.ts';

const LOTS = 12;
/** The command ends as if it had been killed just before it gives a file its name for the n-th time. */
const KILLER = `const fs = require('node:fs');
const rename = fs.renameSync;
let left = Number(process.env.KILL_AT);
fs.renameSync = (...words) => {
  if (left-- <= 0) process.kill(process.pid, 'SIGKILL');
  return rename(...words);
};
`;

let place: Place;
let wanted: Readonly<Record<string, string>>;

beforeAll(() => {
  place = makePlace();
  writeFileSync(place.path('killer.cjs'), KILLER);
  place.json('init');
  for (let lot = 1; lot <= LOTS; lot += 1) place.json('object', 'add', `${lot}`, '--title', 'Writing slope');
  old('old');
  for (let lot = 1; lot <= LOTS; lot += 2) place.json('amend', `o${lot}`, 'title', 'Sea chest', '--why', 'opened');
  place.json('object', 'add', 'new', '--title', 'Spyglass');
  wanted = report('wanted');
}, 120_000);
afterAll(() => place.remove());

const words = (folder: string) => ['report', '--all', '--format', 'text,csv', '--out', folder];

function old(folder: string): void {
  mkdirSync(place.path(folder));
  writeFileSync(join(place.path(folder), 'letter.txt'), 'not ours');
  place.run(...words(folder));
}

function report(folder: string): Readonly<Record<string, string>> {
  old(folder);
  return filesIn(folder);
}

const filesIn = (folder: string): Readonly<Record<string, string>> =>
  Object.fromEntries(
    readdirSync(place.path(folder), { withFileTypes: true }).flatMap((each) =>
      each.isFile() ? [[each.name, readFileSync(join(place.path(folder), each.name), 'utf8')]] : [],
    ),
  );

/** The folder as the last run left it, before the lots were changed. */
function before(folder: string): void {
  discard(place, folder);
  mkdirSync(place.path(folder));
  for (const [name, text] of Object.entries(filesIn('old'))) writeFileSync(join(place.path(folder), name), text);
}

/** Every file is the whole old or the whole new one, and the indexes tell of nothing that is not there. */
function expectSound(folder: string): number {
  const now = filesIn(folder);
  const earlier = filesIn('old');
  for (const [name, text] of Object.entries(now)) expect([earlier[name], wanted[name]], name).toContain(text);
  for (const index of ['index.csv', 'index.txt'])
    for (const [name] of (now[index] ?? '').matchAll(/\b\w+\.(?:csv|txt)\b/g)) expect(Object.keys(now)).toContain(name);
  expect(now['letter.txt']).toBe('not ours');
  return Object.entries(now).filter(([name, text]) => wanted[name] !== earlier[name] && wanted[name] === text).length;
}

const changed = () => Object.entries(wanted).filter(([name, text]) => filesIn('old')[name] !== text).length;

test('killed before each file is put in place: the next run finishes it, and says so', { timeout: 240_000 }, () => {
  const count = changed();
  expect(count).toBeGreaterThan(LOTS);
  const placed: number[] = [];
  for (const at of [0, 1, 2, count - 2, count - 1, count]) {
    before('cut');
    const ran = spawnSync(process.execPath, ['--require', place.path('killer.cjs'), LAUNCHER, ...words('cut')], {
      cwd: place.folder,
      env: { ...process.env, KILL_AT: String(at) },
    });
    expect(ran.signal).toBe('SIGKILL');
    placed.push(expectSound('cut'));
    const again = place.run(...words('cut'));
    expect(again.status).toBe(0);
    // Killed before the set was complete there is nothing to be finished: all of it is made again.
    if (at === 0) expect([again.err, again.out]).toEqual(['', expect.stringContaining(`${count} written`)]);
    else {
      expect(again.err).toContain(`cut short: ${count + 1 - at} of its files were put in their places first`);
      expect(again.out).toContain('0 written');
    }
    expect(filesIn('cut')).toEqual(wanted);
    expect(readdirSync(place.path('cut')).sort()).toEqual(Object.keys(wanted).sort());
  }
  expect(placed).toEqual([0, 0, 1, count - 3, count - 2, count - 1]);
});

test('killed at any moment: old and new are never lost, and the next run leaves nothing behind', {
  timeout: 240_000,
}, async () => {
  const begun = performance.now();
  before('cut');
  place.run(...words('cut'));
  const usual = performance.now() - begun;
  for (let round = 1; round <= 8; round += 1) {
    before('cut');
    const { child, ended } = started(place, ...words('cut'));
    await wait((usual * round) / 8);
    child.kill('SIGKILL');
    await ended;
    expectSound('cut');
    expect(place.run(...words('cut')).status).toBe(0);
    expect(filesIn('cut')).toEqual(wanted);
    expect(readdirSync(place.path('cut')).sort()).toEqual(Object.keys(wanted).sort());
  }
});
