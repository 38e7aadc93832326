import { describe, expect, test } from 'vitest';
import { type LedgerState, recordChanges } from '../../src/inquiry/changes.ts';
import { lotChanges } from '../../src/inquiry/changes-lots.ts';
import { reportOf } from '../../src/inquiry/report.ts';
import { standAsOf } from '../../src/ledger/as-of.ts';
import { kindNamed } from '../../src/ledger/kinds.ts';
import { type Db, openLedger } from '../../src/ledger/open.ts';
import { amendRecord, withdrawRecord } from '../../src/ledger/records.ts';
import { lastActId, undoAct } from '../../src/ledger/undo.ts';
import { lotChangesInWords, recordChangeInWords } from '../../src/report/changes.ts';
import { wordsOf } from '../../src/report/words.ts';
import { act, type LineObject, ledgerOf, recordLines, SMALL } from '../report/ledgers.ts';
import { styleWith } from '../report/printed.ts';

const words = wordsOf(styleWith());
function stateAfter(db: Db, number: number): LedgerState {
  const then = openLedger(db.name, 'read');
  standAsOf(then, number);
  return { db: then, act: number };
}
const recordsBetween = (db: Db, from: number, to: number): string[] =>
  recordChanges(stateAfter(db, from), stateAfter(db, to)).records.map((change) => recordChangeInWords(change, words));

const adding =
  (...lines: LineObject[]) =>
  (db: Db): void =>
    recordLines(db, lines);

describe('records between two states', () => {
  const db = ledgerOf(SMALL);
  act(db, (into) => amendRecord(into, kindNamed('notice'), 1, { source: 'Gazette, p. 48' }, 'misread'));
  act(db, (into) => withdrawRecord(into, kindNamed('search'), 1, 'wrong volume'));
  recordLines(db, [{ type: 'person', name: 'Anne Fenn' }]);
  const added = lastActId(db);
  act(db, (into) => undoAct(db, into.act, added), '2026-11-26T00:00:00.000Z', added);

  test.each<[rule: string, from: number, to: number, expected: RegExp[]]>([
    ['1 corrected', 1, 2, [/^n1 changed: .* \(source: Oakhaven Gazette, 8 Feb. 1839, p. 47 → Gazette, p. 48\)$/]],
    ['2 withdrawn', 2, 3, [/^q1 gone: James Ferrard not found/]],
    ['3 added', 3, 4, [/^p4 added: Anne Fenn/]],
    ['4 undone', 4, 5, [/^p4 gone: Anne Fenn/]],
    ['5 added and undone in between', 3, 5, []],
    ['6 the later state first', 4, 3, [/^p4 gone: Anne Fenn/]],
    ['7 one state against itself', 3, 3, []],
  ])('%s', (_rule, from, to, expected) => {
    const found = recordsBetween(db, from, to);
    expect(found).toHaveLength(expected.length);
    for (const [place, pattern] of expected.entries()) expect(found[place]).toMatch(pattern);
  });

  test('the acts between them, with who, when, how and why', () => {
    const { acts } = recordChanges(stateAfter(db, 1), stateAfter(db, 3));
    expect(acts.map(({ id, who }) => [id, who])).toEqual([
      [2, 'tester'],
      [3, 'tester'],
    ]);
  });
});

describe('how a lot reads otherwise after one more act', () => {
  const steps: readonly [rule: string, work: (db: Db) => void, expected: RegExp | undefined][] = [
    ['what bears on nothing changes nothing', adding({ type: 'person', name: 'Anne Fenn' }), undefined],
    ['a mark added', adding({ type: 'mark', object: '214', text: 'No. 7', role: 'other' }), /^Mark added: “No. 7”\.$/],
    [
      'another reading of a mark',
      adding({ type: 'reading', mark: 'm2', text: 'Pallant’s Depository, Saltmere. Miss A. H[---]' }),
      /^Mark changed: “Pallant’s Depository, Saltmere. Miss A. Holt”\.$/,
    ],
    [
      'the title',
      (db) => act(db, (into) => amendRecord(into, kindNamed('object'), 1, { title: 'Writing slope' }, 'shorter')),
      /^Title: Brass-bound writing slope → Writing slope\.$/,
    ],
    [
      'a page',
      (db) => act(db, (into) => amendRecord(into, kindNamed('entry'), 2, { page: '214' }, 'misread')),
      /^Note: .*p\. 214; before: .*p\. 213\.$/,
    ],
    [
      'a search',
      adding({ type: 'search', edition: 'al-1838', person: 'ferrard', outcome: 'not found' }),
      /^Searched: Annual List of the Coast Survey, 1838 .*: James Ferrard not found\.$/,
    ],
    [
      'a rule of reckoning',
      adding({ type: 'assumption', name: 'circa', value: '7', why: 'house rule' }),
      /^Rule of reckoning circa: 7, not the default\.$/,
    ],
    [
      'the researcher’s own conclusion, and with it what is open',
      adding({ type: 'attribution', mark: 'm1', person: 'ferrand', why: 'both initials' }),
      /^No longer open: Nobody has said why .* is not of James Ferrard\.$/,
    ],
    [
      'a feature added, and with it the making',
      adding({ type: 'feature', object: '214', text: 'label', window: '1836/1840', force: 'hard' }),
      /^Made 1836–\d\d, not 1830–37\.$/,
    ],
    [
      'a rival added',
      adding(
        { type: 'person', key: 'ferrond', surname: 'Ferrond', forenames: 'John' },
        { type: 'entry', edition: 'al-1836', person: 'ferrond', name: 'J. Ferrond', rank: 'Lieut.', dated: '1835' },
      ),
      /John Ferrond is now considered\.$/,
    ],
  ];
  const db = ledgerOf(SMALL);
  for (const [, work] of steps) work(db);
  const reports = [1, ...steps.map((_, place) => place + 2)].map((number) => {
    const { db: then } = stateAfter(db, number);
    return reportOf(then, '214', number);
  });

  test.each(steps.map(([rule, , expected], place) => [rule, expected, place] as const))(
    '%s',
    (_rule, expected, place) => {
      const [before, after] = [reports[place] ?? null, reports[place + 1] ?? null];
      const found = lotChangesInWords(lotChanges(before, after), before, after, words);
      if (expected === undefined) return expect(found).toEqual([]);
      expect(
        found.some((line) => expected.test(line)),
        found.join('\n'),
      ).toBe(true);
      for (const line of found) expect(line).not.toMatch(/\{\w+\}|undefined|\[object/);
    },
  );

  test('a lot that is new, and one that is gone', () => {
    const [lot = null] = reports;
    expect(lotChangesInWords(lotChanges(null, lot), null, lot, words)).toEqual(['The lot is new.']);
    expect(lotChangesInWords(lotChanges(lot, null), lot, null, words)).toEqual(['The lot is no longer there.']);
    expect(lotChanges(null, null)).toEqual([]);
  });
});
