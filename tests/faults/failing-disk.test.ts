import { execFileSync } from 'node:child_process';
import { copyFileSync, existsSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { constants } from 'node:os';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { makePlace, type Place } from '../cli/heldby.ts';

/** So many calls are let fail one by one, then every so-manieth. */
const EACH = 9;
const STEP = 101;
const ERRORS = ['ENOSPC', 'EIO', 'EROFS'] as const;

const hasCompiler = (): boolean => {
  try {
    execFileSync('cc', ['--version'], { stdio: 'ignore' });
    return process.platform === 'linux';
  } catch {
    return false;
  }
};

let place: Place;
beforeAll(() => {
  place = makePlace();
  if (!hasCompiler()) return;
  const source = fileURLToPath(new URL('failing-disk.c', import.meta.url));
  execFileSync('cc', ['-shared', '-fPIC', '-o', place.path('failing-disk.so'), source, '-ldl']);
  place.json('init', 'heldby.sqlite');
  place.json('person', 'add', 'Ann Holt');
  place.json('person', 'add', 'Anne Holt');
  place.json('object', 'add', '214', '--title', 'Writing slope');
  place.json('mark', 'add', '214', 'A. H[..]t', '--role', 'owner');
  writeFileSync(place.path('flap.jpg'), 'a picture');
  writeFileSync(place.path('lid.jpg'), 'another picture');
  place.json('photo', 'add', 'm1', 'flap.jpg');
  copyFileSync(place.path('heldby.sqlite'), place.path('as-it-was'));
}, 60_000);
afterAll(() => place.remove());

const acts = (): number => place.json('history').acts.length;

/** From the n-th write on all fail, so also those that would take away what is half done. */
test.runIf(hasCompiler()).each<[what: string, ledger: string, ...words: string[]]>([
  ['a new ledger', 'new.sqlite', 'init', 'new.sqlite'],
  ['two people who are one', 'heldby.sqlite', 'person', 'same', 'p1', 'p2', '--why', 'one hand'],
  ['an act undone', 'heldby.sqlite', 'undo'],
  ['a picture', 'heldby.sqlite', 'photo', 'add', 'm1', 'lid.jpg'],
  ['a bundle', 'slope.jsonl', 'bundle', '214', 'slope.jsonl'],
  ['a backup', 'copy.sqlite', 'backup', 'copy.sqlite'],
])('a disk that fails: %s', { timeout: 300_000 }, (_what, written, ...words) => {
  copyFileSync(place.path('as-it-was'), place.path('heldby.sqlite'));
  const before = acts();
  let refused = 0;
  for (const [at, error] of ERRORS.entries()) {
    for (let call = 1 + at; ; call += call < EACH ? ERRORS.length : STEP) {
      for (const file of readdirSync(place.folder))
        if (/^\.|-wal|-shm|^(?:new|copy|slope)|lid\.jpg\.|fault/.test(file))
          rmSync(place.path(file), { recursive: true });
      copyFileSync(place.path('as-it-was'), place.path('heldby.sqlite'));
      const fault = {
        LD_PRELOAD: place.path('failing-disk.so'),
        FAULT_MATCH: written === 'heldby.sqlite' ? 'heldby.sqlite' : written,
        FAULT_N: String(call),
        FAULT_ERROR: String(constants.errno[error]),
        FAULT_LOG: place.path('fault'),
      };
      const ran = place.with({ env: fault }, ...words);
      if (!existsSync(place.path('fault'))) break;
      const said = `${error}, call ${call}: ${ran.out}${ran.err}`;
      expect([0, 5], said).toContain(ran.status);
      expect(ran.err, said).not.toMatch(/defect|\n {4}at /);
      expect(place.run('verify').status, said).toBe(0);
      const isSaidUncertain = /is not certain/.test(ran.err);
      if (ran.status === 5 && !isSaidUncertain) expect(acts(), said).toBe(before);
      if (ran.status === 5 && written !== 'heldby.sqlite') expect(existsSync(place.path(written)), said).toBe(false);
      refused += ran.status === 5 ? 1 : 0;
    }
  }
  expect(refused).toBeGreaterThan(ERRORS.length);
});
