import { existsSync, rmSync, writeFileSync } from 'node:fs';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { makePlace, type Place } from './heldby.ts';

let place: Place;
let sha256: string;
beforeEach(() => {
  place = makePlace();
  place.json('init');
  place.json('object', 'add', '214', '--title', 'Brass-bound writing slope');
  place.json('mark', 'add', '214', 'J. Ferrand', '--role', 'owner');
  writeFileSync(place.path('flap.jpg'), 'a picture of the flap');
  expect(place.json('photo', 'add', 'm1', 'flap.jpg')).toEqual({ id: 'ph1', act: 3 });
  sha256 = place.json('show', 'ph1').record.fields.sha256;
});
afterEach(() => place.remove());

const kept = (ledger = 'heldby.sqlite'): string =>
  place.path(`${ledger}.photos/${sha256.slice(0, 2)}/${sha256.slice(2)}`);
const findings = (...more: string[]): unknown => JSON.parse(place.run('verify', '--json', ...more).out).findings;

test('a picture is recorded with its size and hash, and kept though the first one goes', () => {
  expect(place.json('show', 'ph1').record.fields).toEqual({ of: 'm1', file: 'flap.jpg', sha256, bytes: 21 });
  expect(place.json('show', 'm1').neighbours).toContainEqual({ title: 'Pictures', items: ['ph1  flap.jpg'] });
  rmSync(place.path('flap.jpg'));
  expect([existsSync(kept()), findings()]).toEqual([true, []]);
});
test('a missing and a changed one are found by verify', () => {
  writeFileSync(kept(), 'a picture of the back');
  const short = `heldby.sqlite.photos/${sha256.slice(0, 2)}/${sha256.slice(2)}`;
  expect(findings()).toEqual([{ what: `the picture is not what it was: ${short}`, where: 'ph1, flap.jpg of m1' }]);
  rmSync(kept());
  expect(findings()).toEqual([{ what: `the picture is missing: ${short}`, where: 'ph1, flap.jpg of m1' }]);
  expect(place.run('verify').status).toBe(5);
});
test('the same picture of the same mark is not recorded twice; --dry-run keeps nothing', () => {
  expect(place.run('photo', 'add', 'm1', 'flap.jpg').status).toBe(4);
  writeFileSync(place.path('front.jpg'), 'the front');
  expect(place.json('photo', 'add', '214', 'front.jpg', '--dry-run')).toEqual({ dryRun: true, id: 'ph2' });
  expect(place.json('list', 'photographs').total).toBe(1);
  expect(place.run('photo', 'add', 'm9', 'flap.jpg').status).toBe(3);
});
test('a backup has the pictures beside it', () => {
  expect(place.json('backup', 'copy.sqlite')).toEqual({ backup: 'copy.sqlite', photos: true });
  expect([existsSync(kept('copy.sqlite')), findings('--ledger', 'copy.sqlite')]).toEqual([true, []]);
});
