import { writeFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { makePlace, type Place } from './heldby.ts';

let place: Place;
beforeAll(() => {
  place = makePlace();
  place.json('init');
  place.json('series', 'add', 'Annual List of the Coast Survey', '--service', 'army');
  for (let year = 1830; year < 1840; year += 1)
    place.json('edition', 'add', 'Coast Survey', String(year), '--as-at', `1 Jan. ${year}`);
  const entry = (year: string, person: string) =>
    place.json('entry', 'add', year, '--person', person, '--new', '--rank', 'Lieut.', '--corps', '2nd Fencibles');
  entry('1832', 'Julian Peter Ferrand');
  entry('1837', 'John Ferrand');
  place.json('object', 'add', '214', '--title', 'Brass-bound writing slope');
  place.json('feature', 'add', '214', '--fact', 'screw-hand', '--part', 'straps');
  place.json('feature', 'add', '214', 'lock', '--window', '1830-05-11/..', '--force', 'hard');
  place.json('mark', 'add', '214', 'Lieut. J. Ferrand', '--role', 'owner', '--made', '1834/1836');
  place.json('mark', 'add', '214', 'Pallant’s Depository. V.R.', '--role', 'depository');
});
afterAll(() => place.remove());

const says = (...words: string[]) => {
  const { out, err, status } = place.run(...words);
  expect(`${words.join(' ')}: ${status}`).toBe(`${words.join(' ')}: 0`);
  return { out, err };
};

describe('made', () => {
  test('JSON as it is documented', () => {
    const made = place.json('made', '214');
    expect(made.object).toEqual({ id: 'o1', key: null, ref: '214', title: 'Brass-bound writing slope' });
    expect(made.windows[0]).toMatchObject({
      id: 'f1',
      from: '1670-01-01',
      to: '1835-12-31',
      force: 'usual',
      state: 'original',
      fact: 'screw-hand',
    });
    expect(made.span.from).toBe('1830-05-11');
    expect(Object.keys(made.withMarks)).toEqual(expect.arrayContaining(['span', 'half', 'phrase']));
    expect(made.about.program).toContain('heldby');
    expect(made.facts).toEqual([{ fact: 'screw-hand', records: ['f1'] }]);
  });
  test.each([40, 80, 160])('the picture at a width of %i keeps to it', (columns) => {
    const { out } = place.with({ env: { COLUMNS: String(columns) } }, 'made', '214');
    for (const line of out.split('\n')) expect([...line].length).toBeLessThanOrEqual(Math.max(columns, 40));
    expect(out).toMatch(/[▁▂▃▄▅▆▇█]/u);
    expect(out).toMatch(/━/u);
  });
  test('cautions go to the other stream', () => {
    const { out, err } = says('made', '214');
    expect(err).toContain('Caution: This is an opinion');
    expect(out).not.toContain('Caution');
  });
  test('no such object', () => expect(place.run('made', '999').status).toBe(3));
});

test.each(['made 214', 'provenance 214', 'lookups m1', 'clues m2', 'fact find screw'])(
  '%s says the same in colour',
  (line) => {
    const words = line.split(' ');
    const colour = place.with({ env: { FORCE_COLOR: '1', COLUMNS: '160' } }, ...words).out;
    const plain = place.with({ env: { COLUMNS: '160' } }, ...words).out;
    const codes = new RegExp(`${String.fromCharCode(27)}\\[\\d+m`, 'g');
    expect(colour).not.toBe(plain);
    const joined = (text: string) => text.replaceAll(codes, '').replaceAll(/\s+/g, ' ');
    expect(joined(colour)).toBe(joined(plain));
  },
);

describe('provenance', () => {
  test('JSON as it is documented', () => {
    const { chains, holders, made, text, leftOut } = place.json('provenance', '214', '--chains', '2');
    expect(chains).toHaveLength(2);
    expect(chains[0].holders[0]).toMatchObject({ mark: 'm1', link: null });
    expect(holders.reduce((sum: number, { share }: { share: number }) => sum + share, 0)).toBeCloseTo(1, 6);
    expect(made.phrase).toMatch(/^18/);
    expect(text).toContain('“Lieut. J. Ferrand”');
    expect(leftOut).toEqual({ candidates: 0, share: 0, atMost: 0, summedTogether: 0, sharesWithin: 0 });
  });
  test('in words', () => expect(says('provenance', '214').out).toContain('For print'));
  test('a bad number of chains', () => expect(place.run('provenance', '214', '--chains', 'x').status).toBe(2));
});

describe('lookups', () => {
  test('JSON as it is documented', () => {
    const { lookups } = place.json('lookups', 'm1');
    expect(lookups[0]).toMatchObject({ edition: { label: expect.any(String) }, gain: expect.any(Number) });
    expect(lookups[0].answers[0]).toMatchObject({
      answer: expect.any(String),
      chance: expect.any(Number),
      leaderShare: expect.any(Number),
    });
  });
  test('a plan with costs, in words', () => {
    const { out } = says('lookups', '214', '--plan', '2', '--cost', '5', '--cost', 'Coast Survey=9');
    expect(out).toContain('In one visit');
    expect(out).toContain('cost 10');
  });
  test.each([
    ['--plan', '9'],
    ['--cost', 'dear'],
    ['--limit', '0'],
  ])('%s %s is wrong usage', (...words) => expect(place.run('lookups', 'm1', ...words).status).toBe(2));
});

describe('clues', () => {
  test('found, then confirmed', () => {
    expect(place.json('clues', 'm2').clues).toMatchObject([
      { fact: 'depository', confirmed: null },
      { fact: 'vr', words: 'V.R.', confirmed: null },
    ]);
    expect(place.json('clue', 'confirm', 'm2', 'vr', '--why', 'the cypher is clear')).toEqual({
      id: 'cl1',
      act: expect.any(Number),
    });
    expect(place.json('clues', 'm2').clues[1].confirmed).toBe('cl1');
    expect(place.json('made', '214').withMarks.marks[1].from >= '1837-06-20').toBe(true);
    place.json('undo');
    expect(place.json('clues', 'm2').clues[1].confirmed).toBeNull();
  });
  test('a fact that the mark does not show needs its words', () => {
    const ran = place.run('clue', 'confirm', 'm2', 'duty-mark');
    expect(ran.status).toBe(4);
    expect(ran.err).toContain('--words');
  });
  test('words need no ledger', () => {
    const bare = makePlace();
    expect(bare.json('clues', 'via Suez Canal').clues).toMatchObject([{ fact: 'via-suez' }]);
    expect(bare.run('clues', 'm1').status).toBe(3);
    bare.remove();
  });
  test('a fact of the house’s own', () => {
    place.json(
      'fact',
      'add',
      'pallant',
      'Pallant’s under that name',
      '--window',
      '1874/1889',
      '--force',
      'hard',
      '--pattern',
      'Pallant’s',
    );
    expect(place.json('clues', 'm2').clues[0]).toMatchObject({ fact: 'pallant', id: 'ft1', force: 'hard' });
    expect(place.json('fact', 'find', 'pallant').facts).toMatchObject([{ id: 'ft1', kind: 'own', found: true }]);
    expect(place.run('fact', 'add', 'pallant', 'again', '--window', '1900').status).toBe(4);
    expect(place.run('fact', 'add', 'other', 'no words', '--window', '1900', '--pattern', '*').status).toBe(4);
    place.json('undo');
  });
});

describe('a mark whose role is uncertain', () => {
  test('recorded with weights, asked, amended, and the same again from JSON Lines', () => {
    const other = makePlace();
    try {
      other.json('init');
      const lines = [
        { type: 'series', key: 'al', name: 'Annual List', service: 'army' },
        { type: 'edition', key: 'e', series: 'al', label: '1834', asAt: '1834-01-01' },
        { type: 'person', key: 'f', surname: 'Ferrand', forenames: 'Julian' },
        { type: 'entry', edition: 'e', person: 'f', name: 'J. Ferrand', rank: 'Lieut.' },
        { type: 'object', key: '1', ref: '1', title: 'Slope' },
        { type: 'mark', key: 'a', object: '1', text: 'Lieut. J. Ferrand', role: { owner: 0.7, maker: 0.3 } },
      ];
      writeFileSync(other.path('in.jsonl'), lines.map((line) => JSON.stringify(line)).join('\n'));
      other.json('import', 'in.jsonl');
      other.json('mark', 'add', '1', 'Lieut. J. Ferrand', '--role', 'maker 30 %; owner 70 %', '--key', 'b');
      const [a, b] = [other.json('candidates', 'a'), other.json('candidates', 'b')];
      expect(b.mark.role).toBe('owner 0.7, maker 0.3');
      expect(b.candidates[0].share).toBeCloseTo(a.candidates[0].share, 12);
      expect(a.noHolder.share).toBeCloseTo(0.3, 12);
      const { out } = other.run('candidates', 'a');
      expect(out).toContain('30.0 %  maker: it names no holder then');
      expect(out).toMatch(/owner \(70\.0 %\): Julian Ferrand/u);
      expect(other.run('made', '1').out).toContain('if owner for certain (70.0 %): made');
      expect(other.run('provenance', '1').out).toContain('How much hangs on what m1 is');
      expect(other.run('report', '1').out).toContain('owner’s mark or maker’s mark');
      expect(other.run('grounds', 'a', 'share').out).toContain('the role of the mark is uncertain');
      const written = other.run('export', 'marks').out;
      expect(written).toContain('"role":"owner 0.7, maker 0.3"');
      expect(other.run('amend', 'a', 'role', 'owner 0.7, maker', '--why', 'test')).toMatchObject({ status: 4 });
      other.json('amend', 'a', 'role', 'owner', '--why', 'it is');
      expect(other.json('candidates', 'a').noHolder.share).toBe(0);
      const refused = other.run('mark', 'add', '1', 'X', '--role', 'owner 0.7, sale 0.2');
      expect(refused.status).toBe(4);
      expect(refused.err).toContain('The weights of the roles add up to 0.9, not 1.');
    } finally {
      other.remove();
    }
  });
});
