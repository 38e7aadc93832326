import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { LATEST_MIGRATION } from '../../src/ledger/migrate.ts';
import { makePlace, type Place } from './heldby.ts';

const ROOT = resolve(import.meta.dirname, '../..');
const readme = readFileSync(join(ROOT, 'README.md'), 'utf8');

let place: Place;
beforeAll(() => {
  place = makePlace();
});
afterAll(() => place.remove());

/** The commands that a help text lists. */
const listed = (help: string): string[] => {
  const section = help.split('\nCommands:\n')[1]?.split('\n\n')[0] ?? '';
  return section
    .split('\n')
    .map((line) => /^ {2}(\S+)/.exec(line)?.[1])
    .filter((name) => name !== undefined && name !== 'help') as string[];
};

describe('every command', () => {
  test('has help with an example, exits 0 for it, and a line in the README', () => {
    const commands = listed(place.run('--help').out);
    expect(commands.length).toBeGreaterThan(20);
    for (const command of commands) {
      const { out, status } = place.run(command, '--help');
      expect(`${command} ${status}`).toBe(`${command} 0`);
      const below = listed(out);
      for (const name of below) {
        const help = place.run(command, name, '--help');
        expect(`${command} ${name} ${help.status} ${help.out.includes('\nExample:\n')}`).toBe(
          `${command} ${name} 0 true`,
        );
        expect(`${command} ${name}: ${readme.includes(`\`${command} ${name}\``)}`).toBe(`${command} ${name}: true`);
      }
      if (below.length > 0) continue;
      expect(`${command}: ${out.includes('\nExample:\n')}`).toBe(`${command}: true`);
      expect(`${command}: ${readme.includes(`\`${command}\``)}`).toBe(`${command}: true`);
      expect(`${command}: ${out.includes('--json')}`).toBe(`${command}: true`);
    }
  });
});

test('the last migration is the one that the program knows', () => {
  const numbers = readdirSync(join(ROOT, 'migrations')).map((name) => Number(name.slice(0, 4)));
  expect(Math.max(...numbers)).toBe(LATEST_MIGRATION);
});

test('every file of the pure rooms has a test file', () => {
  const without = ['time', 'services', 'names', 'careers', 'dating', 'attribution'].flatMap((room) =>
    readdirSync(join(ROOT, 'src', room))
      .filter((file) => file.endsWith('.ts') && holdsCode(join(ROOT, 'src', room, file)))
      .filter((file) => !existsSync(join(ROOT, 'tests', room, file.replace(/\.ts$/, '.test.ts'))))
      .map((file) => `${room}/${file}`),
  );
  // Inner parts that are tried through the one file that uses them.
  expect(without.filter((file) => !THROUGH_OTHERS.includes(file))).toEqual([]);
});

/** A file of types alone has nothing to try. */
const holdsCode = (file: string): boolean =>
  /^export (?:async )?(?:function|const|class)/m.test(readFileSync(file, 'utf8'));

const THROUGH_OTHERS: readonly string[] = [];
