import { describe, expect, test } from 'vitest';
import { bundleOf } from '../../src/inquiry/bundle.ts';
import { candidatesForMark } from '../../src/inquiry/candidates.ts';
import { lookupsFor } from '../../src/inquiry/lookups.ts';
import { madeOf } from '../../src/inquiry/made.ts';
import { provenanceOf } from '../../src/inquiry/provenance.ts';
import { rememberedDecisions } from '../../src/intake/decided.ts';
import type { Decision } from '../../src/intake/decisions.ts';
import { type BundleImport, importBundle } from '../../src/intake/import-bundle.ts';
import { kindNamed } from '../../src/ledger/kinds.ts';
import { idsOf } from '../../src/ledger/naming.ts';
import type { Db } from '../../src/ledger/open.ts';
import { resolveRef } from '../../src/ledger/refs.ts';
import { lastActId } from '../../src/ledger/undo.ts';
import { jsonLine } from '../../src/report/export-lines.ts';
import { act, emptyLedger, type LineObject, ledgerOf, recordLines, SMALL } from '../report/ledgers.ts';

/** Of the same service and names, but no candidate: a namesake two letters off would be one. */
const OTHERS: readonly LineObject[] = [
  { type: 'person', key: 'quill', surname: 'Quill', forenames: 'Oswald' },
  { type: 'entry', key: 'e90', edition: 'al-1834', person: 'quill', name: 'O. Quill', rank: 'Capt.', page: '90' },
  { type: 'object', key: '215', ref: '215', title: 'Oak stool' },
  { type: 'assumption', name: 'circa', value: '7', why: 'house rule' },
  { type: 'assumption', name: 'circa', value: '8', why: 'a better one' },
  { type: 'attribution', mark: 'm1', person: 'ferrand', grade: 'probably', why: 'the only one' },
  { type: 'setAside', record: 'e6', why: 'slid a line' },
  { type: 'same', person: 'ferrard', other: 'ferrard-2', why: 'one widow' },
  { type: 'person', key: 'ferrard-2', surname: 'Ferrard', forenames: 'Jas.' },
];

const bundle = (db: Db, object = '214'): string => {
  const { objects, records } = bundleOf(db, [resolveRef(db, kindNamed('object'), object)]);
  return `${JSON.stringify({ type: 'bundle', ledger: 'abc', objects })}\n${records.map(jsonLine).join('')}`;
};

const file = { name: '214.jsonl', sha256: 'a'.repeat(64), pictures: { file: undefined, keep: false } };

function bringIn(db: Db, text: string, given: Readonly<Record<string, Decision['answer']>> = {}): BundleImport {
  const decisions = rememberedDecisions(db, 'abc');
  for (const [record, answer] of Object.entries(given))
    decisions.set(record, { answer, here: undefined, why: undefined });
  class Open extends Error {
    readonly done: BundleImport;
    constructor(done: BundleImport) {
      super();
      this.done = done;
    }
  }
  try {
    return act(db, (into) => {
      const done = importBundle(into, text, decisions, file);
      if (done.questions.length > 0 || !done.isKept) throw new Open(done);
      return done;
    });
  } catch (error) {
    if (error instanceof Open) return error.done;
    throw error;
  }
}

/** Answers with keys in place of the numbers, which are each ledger's own. */
function answers(db: Db): unknown {
  const keys = new Map<string, string>();
  for (const { type, key } of bundleOf(db, idsOf(db, 'object')).records) {
    const kind = kindNamed(type);
    if (type === 'entry') continue;
    const id = db.prepare(`SELECT id FROM "current_${kind.table}" WHERE key = ?`).pluck().get(key);
    if (id !== undefined) keys.set(`${kind.prefix}${id}`, key);
  }
  for (const [id, key] of db.prepare('SELECT coalesce(id, row), key FROM current_entry').raw().all() as [
    number,
    string,
  ][])
    keys.set(`e${id}`, key);
  const marks = ['m1', 'm2'].filter((key) => [...keys.values()].includes(key));
  const said = [
    madeOf(db, '214'),
    provenanceOf(db, '214', 5),
    lookupsFor(db, '214', { limit: 20, cost: { usual: 10, ofSeries: new Map() }, plan: 2 }),
    ...marks.map((mark) => candidatesForMark(db, mark, { tried: 5 })),
  ];
  const text = JSON.stringify(said, (name, value) => (['act', 'kinships'].includes(name) ? undefined : value));
  return JSON.parse(text.replaceAll(/\b([a-z]{1,2}\d+)\b/g, (id) => keys.get(id) ?? id));
}

