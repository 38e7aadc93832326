import { afterAll, beforeAll, expect, test } from 'vitest';
import { makePlace, type Place } from './heldby.ts';

let place: Place;
beforeAll(() => {
  place = makePlace();
});
afterAll(() => place.remove());

test('when: the reading taken, in words, with its EDTF, without a ledger', () => {
  const { status, out } = place.run('when', '9 Geo. III');
  expect(status).toBe(0);
  expect(out).toContain('9th regnal year of George III: 25 October 1768 – 24 October 1769');
  expect(out).toMatch(/^EDTF +1768-10-25\/1769-10-24$/m);
});

test.each<[what: string, text: string, options: string[], day: string]>([
  ['the year of England from 25 March', '2 Feb. 1708', ['--country', 'england'], '1709-02-13'],
  ['the year of Scotland from 1 January', '2 Feb. 1708', ['--country', 'scotland'], '1708-02-13'],
  ['a source that counts from 25 March', '2 Feb. 1708', ['--year-begins', '25 March'], '1709-02-13'],
  ['the date of the letter', '12th ult.', ['--reference', '20 May 1834'], '1834-04-12'],
])('when: %s', (_what, text, options, day) => {
  expect(place.json('when', text, ...options)).toMatchObject({ text, earliest: day, latest: day });
});

test('when: two readings, neither taken, and how to write each', () => {
  const { status, err } = place.run('when', '11 Feb. 1731 O.S.');
  expect(status).toBe(2);
  expect(err).toContain('has two readings');
  expect(err).toContain('Write “11 February 1730/1” or “11 February 1731/2”');
});

test('when: what cannot be read is pointed at, with the nearest that can', () => {
  const { status, err } = place.run('when', '16th Setember 1834', '--json');
  expect(status).toBe(2);
  expect(JSON.parse(err).error).toMatchObject({ where: 'character 6', hint: 'Did you mean “16th September 1834”?' });
});

test('when: a first day of the year that nobody is known to have kept is refused', () => {
  expect(place.run('when', '1708', '--year-begins', '1 March').status).toBe(2);
});
