import { describe, expect, test } from 'vitest';
import { historyLines } from '../../src/inquiry/export-history.ts';
import { rememberedDecisions } from '../../src/intake/decided.ts';
import type { Decision } from '../../src/intake/decisions.ts';
import { importHistory } from '../../src/intake/import-history.ts';
import { ledgerOfHistory, type Merged, mergeHistory } from '../../src/intake/merge-history.ts';
import { kindNamed } from '../../src/ledger/kinds.ts';
import { idsOf } from '../../src/ledger/naming.ts';
import type { Db } from '../../src/ledger/open.ts';
import { readRecord } from '../../src/ledger/reading-records.ts';
import { addRecord, amendRecord, withdrawRecord } from '../../src/ledger/records.ts';
import { actsNewestFirst, lastActId, undoAct } from '../../src/ledger/undo.ts';
import { verifyLedger } from '../../src/ledger/verify.ts';
import { act, emptyLedger, ledgerOf, recordLines, SMALL } from '../report/ledgers.ts';

const historyOf = (db: Db): string =>
  [...historyLines(db, undefined)].map((line) => `${JSON.stringify(line)}\n`).join('');

/** A copy of a ledger, as a colleague goes on with it. */
function copyOf(db: Db): Db {
  const copy = emptyLedger();
  importHistory(copy, historyOf(db));
  return copy;
}

function merge(db: Db, text: string, given: Readonly<Record<string, Decision['answer']>> = {}): Merged {
  const decisions = rememberedDecisions(db, ledgerOfHistory(text));
  for (const [record, answer] of Object.entries(given))
    decisions.set(record, { answer, here: undefined, why: undefined });
  const file = { name: 'history.jsonl', sha256: 'b'.repeat(64), pictures: { file: undefined, keep: false } };
  const origin = {
    at: '2026-11-28T10:00:00.000Z',
    who: 'ann',
    command: 'heldby import history.jsonl',
    why: undefined,
    program: '0.1.0',
  };
  return mergeHistory(db, text, decisions, file, { origin, dryRun: false });
}

const field = (db: Db, kind: 'entry' | 'person', id: number, name: string): unknown =>
  readRecord(db, kindNamed(kind), id)?.fields[name];
const amend = (db: Db, page: string, at: string): boolean =>
  act(db, (into) => amendRecord(into, kindNamed('entry'), 2, { page }, 'looked again'), at);

describe('two ledgers of one project', () => {
  test('what each did since the common beginning is in both, and comes once', () => {
    const mine = ledgerOf(SMALL);
    const theirs = copyOf(mine);
    recordLines(
      mine,
      [{ type: 'edition', key: 'al-1842', series: 'al', label: '1842', asAt: '1842' }],
      '2026-11-26T09:00:00.000Z',
    );
    recordLines(
      theirs,
      [
        { type: 'edition', key: 'al-1842', series: 'al', label: '1842', asAt: '1842' },
        { type: 'entry', edition: 'al-1842', person: 'ferrand', name: 'J. P. Ferrand', rank: 'Capt.', page: '205' },
      ],
      '2026-11-26T10:00:00.000Z',
    );
    amend(theirs, '214', '2026-11-26T11:00:00.000Z');
    const done = merge(mine, historyOf(theirs));
    expect(done).toMatchObject({ acts: 2, knownActs: 1, added: 1, corrected: 1, questions: [], notes: [] });
    expect(idsOf(mine, 'edition')).toHaveLength(6);
    expect(field(mine, 'entry', 2, 'page')).toBe('214');
    expect(verifyLedger(mine)).toEqual([]);
    const [closing, third] = actsNewestFirst(mine, 2);
    expect(closing?.who).toBe('ann');
    expect(third, 'an act keeps who did it, and when').toMatchObject({ who: 'tester', at: '2026-11-26T11:00:00.000Z' });
    const acts = lastActId(mine);
    expect(merge(mine, historyOf(theirs))).toMatchObject({ acts: 0, added: 0, corrected: 0 });
    expect(lastActId(mine)).toBe(acts);
    expect(merge(theirs, historyOf(mine)).questions).toEqual([]);
    expect(idsOf(theirs, 'edition')).toHaveLength(6);
    expect(verifyLedger(theirs)).toEqual([]);
  });

  test('two corrections of one figure are a clash, told and decided', () => {
    const mine = ledgerOf(SMALL);
    const theirs = copyOf(mine);
    amend(mine, '218', '2026-11-26T09:00:00.000Z');
    amend(theirs, '214', '2026-11-26T10:00:00.000Z');
    const text = historyOf(theirs);
    const before = lastActId(mine);
    const open = merge(mine, text);
    expect(open.questions).toMatchObject([{ record: 'entry e2 page', here: 'e2', answers: ['mine', 'theirs'] }]);
    expect(open.questions[0]?.says).toContain('in act 2');
    expect(lastActId(mine)).toBe(before);
    expect(merge(mine, text, { 'entry e2 page': 'mine' }).questions).toEqual([]);
    expect(field(mine, 'entry', 2, 'page')).toBe('218');
    const acts = lastActId(mine);
    expect(merge(mine, text).questions).toEqual([]);
    expect(lastActId(mine)).toBe(acts);
    const other = copyOf(ledgerOf(SMALL));
    amend(other, '218', '2026-11-26T09:00:00.000Z');
    merge(other, text, { 'entry e2 page': 'theirs' });
    expect(field(other, 'entry', 2, 'page')).toBe('214');
  });

  test('undone there is undone here; not where something rests on it here', () => {
    const mine = ledgerOf(SMALL);
    recordLines(mine, [{ type: 'person', key: 'new', name: 'Amos Pell' }], '2026-11-26T08:00:00.000Z');
    const theirs = copyOf(mine);
    const resting = copyOf(mine);
    act(theirs, (into) => undoAct(theirs, into.act, 2), '2026-11-26T09:00:00.000Z', 2);
    recordLines(resting, [{ type: 'name', person: 'new', name: 'Amos Pell-Rudd' }], '2026-11-26T08:30:00.000Z');
    const text = historyOf(theirs);
    merge(mine, text);
    expect(idsOf(mine, 'person')).toHaveLength(3);
    const { notes } = merge(resting, text);
    expect(notes.join()).toMatch(/act 2 of the file is undone there, and not here: Later acts rest on act 2: 3/);
    expect(idsOf(resting, 'person')).toHaveLength(4);
  });

  test('withdrawn there is withdrawn here', () => {
    const mine = ledgerOf(SMALL);
    const theirs = copyOf(mine);
    act(theirs, (into) => withdrawRecord(into, kindNamed('search'), 1, 'wrong volume'), '2026-11-26T09:00:00.000Z');
    merge(mine, historyOf(theirs));
    expect(idsOf(mine, 'search')).toEqual([2]);
  });

  test('a ledger with no beginning in common comes too', () => {
    const mine = ledgerOf(SMALL);
    const theirs = emptyLedger();
    act(
      theirs,
      (into) => addRecord(into, kindNamed('person'), { name: 'Julian Peter Ferrand', born: '1812' }),
      '2026-11-20T09:00:00.000Z',
    );
    recordLines(theirs, [{ type: 'object', ref: '400', title: 'Ink stand' }], '2026-11-21T09:00:00.000Z');
    const done = merge(mine, historyOf(theirs));
    expect(done).toMatchObject({ questions: [], acts: 1, added: 1, known: 1 });
    expect(idsOf(mine, 'person')).toHaveLength(3);
  });
});