const mine = ledgerOf([...SMALL, ...OTHERS]);

describe('a bundle', () => {
  const text = bundle(mine);

  test('takes what the answers rest on, and nothing else', () => {
    expect(text).toContain('"ferrand"');
    expect(text).toContain('"type":"setAside"');
    expect(text).toContain('"type":"same"');
    expect(text).toContain('"type":"attribution"');
    expect(text).not.toContain('quill');
    expect(text).not.toContain('Oak stool');
    expect(text.match(/"type":"assumption"/g)).toHaveLength(1);
    expect(text).toContain('"value":"8"');
  });

  test('gives the same answers in an empty ledger, and comes twice without a trace', () => {
    const theirs = emptyLedger();
    expect(bringIn(theirs, text).questions).toEqual([]);
    expect(answers(theirs)).toEqual(answers(mine));
    const acts = lastActId(theirs);
    const again = bringIn(theirs, text);
    expect([...again.added]).toEqual([]);
    expect(again.corrected).toBe(0);
    expect(lastActId(theirs)).toBe(acts);
    expect(bundle(theirs)).toBe(text);
  });
});

describe('a bundle in the ledger of a colleague', () => {
  /** The same list under other keys, one man of it with another page and one the same. */
  const COLLEAGUE: readonly LineObject[] = [
    { type: 'series', key: 'annual', name: 'Annual list of the coast survey', service: 'army', lagDays: 60 },
    { type: 'edition', key: '1834', series: 'annual', label: '1834', asAt: '1 Jan. 1834' },
    { type: 'edition', key: '1838', series: 'annual', label: '1838', asAt: '1 Jan. 1838' },
    { type: 'person', key: 'jpf', surname: 'Ferrand', forenames: 'Julian Peter' },
    {
      type: 'entry',
      key: 'x1',
      edition: '1834',
      person: 'jpf',
      name: 'Ferrand, J. P.',
      rank: 'Lieutenant',
      corps: '2d Fencibles',
      dated: '1833-05-16',
      page: '213',
    },
    { type: 'object', key: 'o-1', ref: '900', title: 'Something else' },
  ];
  const text = bundle(ledgerOf(SMALL));

  test('knows equal series, editions, people and entries, however they are worded', () => {
    const theirs = ledgerOf(COLLEAGUE);
    const done = bringIn(theirs, text);
    expect(done.questions).toEqual([]);
    expect(idsOf(theirs, 'series')).toHaveLength(1);
    expect(idsOf(theirs, 'edition')).toHaveLength(5);
    expect(theirs.prepare('SELECT count(*) FROM current_entry').pluck().get()).toBe(7);
    const born = theirs
      .prepare(
        "SELECT d.text FROM current_person AS p JOIN date_expression AS d ON d.id = p.born_id WHERE p.key = 'jpf'",
      )
      .pluck()
      .get();
    expect(born, 'what the colleague did not know is added').toBe('1812');
    expect(bringIn(theirs, text)).toMatchObject({ corrected: 0, questions: [] });
  });

  test('asks where the two say different things, and does as it is decided', () => {
    const lines = COLLEAGUE.map((line) => (line['key'] === 'x1' ? { ...line, page: '231' } : line));
    const open = bringIn(ledgerOf(lines), text);
    expect(open.questions).toMatchObject([{ record: 'entry e2', here: 'e1', answers: ['mine', 'theirs', 'other'] }]);
    expect(open.questions[0]?.says).toContain('page: here "231", in the file "213"');
    for (const [answer, page] of [
      ['mine', 231],
      ['theirs', 213],
    ] as const) {
      const theirs = ledgerOf(lines);
      expect(bringIn(theirs, text, { 'entry e2': answer }).questions).toEqual([]);
      expect(theirs.prepare('SELECT page FROM current_entry WHERE coalesce(id, row) = 1').pluck().get()).toBe(page);
      const acts = lastActId(theirs);
      expect(bringIn(theirs, text).questions, 'what was decided is not asked again').toEqual([]);
      expect(lastActId(theirs)).toBe(acts);
    }
  });

  test('asks whether a namesake of whom nothing is recorded in common is the same', () => {
    const lines = [
      { type: 'person', key: 'other-ferrand', surname: 'Ferrand', forenames: 'J.' },
      { type: 'notice', person: 'other-ferrand', event: 'married', date: '1850', source: 'register' },
    ];
    expect(bringIn(ledgerOf(lines), text).questions).toMatchObject([{ record: 'person ferrand', here: 'p1' }]);
    const theirs = ledgerOf(lines);
    bringIn(theirs, text, { 'person ferrand': 'other' });
    expect(idsOf(theirs, 'person')).toHaveLength(4);
    const acts = lastActId(theirs);
    expect(bringIn(theirs, text).questions).toEqual([]);
    expect(lastActId(theirs)).toBe(acts);
    const one = ledgerOf(lines);
    expect(bringIn(one, text, { 'person ferrand': 'mine' }).questions).toEqual([]);
    expect(idsOf(one, 'person')).toHaveLength(3);
  });

  test('whoever is listed beside somebody of the name is another', () => {
    const theirs = ledgerOf([
      ...COLLEAGUE.slice(0, 3),
      { type: 'person', key: 'f', surname: 'Ferrand', forenames: 'J.' },
      { type: 'entry', edition: '1834', person: 'f', name: 'J. Ferrand', rank: 'Capt.', page: '1' },
    ]);
    expect(bringIn(theirs, text).questions).toEqual([]);
    expect(idsOf(theirs, 'person')).toHaveLength(4);
  });

  test('another object of the same reference is asked about, and gets a reference of its own', () => {
    const theirs = ledgerOf([{ type: 'object', key: 'z', ref: '214', title: 'Iron kettle' }]);
    expect(bringIn(theirs, text).questions).toMatchObject([{ record: 'object 214', here: 'o1' }]);
    bringIn(theirs, text, { 'object 214': 'other' });
    expect(theirs.prepare('SELECT ref FROM current_object ORDER BY id').pluck().all()).toEqual(['214', '214-2']);
    const acts = lastActId(theirs);
    bringIn(theirs, text);
    expect(lastActId(theirs)).toBe(acts);
  });

  test('a changed assumption is asked about where it would bear on other objects', () => {
    const withCirca = bundle(ledgerOf([...SMALL, { type: 'assumption', name: 'circa', value: '8', why: 'ours' }]));
    const theirs = ledgerOf(COLLEAGUE);
    expect(bringIn(theirs, withCirca).questions.map(({ here }) => here)).toEqual(['assumption circa']);
    expect(bringIn(emptyLedger(), withCirca).questions).toEqual([]);
  });

  test('two records that are alike stay two', () => {
    const twice = ledgerOf([
      ...SMALL,
      { type: 'notice', person: 'ferrand', event: 'other', date: '1850', note: 'a' },
      { type: 'notice', person: 'ferrand', event: 'other', date: '1850', note: 'b' },
    ]);
    const theirs = emptyLedger();
    const twiceText = bundle(twice);
    expect(bringIn(theirs, twiceText).questions).toEqual([]);
    expect(idsOf(theirs, 'notice')).toHaveLength(3);
    recordLines(theirs, [{ type: 'object', ref: '1', title: 'x' }]);
    expect(bringIn(theirs, twiceText)).toMatchObject({ questions: [], corrected: 0 });
  });
});
