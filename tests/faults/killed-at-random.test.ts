import { createHash } from 'node:crypto';
import { copyFileSync, existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { openLedger } from '../../src/ledger/open.ts';
import { photoPath } from '../../src/ledger/photos.ts';
import { verifyLedger } from '../../src/ledger/verify.ts';
import { makePlace, type Place } from '../cli/heldby.ts';
import { discard, started, wait } from './under-fault.ts';

/** All rounds together take no longer than this; on a slow machine there are fewer of them. */
const ALL_ROUNDS_MS = 14_000;
const MOST_ROUNDS = 20;
const FEWEST_ROUNDS = 4;
const LINES = 120;
const FILES = ['heldby.sqlite', 'heldby.sqlite-wal', 'heldby.sqlite-shm'];

let place: Place;
beforeAll(() => {
  place = makePlace();
  place.json('init', 'empty');
  place.json('--ledger', 'empty', 'series', 'add', 'Roster', '--service', 'army');
  place.json('--ledger', 'empty', 'edition', 'add', 'Roster', '1834', '--as-at', '1 Jan. 1834');
  const names = Array.from({ length: LINES }, (_, at) => `Ann ${letters(at)} ${1 + (at % 28)} May 1830`);
  writeFileSync(place.path('page.txt'), `2nd Fencibles\nCaptains\n${names.join('\n')}\n`);
  const rows = Array.from({ length: 3000 }, (_, at) => `1836,1836-01-01,R. ${letters(at % 700)},Lieut.,${at}`);
  writeFileSync(place.path('list.csv'), `edition,as_at,name,rank,page\n${rows.join('\n')}\n`);
  writeFileSync(place.path('short.csv'), `edition,as_at,name,rank,page\n${rows.slice(0, 150).join('\n')}\n`);
}, 60_000);
afterAll(() => place.remove());

/** A surname of its own for each number. */
const letters = (number: number): string =>
  `Q${[...String(number + 1000)].map((digit) => 'abcdefghij'[Number(digit)]).join('')}`;

const sha256Of = (name: string): string =>
  createHash('sha256')
    .update(readFileSync(place.path(name)))
    .digest('hex');

/** Chance with a seed, so that what failed can be had again; the machine's own pace is chance enough besides. */
function random(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 4_294_967_296;
  };
}

function fresh(from = 'empty'): void {
  discard(place, ...FILES);
  copyFileSync(place.path(from), place.path('heldby.sqlite'));
}

/** Looks into the ledger as the next command would: what is in it, and that nothing is unsound. */
function seen<T>(look: (all: (sql: string) => unknown[]) => T): T {
  const db = openLedger(place.path('heldby.sqlite'), 'record');
  try {
    expect(verifyLedger(db)).toEqual([]);
    expect(db.prepare('SELECT count(*) FROM act').pluck().get()).toBe(
      db.prepare('SELECT count(*) FROM seal').pluck().get(),
    );
    return look((sql) => db.prepare(sql).pluck().all());
  } finally {
    db.close();
  }
}

/** Starts the command, kills it at a moment within its usual time, and gives back what it had said by then. */
async function killed(
  moment: number,
  input: string | undefined,
  ...words: string[]
): Promise<{ out: string; finished: boolean }> {
  const { child, ended } = started(place, ...words);
  child.stdin?.end(input ?? '');
  await wait(moment);
  child.kill('SIGKILL');
  const { out, status } = await ended;
  return { out, finished: status === 0 };
}

async function usualMs(input: string | undefined, ...words: string[]): Promise<number> {
  const begun = performance.now();
  const { child, ended } = started(place, ...words);
  child.stdin?.end(input ?? '');
  await ended;
  return performance.now() - begun;
}

/** So many rounds as there is time for, and a few in any case; `round` gets the moment to kill at. */
async function rounds(seed: number, usual: number, round: (moment: number) => Promise<void>): Promise<number> {
  const chance = random(seed);
  const end = performance.now() + ALL_ROUNDS_MS;
  let done = 0;
  while (done < FEWEST_ROUNDS || (done < MOST_ROUNDS && performance.now() < end)) {
    await round(chance() * usual * 1.05);
    done += 1;
  }
  return done;
}

