import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { makePlace, type Place } from './heldby.ts';
import { expectRefused } from './refusals.ts';

let place: Place;
const done = (...words: string[]): string => {
  const ran = place.run(...words);
  expect([ran.status, ran.err], words.join(' ')).toEqual([0, ran.err]);
  return ran.err;
};

beforeEach(() => {
  place = makePlace();
  done('init');
});
afterEach(() => place.remove());

/** Two lines of a warden in a service of that name, and a rank of his on an object. */
const listed = (service: string): string => {
  const said = done('series', 'add', 'Register of the Wardens', '--service', service);
  done('edition', 'add', 'Wardens', '1871', '--as-at', '1871');
  done('edition', 'add', 'Wardens', '1874', '--as-at', '1 Jan. 1874');
  done('entry', 'add', '1871', '--person', 'Obed Tranter', '--new', '--rank', 'Und. Wdn.');
  done('entry', 'add', '1874', '--person', 'Obed Tranter', '--rank', 'M. Wdn.');
  return said;
};
const ladder = (service: string): string => {
  const said = done('rank', 'add', service, 'Under-Warden', '--order', '10', '--abbreviation', 'Und. Wdn.');
  done('rank', 'add', service, 'Marsh Warden', '--order', '20', '--abbreviation', 'M. Wdn.');
  return said;
};
// biome-ignore lint/suspicious/noExplicitAny: answers are looked into freely
const asked = (): any => place.json('candidates', '--text', 'M. Wdn. O. Tranter', '--between', '1873', '1878');
const leader = (): unknown => {
  const [first] = asked().candidates;
  return first && [first.person.name, first.rank];
};

describe('a service of one’s own', () => {
  test('ranks recorded after the lines give the lines their meaning', () => {
    expect(listed('marsh')).toMatch(/service marsh is new and has no ranks of its own/);
    expect(ladder('marsh')).toMatch(/Recorded before, and no rank of marsh yet: “M\. Wdn\.”/);
    expect(leader()).toEqual(['Obed Tranter', 'Marsh Warden']);
    expect(place.json('tenures', 'Tranter').tenures.map(({ rank }: { rank: string }) => rank)).toEqual([
      'Under-Warden',
      'Marsh Warden',
    ]);
  });

  test('a slip in the name of the service is told, and its correction holds for the lines', () => {
    ladder('wardens');
    expect(listed('warden')).toMatch(/If wardens is meant: heldby amend s1 service wardens/);
    expect(leader()).toBeUndefined();
    done('amend', 's1', 'service', 'wardens', '--why', 'slip');
    expect(leader()).toEqual(['Obed Tranter', 'Marsh Warden']);
    expect(place.json('--as-of', '7', 'candidates', '--text', 'M. Wdn. O. Tranter').candidates).toEqual([]);
  });

  test('a service that a list has already, or that comes with the program, is not told of', () => {
    listed('marsh');
    expect(done('series', 'add', 'Second Register', '--service', 'marsh')).toBe('');
    expect(done('series', 'add', 'Third Register', '--service', 'army')).toBe('');
  });

  test.each<[what: string, words: string[]]>([
    ['another service of the list', ['amend', 's1', 'service', 'army']],
    ['another list of the edition', ['amend', 'ed2', 'series', 's2']],
    ['an abbreviation taken away', ['amend', 'rk2', 'abbreviations', '']],
    ['a rank withdrawn', ['withdraw', 'rk2']],
  ])('what would leave recorded ranks without a meaning is refused: %s', async (_what, words) => {
    listed('marsh');
    ladder('marsh');
    done('series', 'add', 'Annual List', '--service', 'army');
    await expectRefused(place, [...words, '--why', 'x'], {
      status: 4,
      code: 'RANK',
      message: /entries have the rank "(M|Und)\. Wdn\."/,
      hint: /\w/,
    });
  });
});
