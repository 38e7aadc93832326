import { resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { makePlace, type Place } from './heldby.ts';

const EXAMPLES = resolve(import.meta.dirname, '../../examples');
let place: Place;
beforeAll(() => {
  place = makePlace();
  place.run('init');
  place.run('import', resolve(EXAMPLES, 'records.jsonl'));
  place.run('import', resolve(EXAMPLES, 'lists.csv'));
});
afterAll(() => place.remove());

const WORDS = ['--text', 'Lieut. J. Ferr[..]d', '--between', '1834', '1838'];
const figure = (...words: string[]) => place.json('grounds', ...words).figures[0];

describe('figures of words that were just read are those that candidates prints', () => {
  test('of everybody told', () => {
    const answer = place.json('candidates', ...WORDS);
    const [leader] = answer.candidates;
    for (const name of ['share', 'bits', 'possibleOverlap', 'certainOverlap', 'relations', 'markedBetween', 'hangsOn'])
      expect(figure(...WORDS, name, leader.person.id).value, name).toEqual(leader[name]);
    expect(figure(...WORDS, 'unrecorded').value).toBe(answer.unrecorded.share);
    expect(figure(...WORDS, 'expected').value).toBe(answer.unrecorded.expected);
    expect(figure(...WORDS, 'window').value).toEqual({ from: '1834-01-01', to: '1838-12-31' });
    const [out] = answer.ruledOut;
    expect(figure(...WORDS, 'ruledOut', out.person.id).value).toMatchObject({ ground: out.ground, bits: out.bits });
    expect(figure(...WORDS, 'unplaced').value).toEqual(answer.unplaced);
  });

  test('without the days, in another role, and with the parts given', () => {
    const bare = ['--text', 'Ferr[..]d', '--role', 'owner 0.7, maker 0.3', '--rank', 'Lieut.'];
    const answer = place.json('candidates', ...bare);
    expect(answer.noHolder.share).toBeCloseTo(0.3, 12);
    expect(figure(...bare, 'noHolder').value).toBe(answer.noHolder.share);
    expect(figure(...bare, 'share').value).toBe(answer.candidates[0].share);
    expect(figure(...bare, 'window').value).toEqual({ from: answer.window.from, to: answer.window.to });
    expect(figure(...bare, 'role', 'maker').value.first).toBeNull();
    const undated = WORDS.slice(0, 2);
    const [first] = place.json('candidates', ...undated, '--vary').vary.varied;
    expect(figure(...undated, 'vary', first.name).value).toEqual(first);
  });

  test('and had a record never been made', () => {
    const { value, without } = figure(...WORDS, 'share', '--without', 'ferrand-jp');
    expect(value).toBeGreaterThan(0.9);
    expect(without.value).not.toBe(value);
  });
});

test('a mark with other days than its own', () => {
  const days = ['--between', '1841', '1850'];
  const [leader] = place.json('candidates', 'm1', ...days).candidates;
  expect(figure('m1', 'share', leader.person.id, ...days).value).toBe(leader.share);
  expect(figure(...days, 'm1', 'markedBetween', leader.person.id).value).toEqual(leader.markedBetween);
  expect(leader.share).not.toBe(figure('m1', 'share', leader.person.id).value);
});

test('a plan where volumes have to be called up', () => {
  const { plan } = place.json('lookups', 'm8', '--plan', '3', '--cost', '50');
  expect(plan.at(-1).gain).toBeGreaterThan(0.1);
  expect(figure('m8', 'plan', '3', '--cost', '50').value).toBe(plan.at(-1).gain);
});

test('what heldby alone prints', () => {
  const { counts, unplaced } = place.json();
  expect(figure('status', 'counts').value).toEqual(counts);
  for (const { plural, count } of counts) {
    const { value, grounds } = figure('status', 'counts', plural);
    expect(value).toBe(count);
    expect(grounds.reduce((sum: number, each: { value: number }) => sum + each.value, 0)).toBe(count);
  }
  expect(figure('status', 'unplaced').value).toBe(unplaced);
  expect(place.json('grounds', 'status', 'counts', 'marks', '--without', 'm1').figures[0].without.value).toBe(
    counts.find(({ kind }: { kind: string }) => kind === 'mark').count - 1,
  );
});

test.each([
  [['grounds'], 'Say what the figure is of.'],
  [['grounds', 'm1', '--role', 'owner'], '--role goes with --text.'],
  [['grounds', 'o1', '--between', '1834', '1838'], 'Days can be given for a mark only.'],
  [['grounds', 'status', 'counts', 'ships'], 'No "ships" are counted in this ledger.'],
  [['grounds', ...WORDS, 'gain'], 'gain is no figure of words of a mark.'],
  [['grounds', ...WORDS, 'share', 'anne-holt-nobody'], 'anne-holt-nobody'],
])('%j', (words, says) => {
  const { status, err } = place.run(...words);
  expect([2, 3]).toContain(status);
  expect(err).toContain(says);
});

test('a shell is offered the figures of words', () => {
  const offered = place.run('completion', 'words', 'bash', '--', 'grounds', ...WORDS, 'mar').out;
  expect(offered.trim()).toBe('markedBetween');
  expect(place.run('completion', 'words', 'bash', '--', 'grounds', 'status', 'un').out.trim()).toBe('unplaced');
});
