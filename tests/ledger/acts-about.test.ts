import { expect, test } from 'vitest';
import { makePlace } from '../cli/heldby.ts';

test('what was done to a record, to what says more of it, and what undid that', () => {
  const place = makePlace();
  const acts = (...words: string[]): number[] =>
    place.json('history', ...words).acts.map(({ id }: { id: number }) => id);
  place.json('init');
  place.json('person', 'add', 'Julian Ferrand'); // 1
  place.json('person', 'add', 'J. Ferrand'); // 2
  place.json('person', 'same', 'p1', 'p2', '--why', 'one hand'); // 3
  place.json('undo', '3', '--why', 'two hands'); // 4
  place.json('undo', '4'); // 5
  place.json('object', 'add', '214', '--title', 'Writing slope'); // 6
  place.json('mark', 'add', '214', 'J. Ferr[..]d', '--role', 'owner'); // 7
  place.json('reading', 'add', 'm1', 'J. Ferrand'); // 8
  place.json('feature', 'add', '214', 'screws', '--window', '../1850'); // 9
  place.json('set-aside', 'f1', '--why', 'replaced'); // 10
  place.json('withdraw', 'r1', '--why', 'a guess'); // 11
  place.json('withdraw', 'm1', '--why', 'another object'); // 12
  expect(acts('p1')).toEqual([5, 4, 3, 1]);
  expect(acts('p2')).toEqual([5, 4, 3, 2]);
  expect(acts('m1')).toEqual([12, 11, 8, 7]);
  expect(acts('214')).toEqual([12, 11, 10, 9, 8, 7, 6]);
  expect(acts('214', '--limit', '2')).toEqual([12, 11]);
  expect(acts('214', '--as-of', '7')).toEqual([7, 6]);
  expect(place.run('history', '214').err).toContain('heldby changes 6');
  place.remove();
}, 60_000);
