import { chmodSync, mkdirSync, readdirSync } from 'node:fs';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { makePlace, type Place } from '../cli/heldby.ts';
import { errorIn, expectRefusalInWords, hashOf } from '../cli/refusals.ts';
import { boundByRights, discard, writeList } from './under-fault.ts';

let place: Place;
beforeEach(() => {
  place = makePlace();
  writeList(place, 'list.csv', 3);
  mkdirSync(place.path('shelf'));
  place.json('init', 'shelf/heldby.sqlite');
  place.json('person', 'add', 'Julian Ferrand', '--ledger', 'shelf/heldby.sqlite');
  for (const beside of readdirSync(place.path('shelf')))
    if (beside !== 'heldby.sqlite') discard(place, `shelf/${beside}`);
});
afterEach(() => {
  chmodSync(place.path('shelf'), 0o755);
  place.remove();
});

const LEDGER = ['--ledger', 'shelf/heldby.sqlite'];
const RECORDING: readonly (readonly [what: string, ...words: string[]])[] = [
  ['a record', 'person', 'add', 'Ann Holt'],
  ['an import', 'import', 'list.csv'],
];

describe.each<[where: string, folder: number, file: number]>([
  ['a folder that may not be written', 0o555, 0o644],
  ['a ledger that may not be written', 0o755, 0o444],
  ['neither may be written', 0o555, 0o444],
  ['a ledger that may not be read', 0o755, 0o000],
])('%s', (_where, folder, file) => {
  test.each(RECORDING)('%s is refused with 5, and the ledger is as it was', (_what, ...words) => {
    const before = hashOf(place.path('shelf/heldby.sqlite'));
    chmodSync(place.path('shelf/heldby.sqlite'), file);
    chmodSync(place.path('shelf'), folder);
    expectRefusalInWords(boundByRights(place, ...words, ...LEDGER), {
      status: 5,
      message: /cannot be (opened|read|written)/,
      hint: /rights/,
    });
    const ran = boundByRights(place, ...words, ...LEDGER, '--json');
    expect([ran.status, ran.out, errorIn(ran).code]).toEqual([5, '', 'CANNOT_WRITE']);
    chmodSync(place.path('shelf'), 0o755);
    chmodSync(place.path('shelf/heldby.sqlite'), 0o644);
    expect(hashOf(place.path('shelf/heldby.sqlite'))).toBe(before);
  });
});

test('a question is answered, or refused in words, but never fails unforeseen', () => {
  for (const [folder, file] of [
    [0o555, 0o644],
    [0o755, 0o444],
    [0o555, 0o444],
  ] as const) {
    chmodSync(place.path('shelf/heldby.sqlite'), file);
    chmodSync(place.path('shelf'), folder);
    const ran = boundByRights(place, 'list', 'people', '--json', ...LEDGER);
    if (ran.status === 0) expect(JSON.parse(ran.out).total).toBe(1);
    else expect([ran.status, errorIn(ran).code]).toEqual([5, 'CANNOT_WRITE']);
    chmodSync(place.path('shelf'), 0o755);
    chmodSync(place.path('shelf/heldby.sqlite'), 0o644);
  }
});

test('nothing is made in a folder that may not be written', () => {
  chmodSync(place.path('shelf'), 0o555);
  for (const words of [
    ['init', 'shelf/new.sqlite'],
    ['backup', 'shelf/copy.sqlite', '--ledger', 'other.sqlite'],
  ]) {
    place.run('init', 'other.sqlite');
    const ran = boundByRights(place, ...words, '--json');
    expect([ran.status, ran.out, errorIn(ran).code]).toEqual([5, '', 'CANNOT_WRITE']);
  }
  expect(readdirSync(place.path('shelf'))).toEqual(['heldby.sqlite']);
});

test('a list that may not be read is refused with 4', () => {
  chmodSync(place.path('list.csv'), 0o000);
  const before = hashOf(place.path('shelf/heldby.sqlite'));
  expectRefusalInWords(boundByRights(place, 'import', 'list.csv', ...LEDGER), {
    status: 4,
    message: /list\.csv cannot be read/,
    hint: /rights/,
  });
  expect(hashOf(place.path('shelf/heldby.sqlite'))).toBe(before);
});
