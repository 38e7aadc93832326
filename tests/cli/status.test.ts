import { expect, test } from 'vitest';
import { TOPICS } from '../../src/cli/commands/help-texts.ts';
import { fitHelp } from '../../src/cli/fit-help.ts';
import { statusOf } from '../../src/inquiry/status.ts';
import { countsOfKinds } from '../../src/ledger/find-counts.ts';
import { kindNamed } from '../../src/ledger/kinds.ts';
import { amendRecord, withdrawRecord } from '../../src/ledger/records.ts';
import { undoAct } from '../../src/ledger/undo.ts';
import { readTranscription } from '../../src/names/reading.ts';
import { readDate } from '../../src/time/read-date.ts';
import { addTo, listed, listOf, slope } from '../inquiry/made-up-ledger.ts';
import { inOneAct, newLedger } from '../ledger/new-ledger.ts';
import { makePlace } from './heldby.ts';

const COMMANDS = ['series', 'edition', 'entry', 'import', 'object', 'mark', 'feature', 'candidates', 'conflicts'];
const next = (...records: Parameters<typeof addTo>[1]): string[] => {
  const db = newLedger();
  if (records.length > 0) addTo(db, records);
  const steps = statusOf(db, COMMANDS, undefined).next.map(({ command }) => command.split(' ').slice(1, 4).join(' '));
  db.close();
  return steps;
};

test.each<[rule: string, steps: string[], ...records: Parameters<typeof addTo>[1]]>([
  ['an empty ledger', ['series add "Name', 'import FILE', 'object add REF']],
  ['a list without an edition', ['edition add s1', 'object add REF'], ...listOf()],
  ['an edition without a line', ['entry take ed1', 'object add REF'], ...listOf(1834)],
  [
    'the page that was left',
    ['entry take ed1', 'entry take ed2', 'object add REF', 'conflicts'],
    ...listOf(1834, 1836),
    ...listed('f', 'J. Ferrand', 'Lieut.', 1834),
  ],
  ['an object', ['series add "Name', 'import FILE', 'mark add o1', 'feature add o1'], slope()],
  [
    'a mark',
    ['series add "Name', 'import FILE', 'feature add o1', 'candidates m1'],
    slope(),
    { type: 'mark', object: 'slope', text: 'J. Ferrand', role: 'owner' },
  ],
])('what could be done next: %s', (_rule, steps, ...records) => expect(next(...records)).toEqual(steps));

test('lines are reckoned as they would be counted', () => {
  const db = newLedger();
  addTo(db, [
    ...listOf(1834, 1836),
    ...listed('f', 'J. Ferrand', 'Lieut.', 1834, 1836),
    ...listed('h', 'R. Holt', 'Captain', 1834),
  ]);
  const counted = (): [unknown, unknown] => [
    countsOfKinds(db).find(({ kind }) => kind === 'entry')?.count,
    db.prepare('SELECT count(*) FROM current_entry').pluck().get(),
  ];
  expect(counted()).toEqual([3, 3]);
  inOneAct(db, (into) => amendRecord(into, kindNamed('entry'), 1, { page: '9' }, 'misread'));
  expect(counted()).toEqual([3, 3]);
  inOneAct(db, (into) => withdrawRecord(into, kindNamed('entry'), 2, 'wrong volume'));
  expect(counted()).toEqual([2, 2]);
  inOneAct(db, ({ act }) => undoAct(db, act, 3), 3);
  expect(counted()).toEqual([3, 3]);
});

test('heldby alone', () => {
  const place = makePlace();
  const nowhere = place.run();
  expect([nowhere.status, nowhere.err]).toEqual([
    2,
    'heldby: There is no ledger here or in a folder above.\nBegin with: heldby init  (then heldby --help, or heldby help dates)\n',
  ]);
  expect(place.run('--ledger', 'nope').status).toBe(3);
  place.json('init');
  place.json('series', 'add', 'Annual List of the Coast Survey', '--service', 'army');
  const alone = place.run();
  expect(alone.status).toBe(0);
  expect(alone.out).toContain('1 series');
  expect(alone.out).toContain('heldby edition add s1 LABEL --as-at DATE');
  expect(place.json().next[0]).toEqual({
    command: 'heldby edition add s1 LABEL --as-at DATE',
    why: 'Annual List of the Coast Survey has no edition yet',
  });
  place.remove();
});

test('help: topics, commands, and the nearest of what is asked for by mistake', () => {
  const place = makePlace();
  for (const [topic, { text }] of Object.entries(TOPICS))
    expect(place.run('help', topic)).toEqual({ status: 0, out: `${fitHelp(text, 80)}\n`, err: '' });
  expect(place.run('help', 'entry', 'take').out).toContain('Usage: heldby entry take [options] <edition>');
  expect(place.run('help').out).toContain('Topics (heldby help TOPIC):');
  const mistaken = place.run('help', 'dats');
  expect([mistaken.status, mistaken.err]).toEqual([
    2,
    'heldby: There is no command or topic "dats".\nDid you mean dates?\n',
  ]);
  const incomplete = place.run('entry', 'take');
  expect([incomplete.status, incomplete.err]).toEqual([
    2,
    "heldby: Missing required argument 'edition'.\nSee: heldby entry take --help\n",
  ]);
  place.remove();
});

test('what the topics say of dates and readings is so', () => {
  for (const date of [
    '16 May 1834',
    'May 16, 1834',
    '16.5.1834',
    '1834-05-16',
    'May 1834',
    'between 1834 and 1838',
    '1834/1838',
    'by 1840',
    'until May 1836',
    'the 1830s',
    '183X',
    'early 1830s',
    'first half of the 19th century',
    'spring 1834',
    'mid May 1834',
    '1834 or 1836',
    '../1850',
    'any time',
    'c. 1834',
    'about 1834',
    '1834~',
    '1834?',
    'probably 1834',
    '3 May 1733 O.S.',
    '10 Feb. 1708/9',
    '9 Geo. III',
    '4 & 5 Will. IV',
    '25 Oct. 9 Geo. III',
    'Lady Day 1834',
    'Michaelmas term 1834',
    'Easter 1834',
    '2 Pluviôse an IX',
  ])
    expect(TOPICS['dates']?.text.includes(date) && readDate(date).text).toBe(date);
  expect(() => readDate('5.6.1834')).toThrow();
  for (const reading of [
    'Ferr[.]nd',
    'Ferr[---]',
    'Ferr[an]d',
    'Ferr[an.]',
    'Fe_rrand',
    'Feṛrand',
    'F_(e/o)rrand',
    'Lieut(enant)',
    'F<e>rrand',
    'Ferr{r}and',
    '[[Ferrand]]',
    'J. Ferrand | 2nd Fenc.',
  ])
    expect(TOPICS['readings']?.text.includes(reading) && readTranscription(reading).text).toBe(reading);
});
