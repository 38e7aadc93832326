import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { converse } from '../../src/cli/commands/take-keyboard.ts';
import { takeOffers } from '../../src/cli/commands/take-offers.ts';
import { type Outcome, type Session, takeSession } from '../../src/cli/commands/take-session.ts';
import { doubtsInLines, takenInLines } from '../../src/cli/commands/take-words.ts';
import type { Context } from '../../src/cli/context.ts';
import { PLAIN } from '../../src/cli/style.ts';
import { tenuresOf } from '../../src/inquiry/tenures.ts';
import { kindNamed } from '../../src/ledger/kinds.ts';
import type { Db } from '../../src/ledger/open.ts';
import { resolveRef } from '../../src/ledger/refs.ts';
import { verifyLedger } from '../../src/ledger/verify.ts';
import { addTo, type Line, listOf } from '../inquiry/made-up-ledger.ts';
import { newLedger } from '../ledger/new-ledger.ts';
import { makePlace } from './heldby.ts';

const ORIGIN = {
  at: '2026-11-25T10:00:00.000Z',
  who: 'tester',
  command: 'heldby entry take',
  why: undefined,
  program: '0',
};
const ferrand: readonly Line[] = [
  { type: 'person', key: 'f', name: 'Julian Peter Ferrand' },
  {
    type: 'entry',
    edition: 'al-1829',
    person: 'f',
    name: 'J. P. Ferrand',
    rank: 'Lieut.',
    corps: '2nd Fencibles',
    page: '200',
  },
  {
    type: 'entry',
    edition: 'al-1838',
    person: 'f',
    name: 'J. P. Ferrand',
    rank: 'Captain',
    corps: '2nd Fencibles',
    page: '210',
  },
];

let db: Db;
beforeEach(() => {
  db = newLedger();
  addTo(db, [...listOf(1829, 1834, 1836, 1838), ...ferrand]);
});
afterEach(() => db.close());

const session = (label: string, options: Partial<Parameters<typeof takeSession>[3]> = {}): Session =>
  takeSession(db, resolveRef(db, kindNamed('edition'), label), (line) => ({ ...ORIGIN, command: line }), {
    monthFirst: false,
    makePeople: false,
    dryRun: false,
    atTerminal: false,
    ...options,
  });

const acts = (): number => db.prepare('SELECT count(*) FROM act').pluck().get() as number;
const entries = (): number => db.prepare('SELECT count(*) FROM current_entry').pluck().get() as number;
const takeAll = (into: Session, ...lines: string[]): Outcome[] => lines.map((line) => into.take(line));

/** The last of these lines as it is acknowledged, without its first line. */
const acknowledged = (label: string, ...lines: string[]): string => {
  const outcome = takeAll(session(label), ...lines).at(-1);
  if (outcome === undefined || !('answer' in outcome)) throw new Error(JSON.stringify(outcome));
  const said =
    outcome.kind === 'held'
      ? doubtsInLines(outcome.answer, PLAIN, 200)
      : takenInLines(outcome.answer, label, PLAIN, 200).slice(1);
  return said.map((line) => line.trim()).join(' / ');
};

