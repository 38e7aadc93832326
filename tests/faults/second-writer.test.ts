import Database from 'better-sqlite3';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { makePlace, type Place, type Ran } from '../cli/heldby.ts';
import { errorIn, expectRefusalInWords, hashOf } from '../cli/refusals.ts';
import { started } from './under-fault.ts';

let place: Place;
beforeAll(() => {
  place = makePlace();
  place.json('init');
  place.json('person', 'add', 'Julian Ferrand');
});
afterAll(() => place.remove());

describe('while another program is recording', () => {
  let before: string;
  let asked: Ran;
  let refused: Ran;
  let inJson: Ran;
  let tookMs: number;
  beforeAll(async () => {
    before = hashOf(place.path('heldby.sqlite'));
    const other = new Database(place.path('heldby.sqlite'));
    other.exec('BEGIN IMMEDIATE');
    const begun = performance.now();
    const inWords = started(place, 'person', 'add', 'Ann Holt');
    const toPrograms = started(place, 'person', 'add', 'Ann Holt', '--json');
    asked = place.run('list', 'people', '--json');
    [refused, inJson] = await Promise.all([inWords.ended, toPrograms.ended]);
    tookMs = performance.now() - begun;
    other.exec('ROLLBACK');
    other.close();
  }, 30_000);

  test('a record is refused with 5, in words and in JSON, and the ledger is as it was', () => {
    expectRefusalInWords(refused, { status: 5, message: /written by another program/, hint: /nothing was recorded/ });
    expect([inJson.status, inJson.out, errorIn(inJson).code]).toEqual([5, '', 'LEDGER_LOCKED']);
    expect(hashOf(place.path('heldby.sqlite'))).toBe(before);
  });
  test('it waits for 5 seconds, and no longer', () => {
    expect(tookMs).toBeGreaterThan(4_900);
    expect(tookMs).toBeLessThan(8_500);
  });
  test('a question is answered as if nobody were there', () => {
    expect([asked.status, asked.err]).toEqual([0, '']);
    expect(JSON.parse(asked.out).total).toBe(1);
  });
});

test('who comes while another is about to end waits, and records', async () => {
  const other = new Database(place.path('heldby.sqlite'));
  other.exec('BEGIN IMMEDIATE');
  const waiting = started(place, 'person', 'add', 'Bea Holt');
  setTimeout(() => other.exec('ROLLBACK'), 1_500);
  expect((await waiting.ended).status).toBe(0);
  other.close();
});

test('many at once: each records, one after the other, and no act is lost', async () => {
  const acts = place.json('history').acts.length;
  const names = ['Una', 'Dora', 'Tess', 'Cora', 'Quin', 'Sissy'];
  const all = await Promise.all(names.map((name) => started(place, 'person', 'add', `${name} Holt`, '--json').ended));
  expect(all.map(({ status }) => status)).toEqual(names.map(() => 0));
  expect(all.map(({ out }) => JSON.parse(out).act).sort()).toEqual(names.map((_, index) => acts + 1 + index));
  expect(place.json('verify').findings).toEqual([]);
});

test('two who undo at once take back two acts, each the last that stands', async () => {
  const before = place.json('list', 'people').total;
  const all = await Promise.all(['one', 'two', 'three'].map((why) => started(place, 'undo', '--why', why).ended));
  expect(all.map(({ status, err }) => [status, err.includes('undone already')])).toEqual(all.map(() => [0, false]));
  expect(place.json('list', 'people').total).toBe(before - all.length);
  expect(place.json('verify').findings).toEqual([]);
});
