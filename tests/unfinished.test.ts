import { mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { expect, test } from 'vitest';
import { clearUnfinished, unfinishedName } from '../src/unfinished.ts';

test('what a run that was killed has left is taken away, but not what another one is writing', () => {
  const folder = mkdtempSync(join(tmpdir(), 'heldby-'));
  const GONE = 2 ** 22 + 1; // beyond the greatest process number there can be
  const own = unfinishedName(join(folder, '1.html'));
  for (const name of [`.1.html.${GONE}.part`, `.copy.sqlite.${GONE}.part-journal`, 'mine.part', basename(own)])
    writeFileSync(join(folder, name), 'half');
  clearUnfinished(folder);
  clearUnfinished(join(folder, 'none'));
  expect(readdirSync(folder).sort()).toEqual([basename(own), 'mine.part']);
  rmSync(folder, { recursive: true });
});