describe('each line is told what it was understood as, whose it is and what it settles', () => {
  test.each<[rule: string, label: string, said: string, ...lines: string[]]>([
    [
      'a rank that he had already',
      '1834',
      'Julian Peter Ferrand p1 / he was Captain already in 1834; bounds as Lieutenant now …–1833 (were …–1837); Captain certainly 1834–1838',
      'Captain J. P. Ferrand 2nd Fencibles',
    ],
    ['a rank that he still had', '1836', 'he was still Lieutenant in 1836', 'Lieut. Julian Ferrand, 2nd Fencibles'],
    [
      'initials alone, in another corps',
      '1834',
      'not placed; it may be Julian Peter Ferrand =p1',
      'Captain J. P. Ferrand, Harbour Artillery',
    ],
    [
      'a name that stands unplaced elsewhere',
      '1836',
      'nobody of this name is recorded: not placed; the name stands unplaced in 1829 as Captain (e3)',
      'Captain James Quill 3 May 1828',
    ],
  ])('%s', (_rule, label, said, ...lines) => {
    session('1829').take('Captain J. Quill 3 May 1828');
    expect(acknowledged(label, ...lines)).toContain(said);
  });

  test('what is said is what the ledger then answers', () => {
    session('1834').take('Captain J. P. Ferrand 2nd Fencibles 3 June 1833');
    const [lieutenant, captain] = tenuresOf(db, 'p1').tenures;
    expect([lieutenant?.possible.to, captain?.start.earliest]).toEqual(['1833-06-02', '1833-06-03']);
  });
});

describe('what looks wrong is told before it is kept', () => {
  test.each<[rule: string, label: string, said: string, line: string]>([
    ['a rank gone down', '1838', '? he was Captain by', 'Lieut. J. P. Ferrand, 2nd Fencibles'],
    ['a dead man', '1836', '? he was dead by 3 May 1830, before the edition', 'Captain Anne Holt =dead'],
    [
      'a date after the edition',
      '1834',
      '? dated 3 May 1834, after the edition (as at 1834-01-01)',
      'Captain J. Holt, 3 May 1834',
    ],
    [
      'a slip of the century',
      '1834',
      '? dated 3 May 1760, more than 73 years before the edition',
      'Captain J. Holt, 3 May 1760',
    ],
    [
      'twice in an edition',
      '1838',
      '? he stands in this edition in this post already (e2)',
      'Captain J. Ferrand, 2nd Fencibles =p1',
    ],
    [
      'other evidence against it',
      '1836',
      '? it cannot be true together with: ',
      'Captain Ivo Quill 2nd Fencibles 3 May 1831 =q',
    ],
  ])('%s', (_rule, label, said, line) => {
    addTo(db, [
      { type: 'person', key: 'dead', name: 'Anne Holt', died: '3 May 1830' },
      { type: 'person', key: 'q', name: 'Ivo Quill' },
      {
        type: 'entry',
        edition: 'al-1834',
        person: 'q',
        name: 'Ivo Quill',
        rank: 'Captain',
        corps: '2nd Fencibles',
        dated: '5 June 1832',
      },
    ]);
    const before = [acts(), entries()];
    expect(acknowledged(label, line)).toContain(said);
    expect([acts(), entries()]).toEqual(before);
    const kept = session(label).take(`${line} !`);
    expect(kept.kind).toBe('recorded');
    expect(entries()).toBe((before[1] ?? 0) + 1);
  });

  test('a page that goes back, and a date that is missing where the lines above have one', () => {
    const taken = takeAll(
      session('1834'),
      'Captains, p. 213',
      'A. Holt 1830',
      'B. Holt 1831',
      'C. Holt 1832',
      'D. Holt',
      'E. Holt 1831, p. 212',
    );
    expect(
      taken.slice(-2).map((each) => (each.kind === 'held' ? each.answer.doubts.map(({ about }) => about) : each.kind)),
    ).toEqual([['no date'], ['page']]);
  });
});

