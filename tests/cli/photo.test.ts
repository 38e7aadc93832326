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
  const again = 'add the file again: heldby photo add m1 flap.jpg';
  const short = `heldby.sqlite.photos/${sha256.slice(0, 2)}/${sha256.slice(2)}`;
  expect(findings()).toEqual([
    { what: `the picture is not what it was: ${short}; ${again}`, where: 'ph1, flap.jpg of m1' },
  ]);
  rmSync(kept());
  expect(findings()).toEqual([{ what: `the picture is missing: ${short}; ${again}`, where: 'ph1, flap.jpg of m1' }]);
  expect(place.run('verify').status).toBe(5);
  expect(place.run('photo', 'add', 'm1', 'flap.jpg')).toMatchObject({
    status: 4,
    err: expect.stringContaining('was lost or changed, and is there again'),
  });
  expect(findings()).toEqual([]);
  expect(place.json('list', 'photographs').total).toBe(1);
});
test('HTML shows what browsers can, scaled to the page and within the file; nothing that is lost or changed', () => {
  const jpeg = Buffer.concat([Buffer.from('ffd8ffe0', 'hex'), Buffer.from('the flap')]);
  writeFileSync(place.path('open.jpg'), jpeg);
  place.json('photo', 'add', 'm1', 'open.jpg');
  place.json('photo', 'add', '214', 'open.jpg');
  const page = (): string => place.run('report', '214', '--format', 'html').out;
  const shown = `<img src="data:image/jpeg;base64,${jpeg.toString('base64')}" alt=`;
  expect(page().split(shown)).toHaveLength(3);
  expect(page()).toContain('<figcaption>1. Photograph: open.jpg</figcaption>');
  expect(page()).toMatch(/figure\.photograph img \{ max-width: 100%/);
  expect(page()).not.toContain('<figcaption>1. Photograph: flap.jpg'); // which is none
  expect(place.run('report', '214').out).toContain('Photograph: open.jpg.');

  writeFileSync(place.path('house.toml'), 'photographs = false\n');
  expect(place.run('report', '214', '--format', 'html', '--style', 'house.toml').out).not.toContain('<img');
  const { sha256: other } = place.json('show', 'ph2').record.fields;
  writeFileSync(place.path(`heldby.sqlite.photos/${other.slice(0, 2)}/${other.slice(2)}`), 'another');
  expect(page()).not.toContain('<img');
});
test('of a mark that names somebody who may be living the photograph is withheld, too', () => {
  writeFileSync(place.path('open.gif'), Buffer.from('GIF89a and more'));
  place.json('photo', 'add', 'm1', 'open.gif');
  place.json('photo', 'add', '214', 'open.gif');
  expect(place.run('report', '214', '--format', 'html').out).toContain('data:image/gif');
  place.json('series', 'add', 'Annual List', '--service', 'army');
  place.json('edition', 'add', 'Annual List', '1990', '--as-at', '1990-01-01');
  place.json('entry', 'add', '1990', '--person', 'J. Ferrand', '--new', '--rank', 'Captain', '--dated', '1985');
  place.json('amend', 'p1', 'born', '1960', '--why', 'seen');
  place.json('amend', 'm1', 'made', '1990', '--why', 'seen');
  const { out } = place.run('report', '214', '--format', 'html');
  expect(out).not.toContain('J. Ferrand');
  expect(out).not.toContain('data:image');
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
