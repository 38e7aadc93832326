import { spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { readFileSync, writeFileSync } from 'node:fs';
import { expect } from 'vitest';
import { LAUNCHER, type Place, type Ran } from './heldby.ts';

export type Refusal = {
  readonly status: number;
  readonly code: string;
  readonly message: RegExp;
  readonly hint?: RegExp;
  readonly where?: RegExp;
};

/** SHA-256 of a file, to see that not a byte has changed. */
export const hashOf = (file: string): string => createHash('sha256').update(readFileSync(file)).digest('hex');

/** No trace of where in the program it happened, and nothing that the user is to blame the program for. */
export function expectNoTrace({ out, err }: Ran): void {
  expect(out + err).not.toMatch(/^\s+at .+:\d+:\d+\)?$/m);
  expect(out + err).not.toMatch(/node:internal|SqliteError|TypeError|defect of heldby/);
}

/**
 * Runs the command twice, in words and with --json, and expects both to be refused alike: what is wrong, what to do, the
 * exit status; and the ledger byte for byte as it was.
 */
export async function expectRefused(
  place: Place,
  words: readonly string[],
  refusal: Refusal,
  input = '',
): Promise<void> {
  const ledger = place.path('heldby.sqlite');
  const before = hashOf(ledger);
  const [inWords, inJson] = await Promise.all([ended(place, words, input), ended(place, [...words, '--json'], input)]);
  expectRefusalInWords(inWords, refusal);
  expectNoTrace(inJson);
  expect({ status: inJson.status, out: inJson.out }).toEqual({ status: refusal.status, out: '' });
  const error = errorIn(inJson);
  expect(error).toMatchObject({ code: refusal.code, message: expect.stringMatching(refusal.message) });
  if (refusal.hint) expect(error.hint).toMatch(refusal.hint);
  if (refusal.where) expect(error.where).toMatch(refusal.where);
  expect(hashOf(ledger), 'the ledger has changed').toBe(before);
}

/** Runs the command beside others, and waits for its end. */
function ended(place: Place, words: readonly string[], input: string): Promise<Ran> {
  const { HELDBY_LEDGER: _ledger, FORCE_COLOR: _force, ...env } = process.env;
  const child = spawn(process.execPath, [LAUNCHER, ...words], { cwd: place.folder, env });
  let [out, err] = ['', ''];
  child.stdout.setEncoding('utf8').on('data', (piece: string) => (out += piece));
  child.stderr.setEncoding('utf8').on('data', (piece: string) => (err += piece));
  child.stdin.on('error', () => {}).end(input); // it may have ended before it has read anything
  return new Promise((resolve) => child.on('close', (status) => resolve({ status, out, err })));
}

export function expectRefusalInWords(ran: Ran, { status, message, hint }: Omit<Refusal, 'code'>): void {
  expectNoTrace(ran);
  expect({ status: ran.status, out: ran.out }, ran.err).toEqual({ status, out: '' });
  const [first, ...rest] = ran.err.trimEnd().split('\n');
  expect(first).toMatch(/^heldby: \S/);
  expect(rest.join('\n'), 'what to do').toMatch(/\w/);
  expect(ran.err).toMatch(message);
  if (hint) expect(rest.join('\n')).toMatch(hint);
}

export function errorIn(ran: Ran): { code: string; message: string; hint: string; where?: string } {
  const { error, ...others } = JSON.parse(ran.err);
  expect(others).toEqual({});
  expect(Object.keys(error).filter((name) => !['code', 'message', 'hint', 'where'].includes(name))).toEqual([]);
  expect(error.message).toMatch(/\w/);
  expect(error.hint).toMatch(/\w/);
  return error;
}

export const writeLines = (place: Place, name: string, lines: readonly (object | string)[]): string => {
  writeFileSync(
    place.path(name),
    lines.map((line) => `${typeof line === 'string' ? line : JSON.stringify(line)}\n`).join(''),
  );
  return name;
};

/**
 * A ledger with a list, three people of whom two are Ferrands, and two objects. Ids: editions ed1 to ed3, people p1 to p3,
 * entries e1 and e2, objects o1 and o2, marks m1 and m3 (over m1) on the first, m2 on the second.
 */
export function fillLedger(place: Place): void {
  place.json('init');
  const records = [
    { type: 'series', key: 'al', name: 'Annual List of the Coast Survey', service: 'army', lagDays: 60 },
    ...['1834', '1836', '1838'].map((label) => ({
      type: 'edition',
      key: `al-${label}`,
      series: 'al',
      label,
      asAt: `${label}-01-01`,
    })),
    { type: 'person', key: 'ferrand', name: 'Julian Peter Ferrand' },
    { type: 'person', key: 'holt', name: 'Ralph Holt' },
    { type: 'person', key: 'anne', name: 'Anne Ferrand' },
    {
      type: 'entry',
      key: 'first',
      edition: 'al-1834',
      person: 'ferrand',
      name: 'J. P. Ferrand',
      rank: 'Lieut.',
      dated: '16 May 1833',
      page: '213',
    },
    {
      type: 'entry',
      key: 'second',
      edition: 'al-1836',
      person: 'ferrand',
      name: 'J. P. Ferrand',
      rank: 'Lieut.',
      page: '220',
    },
    { type: 'object', key: 'slope', ref: '214', title: 'Brass-bound writing slope' },
    { type: 'object', key: 'case', ref: '215', title: 'Map case' },
    { type: 'mark', key: 'lid', object: 'slope', text: 'Lieut. J. Ferr[..]d', role: 'owner' },
    { type: 'mark', key: 'plate', object: 'case', text: 'R. HOLT', role: 'owner' },
    { type: 'mark', key: 'label', object: 'slope', text: 'HOLT', role: 'sale', over: 'lid' },
  ];
  place.json('import', writeLines(place, 'records.jsonl', records));
}