describe('lines of a file', () => {
  const FILE = [
    '2nd Fencibles, p. 213',
    'Captains',
    'J. P. Ferrand 3 June 1833',
    'W. Holt 8 Feb. 1832',
    'W. Holt 8 Feb. 1832 !',
    'Lieuts.',
    'Wm. Cope do.',
  ];

  test('one act a line, whose command is the line', () => {
    const before = acts();
    takeAll(session('1834'), ...FILE);
    expect(acts() - before).toBe(4);
    expect(db.prepare('SELECT command FROM act ORDER BY id DESC LIMIT 1').pluck().get()).toBe('Wm. Cope do.');
    expect(verifyLedger(db)).toEqual([]);
  });
  test('given again, they are known, twins too', () => {
    takeAll(session('1834'), ...FILE.slice(0, 4));
    const outcomes = takeAll(session('1834'), ...FILE).map(({ kind }) => kind);
    expect(outcomes).toEqual(['heading', 'heading', 'known', 'known', 'recorded', 'heading', 'recorded']);
    const again = takeAll(session('1834'), ...FILE).map(({ kind }) => kind);
    expect(again).toEqual(['heading', 'heading', 'known', 'known', 'known', 'heading', 'known']);
  });
  test('the same line twice by mistake is held back', () => {
    const outcome = takeAll(session('1834'), 'Captain W. Holt 1832', 'Captain W. Holt 1832').at(-1);
    expect(outcome?.kind === 'held' && outcome.answer.doubts[0]?.says).toBe('this very line was taken down just now');
  });
  test('what hangs on a line that was not understood is not recorded under a wrong heading', () => {
    const kinds = takeAll(
      session('1834'),
      '2nd Fencibles',
      'Captains',
      'Half-pay',
      'W. Holt 1832',
      'Harbour Artillery, Majors',
      'J. Holt 1832',
    ).map(({ kind }) => kind);
    expect(kinds).toEqual(['heading', 'heading', 'refused', 'refused', 'heading', 'recorded']);
  });
  test('a slip in a line that says neither rank nor corps hurts no other', () => {
    const kinds = takeAll(session('1834'), '2nd Fencibles', 'Captains', 'W. Holt 31 Feb. 1832', 'J. Holt 1832').map(
      ({ kind }) => kind,
    );
    expect(kinds).toEqual(['heading', 'heading', 'refused', 'recorded']);
  });
  test('--new makes people, and the next edition knows them', () => {
    takeAll(session('1834', { makePeople: true }), 'Captain W. Holt, 2nd Fencibles, 1832');
    const next = session('1836').take('Captain Wm. Holt, 2nd Fencibles, 1832');
    expect(next.kind === 'recorded' && [next.answer.person?.name, next.answer.settles?.listed]).toEqual([
      'W. Holt',
      'still',
    ]);
  });
  test('two men of one name in one corps stay two', () => {
    takeAll(
      session('1834', { makePeople: true }),
      'Captain W. Holt, 2nd Fencibles, 1832',
      'Captain W. Holt, 2nd Fencibles, 1833 +',
    );
    const next = session('1836').take('Captain W. Holt, 2nd Fencibles, 1833');
    expect(next.kind === 'recorded' && [next.answer.person, next.answer.fitting.length]).toEqual([null, 2]);
  });
  test('--dry-run records nothing', () => {
    const before = acts();
    expect(session('1834', { dryRun: true }).take('Captain W. Holt 1832').kind).toBe('recorded');
    expect(acts()).toBe(before);
  });
  test(':undo takes back the line before, and it can be taken again', () => {
    const into = session('1834');
    expect(takeAll(into, 'Captain W. Holt 1832', ':undo', 'Captain W. Holt 1832').map(({ kind }) => kind)).toEqual([
      'recorded',
      'undone',
      'recorded',
    ]);
    expect(entries()).toBe(3);
  });
});

