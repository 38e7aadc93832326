import { spawnSync } from 'node:child_process';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { LAUNCHER, makePlace, type Place, type Ran } from './heldby.ts';
import { errorIn, expectNoTrace, expectRefused, fillLedger } from './refusals.ts';

let place: Place;
beforeAll(() => {
  place = makePlace();
  fillLedger(place);
});
afterAll(() => place.remove());

describe('what is mistyped ends with 2, and the nearest is named', () => {
  test.each<[what: string, words: string[], message: RegExp, hint: RegExp]>([
    ['a command', ['improt', 'list.csv'], /improt/, /import/],
    ['a command that lacks its end', ['candidate', 'm1'], /candidate/, /candidates/],
    ['a command of two words', ['entry', 'ad'], /ad/, /\badd\b/],
    ['an option', ['import', 'list.csv', '--seris', 'x'], /--seris/, /--series/],
    [
      'an option beside one that is needed',
      ['entry', 'add', '1834', '--rnak', 'Lieut.'],
      /--rnak|--rank/,
      /--rank|entry add --help/,
    ],
    ['an option of the program', ['--jsn', 'list', 'people'], /--jsn/, /--json/],
    ['a kind of record', ['list', 'poeple'], /poeple/, /people/],
    ['a field to map', ['import', 'list.csv', '--map', 'rnak=office'], /rnak/, /rank/],
    ['a mapping without a column', ['import', 'list.csv', '--map', 'rank'], /--map rank/, /FIELD=COLUMN/],
    ['the words of a command changed about', ['add', 'person', 'Foo'], /'add'/, /Did you mean heldby person add\?/],
    ['a kind of record by itself', ['objects'], /'objects'/, /To see them: heldby list objects/],
    ['… of which the name is another word', ['persons'], /'persons'/, /heldby list people/],
    ['… with words behind it', ['objects', 'add', '8'], /'objects'/, /Did you mean object\?/],
    ['a name without quotation marks', ['person', 'add', 'Foo', 'Bar'], /too many arguments/i, /quotation marks/],
    ['a word that is near to none', ['quit'], /quit/, /heldby --help/],
    ['nothing like it', ['sneeze'], /sneeze/, /--help/],
    ['an argument too many', ['show', 'p1', 'p2'], /too many arguments/i, /--help/],
    ['an argument too few', ['show'], /argument/i, /--help/],
    ['an option that is needed', ['series', 'add', 'New List'], /--service/, /\w/],
  ])('%s', (_what, words, message, hint) => expectRefused(place, words, { status: 2, code: 'USAGE', message, hint }));

  test('a group of commands without one', () => {
    for (const group of ['series', 'entry', 'mark']) {
      const ran = place.run(group);
      expectNoTrace(ran);
      expect([ran.status, ran.err]).toEqual([2, expect.stringContaining('add')]);
      expect(errorIn(place.run(group, '--json')).code).toBe('USAGE');
    }
  });

  test('help for what there is not', () => {
    const ran = place.run('help', 'sneeze', '--json');
    expect(ran.status).toBe(2);
    expect(errorIn(ran).code).toBe('USAGE');
  });
});

/** The help of every command of the program, and of every command below those, as their own help names them. */
function helps(words: string[] = []): { command: string; ran: Ran }[] {
  const ran = place.run(...words, '--help');
  const listed = /\nCommands:\n([\s\S]*?)(?:\n\n|$)/.exec(ran.out)?.[1] ?? '';
  const names = [...listed.matchAll(/^ {2}([a-z][a-z-]*)/gm)].flatMap(([, name]) =>
    name === 'help' ? [] : [name ?? ''],
  );
  return [{ command: words.join(' '), ran }, ...names.flatMap((name) => helps([...words, name]))];
}

test('every command has help with an example, and ends with 0', () => {
  const all = helps();
  expect(all.length).toBeGreaterThan(40);
  for (const { command, ran } of all) expect([ran.status, ran.err], command).toEqual([0, '']);
  expect(all.filter(({ ran }) => !/^ {2}heldby /m.test(ran.out)).map(({ command }) => command)).toEqual([]);
});

test('a reader that goes away early is no fault', () => {
  for (const words of ['--help', 'list people', 'show p1 --json', 'list nothing', 'history']) {
    const command = `"${process.execPath}" "${LAUNCHER}" ${words} 2>&1 | head -1; echo "status \${PIPESTATUS[0]}"`;
    const { stdout, stderr } = spawnSync('bash', ['-c', command], { cwd: place.folder, encoding: 'utf8' });
    expect(stderr).toBe('');
    expect(stdout.split('\n')).toHaveLength(3);
    expect(stdout).toMatch(words === 'list nothing' ? /status 2\n$/ : /status 0\n$/);
  }
});

test('the past is asked by every question, or refused', () => {
  place.json('person', 'add', 'Ann Holt');
  for (const words of [['history'], ['list', 'people'], ['show', 'p1'], ['tenures', 'p1'], ['assume']])
    expect(place.run(...words, '--as-of', '1', '--json').out, words.join(' ')).not.toContain('Ann Holt');
  expect(place.json('history', '--as-of', '1').acts).toHaveLength(1);
  for (const words of [['backup', 'copy.sqlite'], ['verify']]) {
    const ran = place.run(...words, '--as-of', '1');
    expect([ran.status, ran.err]).toEqual([2, expect.stringContaining('whatever it was before')]);
  }
});

test('what a record says cannot steer the terminal', () => {
  const { id } = place.json('person', 'add', 'Ann \u001b[31mRed');
  for (const words of [['show', id], ['list', 'people'], ['history']])
    expect(place.run(...words).out).not.toContain('\u001b');
});
