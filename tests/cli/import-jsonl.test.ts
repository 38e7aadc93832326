import { copyFileSync, writeFileSync } from 'node:fs';
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { KINDS } from '../../src/ledger/kinds.ts';
import { openLedger } from '../../src/ledger/open.ts';
import { currentRecords } from '../../src/ledger/reading-records.ts';
import { EVERY_RECORD } from './every-record.ts';
import { makePlace, type Place } from './heldby.ts';
import { expectRefused, fillLedger, hashOf, writeLines } from './refusals.ts';

let place: Place;
beforeAll(() => {
  place = makePlace();
  fillLedger(place);
  copyFileSync(place.path('heldby.sqlite'), place.path('filled'));
});
beforeEach(() => copyFileSync(place.path('filled'), place.path('heldby.sqlite')));
afterAll(() => place.remove());

const file = (...lines: (object | string)[]) => writeLines(place, 'some.jsonl', lines);
const imported = (...lines: (object | string)[]) => place.json('import', file(...lines));

/** Everything that is current, by type and key, each reference by the key of the record that it names. */
function toldByKeys(own: Place): Record<string, Readonly<Record<string, unknown>>> {
  const db = openLedger(own.path('heldby.sqlite'), 'read');
  const records = KINDS.flatMap((kind) =>
    [...currentRecords(db, kind)].map((record) => ({ ...record, type: kind.kind })),
  );
  db.close();
  const keys = new Map(records.map(({ id, key }) => [id, key ?? id]));
  const named = (value: unknown) => (typeof value === 'string' ? (keys.get(value) ?? value) : value);
  return Object.fromEntries(
    records.map(({ type, id, key, fields }) => [
      `${type} ${key ?? id}`,
      Object.fromEntries(Object.entries(fields).map(([name, value]) => [name, named(value)])),
    ]),
  );
}

describe('every type of record', () => {
  let told: ReturnType<typeof toldByKeys>;
  let own: Place;
  beforeAll(() => {
    own = makePlace();
    own.json('init');
    own.json('import', writeLines(own, 'all.jsonl', EVERY_RECORD));
    told = toldByKeys(own);
  });
  afterAll(() => own.remove());

  test('is recorded with all its fields', () => {
    const text = (value: unknown) => (Array.isArray(value) ? value : String(value));
    const lasting = EVERY_RECORD.filter(({ key }) => key !== undefined && key !== 'two');
    expect(Object.keys(told).sort()).toEqual(lasting.map(({ type, key }) => `${type} ${key}`).sort());
    for (const { type, key, ...fields } of lasting) {
      const said = told[`${type} ${key}`] ?? {};
      const note = key === 'ferrand' ? { note: 'of Oakhaven and Sandwell' } : {};
      for (const [name, value] of Object.entries({ ...fields, ...note }))
        if (value !== null) expect(text(said[name]), `${type} ${key}: ${name}`).toEqual(text(value));
    }
    expect(own.json('verify').findings).toEqual([]);
  });

  test.each<[order: string, lines: readonly object[]]>([
    ['backwards', [...EVERY_RECORD].reverse()],
    [
      'shuffled',
      EVERY_RECORD.map((line, index) => [(index * 17) % EVERY_RECORD.length, line] as const)
        .sort(([a], [b]) => a - b)
        .map(([, line]) => line),
    ],
  ])('in any order, one says the same: %s', (_order, lines) => {
    // Corrections of one record are taken in the order in which they stand.
    const corrections = EVERY_RECORD.filter(({ type }) => type === 'amendment');
    const other = makePlace();
    other.json('init');
    other.json(
      'import',
      writeLines(other, 'all.jsonl', [...lines.filter((line) => !corrections.includes(line as never)), ...corrections]),
    );
    expect(toldByKeys(other)).toEqual(told);
    other.remove();
  });

  test.each<[what: string, corrections: boolean]>([
    ['what is said', false],
    ['corrections of it', true],
  ])('a second time records nothing: %s', (_what, corrections) => {
    const again = EVERY_RECORD.filter(({ key }) => (key === undefined) === corrections);
    const before = hashOf(own.path('heldby.sqlite'));
    expect(own.json('import', writeLines(own, 'again.jsonl', again))).toMatchObject({ act: null, known: again.length });
    expect(hashOf(own.path('heldby.sqlite'))).toBe(before);
  });
});