describe('at the keyboard', () => {
  const edition1834 = (): number => resolveRef(db, kindNamed('edition'), '1834');
  const talk = (...typed: string[]) => talkBy(false, ...typed);
  const talkBy = async (fields: boolean, ...typed: string[]): Promise<{ prompts: string[]; out: string }> => {
    const prompts: string[] = [];
    let out = '';
    const context = { columns: 120, style: PLAIN, out: (text: string) => (out += `${text}\n`) } as unknown as Context;
    await converse(
      session('1834', { atTerminal: true }),
      context,
      (prompt) => {
        prompts.push(prompt);
        return Promise.resolve(typed.shift());
      },
      { notation: 'the notation', offers: takeOffers(db, edition1834()), fields },
    );
    return { prompts, out };
  };

  test('one goes on where one was', async () => {
    await talk('2nd Fencibles, p. 213', 'Captain J. P. Ferrand 3 June 1833');
    const { prompts, out } = await talk('W. Holt 8 Feb. 1832', ':end');
    expect(out).toContain(
      'The last line taken: e3  Captain · J. P. Ferrand · 2nd Fencibles · dated 3 June 1833 · p. 213',
    );
    expect(prompts[0]).toBe('2nd Fencibles · Captain · p. 213 > ');
    expect(out).toContain('e4  Captain · W. Holt · 2nd Fencibles · dated 8 Feb. 1832 · p. 213');
  });
  test.each<[answer: string, kept: number]>([
    ['y', 1],
    ['n', 0],
    ['', 0],
    [':undo', 0],
    ['+', 1],
    ['Captain J. P. Ferrand, 2nd Fencibles, 1833', 1],
  ])('a doubtful line, answered %j', async (answer, kept) => {
    addTo(db, [{ type: 'person', key: 'x', name: 'Anne Holt', died: '1830' }]);
    const { prompts, out } = await talk('Captain Anne Holt 1829', answer, ':end');
    expect(prompts[1]).toContain('Keep it all the same?');
    expect(out).toContain(`${kept} ${kept === 1 ? 'line' : 'lines'} taken down. Go on with: heldby entry take ed2`);
    expect(entries()).toBe(2 + kept);
  });
  const lines = (): unknown[] =>
    db.prepare('SELECT coalesce(id, row) FROM current_entry WHERE row > 2 ORDER BY row').pluck().all();

  test('field by field: what stands is taken where nothing is typed, and is asked again where it was refused', async () => {
    const { prompts, out } = await talkBy(
      true,
      ...['Major Holt', 'Captain', '2nd Fencibles', '31 Feb. 1833', '213', '', 'a second wife’s name'],
      ...['', '', '', '28 Feb. 1833 {31 Feb. 1833}', '', '', ''],
      ...['Ann Marrow', '', '-', '"', 'p+', '=-', ''],
      ...[':undo', 'Ferrand, Julian Peter', 'Lieut.', '2nd Fencibles', '-', '', 'Julian Peter Ferrand', ':lines', ''],
      ':end',
    );
    expect(out).toContain('February 1833 has 28 days');
    expect(out).toContain(
      'Captain · Major Holt · 2nd Fencibles · dated 28 Feb. 1833 · printed 31 Feb. 1833 · p. 213 · note: a second wife’s name',
    );
    expect(prompts.slice(7, 14)).toEqual([
      'Name [Major Holt]: ',
      'Rank [Captain]: ',
      'Corps [2nd Fencibles]: ',
      'Dated [31 Feb. 1833]: ',
      'Page [213]: ',
      'Person: ',
      'Note [a second wife’s name]: ',
    ]);
    expect(out).toContain('Captain · Ann Marrow · dated 28 Feb. 1833 · printed 31 Feb. 1833 · p. 214');
    expect(out).toContain('Took back e4');
    expect(lines()).toEqual([3]); // a command in a field leaves the entry that was begun
  });
  test('commands change between lines and fields', async () => {
    const { prompts } = await talk(
      ':fields',
      'Ann Marrow',
      'Captain',
      '',
      '1833',
      '',
      '',
      '',
      ':lines',
      ':nothing',
      ':end',
    );
    expect(prompts[1]).toBe('Name: ');
    expect(prompts[8]).toBe('Name: ');
    expect(prompts.at(-1)).toBe('Captain > ');
    expect(lines()).toEqual([3]);
  });
  test.each<
    [rule: string, field: 'line' | 'person' | 'rank' | 'corps', typed: string, offered: string[], replaced: string]
  >([
    ['people', 'person', 'ferr', ['Ferrand, Julian Peter'], 'ferr'],
    ['people in a line', 'line', '2nd Fencibles, ferr', ['Ferrand, Julian Peter'], 'ferr'],
    ['people behind a rank', 'line', 'lt ferr', ['Ferrand, Julian Peter'], 'ferr'],
    ['people behind their sign', 'line', 'Holt 1833 =Jul', ['Julian Peter Ferrand'], 'Jul'],
    ['corps as this edition has them', 'corps', '2', ['2nd Foot', '2nd Fencibles'], '2'],
    ['corps behind their sign', 'line', 'Capt. A. Holt @2nd fe', ['2nd Fencibles'], '2nd fe'],
    ['ranks of the service, too', 'rank', 'lieutenant-g', ['Lieutenant-General'], 'lieutenant-g'],
    ['ranks as this edition has them', 'rank', 'lieut', ['Lieut', 'Lieut.'], 'lieut'],
    ['nothing', 'line', 'Capt. A. ', [], ''],
  ])('the key TAB: %s', (_rule, field, typed, offered, replaced) => {
    takeAll(session('1834'), 'Lieut Q. Quill, 2nd Foot', 'Lieut R. Quill, 2nd Foot');
    const [found, end] = takeOffers(db, edition1834())[field](typed);
    expect([found.slice(0, 2), found.length === 0 ? '' : end]).toEqual([offered, replaced]);
  });
  test('a line that is not understood leaves what holds as it was', async () => {
    const { prompts } = await talk('Captains', 'J. Holt 31 Feb. 1833', 'J. Holt 28 Feb. 1833');
    expect(prompts.slice(1)).toEqual(['Captain > ', 'Captain > ', 'Captain > ']);
    expect(entries()).toBe(3);
  });
});