describe('killed at random moments', () => {
  test('taking lines down: every acknowledged one is there, and the file can be given again', {
    timeout: 240_000,
  }, async () => {
    const page = readFileSync(place.path('page.txt'), 'utf8');
    fresh();
    const usual = await usualMs(page, 'entry', 'take', '1834');
    const cut: number[] = [];
    await rounds(1834, usual, async (moment) => {
      fresh();
      const { out } = await killed(moment, page, 'entry', 'take', '1834');
      const acknowledged = [...out.matchAll(/^(e\d+) {2}Captain · (Ann \w+)/gm)].map(([, id, name]) => `${id} ${name}`);
      const recorded = seen((all) =>
        all(
          "SELECT 'e' || e.row || ' ' || n.text FROM current_entry AS e JOIN printed_name AS n ON n.id = e.name_id ORDER BY e.row",
        ),
      ) as string[];
      expect(recorded.slice(0, acknowledged.length)).toEqual(acknowledged);
      // One line more may be on the disk than there was time to tell of.
      expect(recorded.length - acknowledged.length).toBeLessThanOrEqual(1);
      cut.push(recorded.length);
    });
    expect(cut.some((count) => count > 0 && count < LINES)).toBe(true);
    const again = place.with({ input: page }, 'entry', 'take', '1834');
    expect(again.err).toContain(`${LINES - (cut.at(-1) ?? 0)} recorded`);
    expect(seen((all) => all('SELECT count(*) FROM current_entry'))).toEqual([LINES]);
  });

  test('importing: all of the file or nothing of it', { timeout: 240_000 }, async () => {
    fresh();
    const usual = await usualMs(undefined, 'import', 'list.csv', '--series', 'Roster');
    await rounds(1836, usual, async (moment) => {
      fresh();
      const { out } = await killed(moment, undefined, 'import', 'list.csv', '--series', 'Roster');
      const [count] = seen((all) => all('SELECT count(*) FROM current_entry'));
      expect([0, 3000]).toContain(count);
      if (out.includes('Recorded in act')) expect(count).toBe(3000);
    });
  });

  test('undoing: the act counts or it does not', { timeout: 240_000 }, async () => {
    fresh();
    place.json('import', 'list.csv', '--series', 'Roster');
    copyFileSync(place.path('heldby.sqlite'), place.path('full'));
    const usual = await usualMs(undefined, 'undo');
    await rounds(1838, usual, async (moment) => {
      fresh('full');
      const { out } = await killed(moment, undefined, 'undo');
      const [[count], [acts]] = seen((all) => [
        all('SELECT count(*) FROM current_entry'),
        all('SELECT count(*) FROM act'),
      ]) as [number[], number[]];
      expect([
        [3000, 3],
        [0, 4],
      ]).toContainEqual([count, acts]);
      if (out.includes('is undone')) expect(count).toBe(0);
    });
  });

  test('joining: people who are one, and entries put together into people', { timeout: 240_000 }, async () => {
    fresh();
    place.json('import', 'short.csv', '--series', 'Roster');
    place.json('person', 'add', 'Julian Farrow');
    place.json('person', 'add', 'Jul. Farrow');
    copyFileSync(place.path('heldby.sqlite'), place.path('two'));
    const states = (all: (sql: string) => unknown[]) =>
      ['act', 'current_same', 'current_link', 'current_person'].map((table) =>
        Number(all(`SELECT count(*) FROM ${table}`)[0]),
      );
    for (const words of [
      ['person', 'same', 'p1', 'p2', '--why', 'one hand'],
      ['careers', '--accept'],
    ]) {
      fresh('two');
      const before = seen(states);
      const usual = await usualMs(undefined, ...words);
      const after = seen(states);
      expect(after).not.toEqual(before);
      await rounds(1844, usual, async (moment) => {
        fresh('two');
        const { out } = await killed(moment, undefined, ...words);
        const now = seen(states);
        expect([before, after]).toContainEqual(now);
        if (out.includes('Recorded in act')) expect(now).toEqual(after);
      });
    }
  });

  test('writing a bundle or a backup: the whole file stands there, or none', { timeout: 120_000 }, async () => {
    fresh();
    place.json('import', 'list.csv', '--series', 'Roster');
    place.json('object', 'add', '214', '--title', 'Writing slope');
    place.json('mark', 'add', '214', `R. ${letters(5)}`, '--role', 'owner');
    writeFileSync(place.path('flap.jpg'), 'x'.repeat(5_000_000));
    place.json('photo', 'add', 'm1', 'flap.jpg');
    for (const [written, ...words] of [
      ['slope.jsonl', 'bundle', '214', 'slope.jsonl'],
      ['copy.sqlite', 'backup', 'copy.sqlite'],
    ] as const) {
      const clear = () => discard(place, written, `${written}.photos`);
      clear();
      const usual = await usualMs(undefined, ...words);
      const whole = readFileSync(place.path(written));
      await rounds(1840, usual, async (moment) => {
        clear();
        await killed(moment, undefined, ...words);
        const isThere = existsSync(place.path(written));
        // What was left unfinished is in nobody's way, and is taken away by whoever writes there next.
        if (!isThere) expect(place.run(...words).status).toBe(0);
        if (!isThere) expect(readdirSync(place.folder).filter((name) => /\.part/.test(name))).toEqual([]);
        if (written === 'slope.jsonl') expect(readFileSync(place.path(written)).equals(whole)).toBe(true);
        else expect(place.run('--ledger', written, 'verify').status).toBe(0);
        expect(readFileSync(photoPath(place.path(written), sha256Of('flap.jpg')))).toHaveLength(5_000_000);
      });
      expect(place.run('verify').status).toBe(0);
    }
  });

  test('bringing in a bundle or a history: all of it or nothing', { timeout: 120_000 }, async () => {
    fresh();
    place.json('import', 'short.csv', '--series', 'Roster');
    place.json('object', 'add', '214', '--title', 'Writing slope');
    place.json('mark', 'add', '214', `R. ${letters(5)}`, '--role', 'owner');
    discard(place, 'slope.jsonl', 'acts.jsonl');
    place.json('bundle', '214', 'slope.jsonl');
    place.json('export', '--all', '--acts', '--out', 'acts.jsonl');
    fresh();
    place.json('person', 'add', 'Ann Quill');
    copyFileSync(place.path('heldby.sqlite'), place.path('colleague'));
    for (const file of ['slope.jsonl', 'acts.jsonl']) {
      fresh('colleague');
      const usual = await usualMs(undefined, 'import', file);
      const [all] = seen((ask) => ask('SELECT count(*) FROM act'));
      await rounds(1842, usual, async (moment) => {
        fresh('colleague');
        const { out } = await killed(moment, undefined, 'import', file);
        const [acts] = seen((ask) => ask('SELECT count(*) FROM act'));
        expect([3, all]).toContain(acts);
        if (out.includes('Recorded')) expect(acts).toBe(all);
      });
    }
  });
});