describe('references', () => {
  const OBJECT = { type: 'object', key: '9', ref: '9', title: 'Telescope' };
  test('by a key of the file mean its own record, whatever ids the ledger has', () => {
    const mark = (key: string, text: string) => ({ type: 'mark', key, object: '9', text, role: 'owner' });
    imported(
      OBJECT,
      mark('m2', 'LOWER'),
      mark('m1', 'UPPER'),
      { type: 'reading', key: 'r', mark: 'm1', text: 'UPPER?' },
      { type: 'setAside', key: 'x', record: 'm2', why: 'tried' },
    );
    expect(place.json('show', 'r').record.fields.mark).toBe(
      place.json('list', 'marks', '--where', 'text=UPPER').records[0].id,
    );
    expect(place.json('show', 'x').record.fields.record).toBe(
      place.json('list', 'marks', '--where', 'text=LOWER').records[0].id,
    );
  });

  test('by key, id, or words, to what the ledger has', () => {
    imported(
      { type: 'kin', key: 'k', person: 'holt', relation: 'kin', relative: 'p1' },
      { type: 'kin', key: 'l', person: 'Anne Ferrand', relation: 'child', relative: 'Ralph Holt' },
    );
    expect([place.json('show', 'k').record.fields, place.json('show', 'l').record.fields]).toMatchObject([
      { person: 'p2', relative: 'p1' },
      { person: 'p3', relative: 'p2' },
    ]);
  });

  test.each<[what: string, lines: object[], where: RegExp, message: RegExp]>([
    [
      'to nothing',
      [{ type: 'mark', key: 'a', object: 'nowhere', text: 'A', role: 'owner' }],
      /^line 1, field object$/,
      /"nowhere"/,
    ],
    [
      'that fits two records',
      [{ type: 'kin', person: 'holt', relation: 'kin', relative: 'Ferrand' }],
      /^line 1, field relative$/,
      /fits 2 people/,
    ],
    [
      'of a mark to itself',
      [OBJECT, { type: 'mark', key: 'a', object: '9', text: 'A', role: 'owner', over: 'a' }],
      /^line 2\b/,
      /itself/,
    ],
    [
      'of marks in a ring',
      [
        OBJECT,
        ...['a', 'b', 'c'].map((key, i) => ({
          type: 'mark',
          key,
          object: '9',
          text: 'A',
          role: 'owner',
          over: 'bca'[i],
        })),
      ],
      /^line 2\b/,
      /itself/,
    ],
    [
      'of a corps in a ring',
      [
        { type: 'corps', key: 'a', name: 'A', sameAs: 'b' },
        { type: 'corps', key: 'b', name: 'B', sameAs: 'a' },
      ],
      /^line \d\b/,
      /itself/,
    ],
    [
      'to a record of another kind',
      [{ type: 'notice', person: 'slope', event: 'died', date: '1850' }],
      /^line 1, field person$/,
      /"slope"/,
    ],
  ])('refused: %s', async (_what, lines, where, message) => {
    await expectRefused(place, ['import', file(...lines)], { status: 4, code: 'INPUT_FILE', where, message });
  });

  test('however long a chain of marks is', () => {
    const long = 20_000;
    writeFileSync(
      place.path('long.jsonl'),
      [
        OBJECT,
        ...Array.from({ length: long }, (_, i) => ({
          type: 'mark',
          key: `k${i}`,
          object: '9',
          text: 'A',
          role: 'owner',
          over: i + 1 < long ? `k${i + 1}` : null,
        })),
      ]
        .map((each) => JSON.stringify(each))
        .join('\n'),
    );
    const ran = place.run('import', 'long.jsonl', '--json');
    expect([0, 4]).toContain(ran.status);
  });
});

describe('what a file may be like', () => {
  test('with a byte order mark, CRLF and empty lines', () => {
    writeFileSync(
      place.path('some.jsonl'),
      '\ufeff{"type":"person","key":"a","name":"Ann Drewe"}\r\n\r\n  \n{"type":"person","key":"b","name":"Bea Drewe"}',
    );
    expect(place.json('import', 'some.jsonl').added).toEqual({ people: 2 });
  });
  test('empty', () => expect(imported()).toMatchObject({ act: null, added: {}, known: 0 }));
  test('on standard input', () =>
    expect(
      place.with({ input: '{"type":"person","key":"a","name":"Ann Drewe"}' }, 'import', '-', '--format', 'jsonl'),
    ).toMatchObject({ status: 0, out: expect.stringContaining('Recorded in act 2') }));
  test('a line twice is one record', () => {
    const line = { type: 'person', key: 'a', name: 'Ann Drewe' };
    expect(imported(line, line)).toMatchObject({ added: { people: 1 }, known: 1 });
  });
  test('after an undo it is recorded again', () => {
    const line = { type: 'person', key: 'a', name: 'Ann Drewe' };
    imported(line);
    place.json('undo');
    expect(imported(line)).toMatchObject({ act: 4, added: { people: 1 } });
    expect(place.json('list', 'people').total).toBe(4);
  });
});
