import { spawnSync } from 'node:child_process';
import type { Command } from 'commander';
import { beforeAll, describe, expect, test } from 'vitest';
import { TOPICS } from '../../src/cli/commands/help-texts.ts';
import type { Context } from '../../src/cli/context.ts';
import { makeProgram } from '../../src/cli/program.ts';
import { roffText } from '../../src/cli/roff.ts';
import { PLAIN } from '../../src/cli/style.ts';
import { makePlace } from './heldby.ts';

let page: string;
let program: Command;
beforeAll(async () => {
  const place = makePlace();
  const { out, status } = place.run('help', '--man');
  place.remove();
  expect(status).toBe(0);
  page = out;
  const context: Context = {
    arguments: ['--help'],
    environment: {},
    workingFolder: '/',
    columns: undefined,
    style: PLAIN,
    out: () => undefined,
    note: () => undefined,
    exitStatus: () => undefined,
    purpose: () => undefined,
  };
  program = await makeProgram(context);
});

const leaves = (command: Command, path: string): { path: string; command: Command }[] =>
  command.commands.length === 0
    ? [{ path, command }]
    : command.commands.flatMap((each) => leaves(each, `${path} ${each.name()}`));

test('every command stands in it with every option that it has', () => {
  const [head = '', ...sections] = page.split('\n.SS ');
  for (const { flags } of program.options) expect(head).toContain(`.B "${roffText(flags)}"\n`);
  const everywhere = program.options.map(({ flags }) => flags);
  const all = leaves(program, 'heldby');
  expect(all.length).toBeGreaterThan(50);
  for (const { path, command } of all) {
    const own = sections.find(
      (each) => each.startsWith(`"${roffText(path)} `) || each.startsWith(`"${roffText(path)}"`),
    );
    expect(own, path).toContain(roffText(command.description()));
    for (const { flags } of command.options)
      if (!everywhere.includes(flags)) expect(own, path).toContain(`.B "${roffText(flags)}"\n`);
  }
});

test('every topic stands in it', () => {
  for (const { text } of Object.values(TOPICS)) expect(page).toContain(roffText(text));
});

test('it is about everything', () => {
  const place = makePlace();
  expect(place.run('help', 'dates', '--man')).toMatchObject({ status: 2, out: '' });
  place.remove();
});

test.each([
  ['a point that begins a line', '.TH X\nan .example', '\\&.TH X\nan .example'],
  ['signs of roff', '\\fB --x \'y\' "z"', '\\(rsfB \\-\\-x \\(aqy\\(aq \\(dqz\\(dq'],
  ['an empty line', 'a\n\nb', 'a\n\\&\nb'],
])('%s stays text', (_what, text, roff) => expect(roffText(text)).toBe(roff));

const reading = (reader: string, ...words: string[]) => spawnSync(reader, words, { input: page, encoding: 'utf8' });
const isInstalled = (reader: string): boolean => spawnSync(reader, ['-v']).error === undefined;

// The two readers of manual pages in general use, where they are installed.
describe('readers of manual pages', () => {
  test.skipIf(!isInstalled('groff'))('groff takes it without a warning, and shows it as it is written', () => {
    const { stdout, stderr, status } = reading('groff', '-man', '-Kutf8', '-Tutf8', '-ww', '-rLL=100n', '-P-c');
    expect({ stderr, status }).toEqual({ stderr: '', status: 0 });
    expect(stdout).toContain('heldby help --man | man -l -');
    expect(stdout).toContain('ferrand jp lt 16my33          small letters, two figures of the year, and two');
  });
  test.skipIf(!isInstalled('mandoc'))('mandoc finds nothing in it but that it has no date', () => {
    const { stdout } = reading('mandoc', '-Tlint', '-Wwarning');
    expect(stdout.split('\n').filter((line) => line !== '' && !/missing date/.test(line))).toEqual([]);
  });
});