test('the command itself, on standard input', () => {
  const place = makePlace();
  place.json('init');
  place.json('series', 'add', 'Annual List of the Coast Survey', '--service', 'army');
  place.json('edition', 'add', 'Coast Survey', '1834', '--as-at', '1 Jan. 1834');
  const input =
    '2nd Fencibles, p. 213\nCaptains\nJ. P. Ferrand ..... 16 May 1833\r\nW. Holt 31 Feb. 1832\nW. Holt 3 May 1835\n';
  const ran = place.with({ input }, 'entry', 'take', '1834');
  expect([ran.status, ran.out]).toEqual([
    6,
    '2nd Fencibles · p. 213\n2nd Fencibles · Captain · p. 213\ne1  Captain · J. P. Ferrand · 2nd Fencibles · dated 16 May 1833 · p. 213  (new name)\n',
  ]);
  expect(ran.err).toContain('line 4 not recorded: W. Holt 31 Feb. 1832');
  expect(ran.err).toContain('line 5 held back: W. Holt 3 May 1835');
  expect(ran.err).toContain('1 recorded, 1 held back (end a line in ! to keep it), 1 not understood.');
  const again = place.with({ input }, 'entry', 'take', '1834', '--json');
  const answer = JSON.parse(again.out);
  expect([answer.recorded, answer.known, answer.held, answer.refused]).toEqual([0, 1, 1, 1]);
  expect(answer.lines.map(({ outcome }: { outcome: string }) => outcome)).toEqual([
    'heading',
    'heading',
    'known',
    'refused',
    'held',
  ]);
  expect(place.json('show', 'e1').record.fields).toMatchObject({
    name: 'J. P. Ferrand',
    page: '213',
    corps: '2nd Fencibles',
  });
  place.remove();
});

test('a day of the month before is told from the day as at which the edition stands', () => {
  const [outcome] = takeAll(session('1834', { makePeople: true }), 'Ensign Thos. Wark 12th ult., 2nd Fencibles, p. 3');
  expect(outcome).toMatchObject({
    kind: 'recorded',
    answer: { entry: { name: 'Thos. Wark', dated: '1833-12-12', datedAsPrinted: '12th ult.' } },
  });
});
