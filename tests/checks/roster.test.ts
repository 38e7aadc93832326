/**
 * An open roster, through the real `import` and `candidates`: ten two-yearly lists of a legislature, one row a person and
 * list. Source: fivethirtyeight/data, congress-demographics (data_aging_congress.csv), CC BY 4.0; the rows of 1919–1939.
 */
import { readFileSync } from 'node:fs';
import { parse } from 'csv-parse/sync';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type CandidatesAnswer, candidatesForText } from '../../src/inquiry/candidates.ts';
import { type Db, openLedger } from '../../src/ledger/open.ts';
import { fold } from '../../src/services/fold.ts';
import { gregorianDay } from '../../src/time/calendar.ts';
import type { Day, Span } from '../../src/time/span.ts';
import { makePlace, type Place } from '../cli/heldby.ts';

type Row = {
  person_id: string;
  name: string;
  surname: string;
  forenames: string;
  rank_or_office: string;
  corps_or_state: string;
  start: string;
  end: string;
  source: string;
};

const FILE = new URL('./data/roster-1919-1939.csv', import.meta.url);
const rows = parse(readFileSync(FILE, 'utf8'), { columns: true }) as Row[];

let place: Place;
let db: Db;
beforeAll(() => {
  place = makePlace();
  place.json('init');
  place.json('series', 'add', 'Roster', '--service', 'legislature');
  const map = [
    'person=person_id',
    'rank=rank_or_office',
    'corps=corps_or_state',
    'edition=source',
    'as_at=start',
  ].flatMap((each) => ['--map', each]);
  place.json('import', FILE.pathname, '--series', 'Roster', ...map);
  db = openLedger(place.path('heldby.sqlite'), 'read');
});
afterAll(() => {
  db.close();
  place.remove();
});

const day = (iso: string): Day => {
  const [year = 0, month = 0, date = 0] = iso.split('-').map(Number);
  return gregorianDay(year, month, date);
};

/** Every (surname, office, list), with everybody whom the rows list under it. */
function keys(): Map<string, { surname: string; office: string; period: Span; people: Set<string> }> {
  const found = new Map<string, { surname: string; office: string; period: Span; people: Set<string> }>();
  for (const row of rows) {
    const key = `${fold(row.surname)} ${row.rank_or_office} ${row.source}`;
    const known = found.get(key) ?? {
      surname: row.surname,
      office: row.rank_or_office,
      period: { from: day(row.start), until: day(row.end) },
      people: new Set(),
    };
    found.set(key, known);
    known.people.add(row.person_id);
  }
  return found;
}

const asked = (surname: string, office: string, between: Span): CandidatesAnswer =>
  candidatesForText(
    db,
    { text: surname, role: 'owner', parts: { surname, rank: office, forenames: '' } },
    { between, tried: 0 },
  );

const nothingAgainst = ({ bits }: CandidatesAnswer['candidates'][number]): boolean =>
  Object.values(bits).every((each) => each === 0);

describe('each surname, office and list of the roster, asked for the list’s own period', () => {
  test('everybody who is listed is returned with nothing against them; whoever else is, can have been in the office by their bounds', () => {
    const all = keys();
    let listed = 0;
    let returned = 0;
    const missing: string[] = [];
    const unexplained: string[] = [];
    for (const [key, { surname, office, period, people }] of all) {
      const answer = asked(surname, office, period);
      const agreeing = answer.candidates.filter(nothingAgainst);
      returned += agreeing.length;
      listed += people.size;
      for (const person of people)
        if (!agreeing.some((each) => each.person.key === person)) missing.push(`${key}: ${person}`);
      for (const each of agreeing)
        if (!people.has(each.person.key ?? '') && each.possibleOverlap === null)
          unexplained.push(`${key}: ${each.person.name}`);
      const sum = answer.candidates.reduce((total, { share }) => total + share, answer.unrecorded.share);
      expect(Math.abs(sum - 1)).toBeLessThan(1e-9);
    }
    expect(missing).toEqual([]);
    expect(unexplained).toEqual([]);
    // Counted over the rows with a spreadsheet's means: distinct (surname, office, list), and people under them.
    expect(all.size).toBe(COUNTS.keys);
    expect(listed).toBe(COUNTS.listed);
    expect(returned).toBeGreaterThanOrEqual(listed);
  });

  test('the command itself gives the same answer', () => {
    for (const [surname, office, from, to] of [
      ['SMITH', 'House', '1921-03-04', '1923-03-03'],
      ['LA FOLLETTE', 'Senate', '1925-03-04', '1927-03-03'],
    ] as const) {
      const ran = place.json(
        'candidates',
        '--text',
        surname,
        '--surname',
        surname,
        '--forenames',
        '',
        '--rank',
        office,
        '--between',
        from,
        to,
      );
      const here = asked(surname, office, { from: day(from), until: (day(to) + 1) as Day });
      expect(
        ran.candidates.map((each: { person: { key: string }; share: number }) => [each.person.key, each.share]),
      ).toEqual(here.candidates.map((each) => [each.person.key, each.share]));
    }
  });
});

test('the rows in the ledger are those of the file', () => {
  expect(place.json('list', 'entries', '--limit', '1').total).toBe(rows.length);
  expect(place.json('list', 'people', '--limit', '1').total).toBe(new Set(rows.map(({ person_id }) => person_id)).size);
  expect(
    place.json(
      'import',
      FILE.pathname,
      '--series',
      'Roster',
      '--map',
      'person=person_id',
      '--map',
      'rank=rank_or_office',
      '--map',
      'corps=corps_or_state',
      '--map',
      'edition=source',
      '--map',
      'as_at=start',
    ).act,
  ).toBeNull();
});

const COUNTS = { keys: 5078, listed: 5551 };
