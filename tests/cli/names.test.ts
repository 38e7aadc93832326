import { afterAll, beforeAll, expect, test } from 'vitest';
import { makePlace, type Place } from './heldby.ts';

let place: Place;
beforeAll(() => {
  place = makePlace();
});
afterAll(() => place.remove());

test('names compare: a table, without a ledger too', () => {
  const { status, out } = place.run('names', 'compare', 'Ferr[..]d', 'Farrand');
  expect(status).toBe(0);
  expect(out).toContain('“Ferr[..]d” and Farrand: 7 bits, within the 15 bits that this reading allows');
  expect(out).toMatch(/^e +a +7 {2}/m);
});

test('names compare: JSON, with the assumptions of the ledger', () => {
  place.run('init');
  place.run('assume', 'agree.element', '5', '--why', 'tried');
  const answer = place.json('names', 'compare', 'Ferr[..]d', 'Ferrand-Holt');
  expect(answer).toMatchObject({ bits: 5, limit: 15, within: true });
  expect(answer.steps[0]).toMatchObject({ bits: 5, reason: 'only one element of a compound name' });
});

test('names compare: damage written otherwise is refused, and how to write it is told', () => {
  const { status, err } = place.run('names', 'compare', 'H..t', 'Holt');
  expect(status).toBe(2);
  expect(err).toContain('Write [..] for two lost letters');
});
