// What the program costs beside the least that could be done: `npm run bench`. Every figure is a ratio within one run,
// of medians over interleaved whole processes, so that a machine that slows down slows both. Needs the sqlite3 shell.
import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { cpus, tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { generate } from './generate.mjs';

const ROOT = resolve(import.meta.dirname, '../..');
const LAUNCHER = join(ROOT, 'bin/heldby.js');
const ENTRIES = Number(process.env['HELDBY_BENCH_ENTRIES'] ?? 1_000_000);
const folder = mkdtempSync(join(tmpdir(), 'heldby-bench-'));
const at = (name) => join(folder, name);

/** Runs a whole process; wall milliseconds and largest memory in megabytes. */
function run(command, ...words) {
  const timed = existsSync('/usr/bin/time');
  const begun = process.hrtime.bigint();
  const ran = timed
    ? spawnSync('/usr/bin/time', ['-f', 'peak %M', command, ...words], { cwd: folder, encoding: 'utf8' })
    : spawnSync(command, words, { cwd: folder, encoding: 'utf8' });
  const ms = Number(process.hrtime.bigint() - begun) / 1e6;
  if (ran.status !== 0) throw new Error(`${command} ${words.join(' ')} ended with ${ran.status}: ${ran.stderr}`);
  return { ms, mb: Number(/peak (\d+)/.exec(ran.stderr)?.[1] ?? 0) / 1024, out: ran.stdout };
}

const heldby = (...words) => run(process.execPath, LAUNCHER, ...words);
const median = (values) => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)];

/** Runs each in turn, over and over, after one round that does not count. */
function interleaved(rounds, contestants) {
  const found = Object.fromEntries(Object.keys(contestants).map((name) => [name, []]));
  for (let round = -1; round < rounds; round += 1) {
    for (const [name, work] of Object.entries(contestants)) {
      const result = work();
      if (round >= 0) found[name].push(result);
    }
  }
  return Object.fromEntries(
    Object.entries(found).map(([name, runs]) => [
      name,
      { ms: median(runs.map(({ ms }) => ms)), mb: median(runs.map(({ mb }) => mb)) },
    ]),
  );
}

const rows = [];
const row = (what, figure, limit) => rows.push([what, figure, limit]);

try {
  console.error(`Generating ${ENTRIES} entries …`);
  const entries = generate(at('list.csv'), ENTRIES);
  const bytes = statSync(at('list.csv')).size;

  console.error('Import …');
  const imports = interleaved(3, {
    raw: () => {
      rmSync(at('raw.sqlite'), { force: true });
      return run('sqlite3', 'raw.sqlite', '.import --csv list.csv entry');
    },
    heldby: () => {
      for (const end of ['', '-wal', '-shm']) rmSync(at(`l.sqlite${end}`), { force: true });
      heldby('init', 'l.sqlite');
      return heldby('import', 'list.csv', '--ledger', 'l.sqlite');
    },
  });
  row(
    `import of ${entries} entries (${Math.round(bytes / 1e6)} MB) : sqlite3 .import into bare text`,
    ratio(imports.heldby.ms, imports.raw.ms),
    '2.00',
  );
  row('the same, entries a second', Math.round((entries / imports.heldby.ms) * 1000).toLocaleString('en'), '');
  row('the same, largest memory, MB', Math.round(imports.heldby.mb), '400');
  row('the ledger, bytes an entry', (statSync(at('l.sqlite')).size / entries).toFixed(1), '');

  console.error('Cold questions …');
  writeFileSync(
    at('open.cjs'),
    `const D = require(${JSON.stringify(join(ROOT, 'node_modules/better-sqlite3'))}); const db = new D('l.sqlite', { readonly: true }); db.prepare('SELECT 1').get(); db.close();`,
  );
  const cold = interleaved(15, {
    open: () => run(process.execPath, 'open.cjs'),
    damaged: () =>
      heldby('candidates', '--ledger', 'l.sqlite', '--text', 'Lieut. J. Ferr[..]d', '--between', '1834', '1838'),
    misspelt: () =>
      heldby('candidates', '--ledger', 'l.sqlite', '--text', 'Capt. Marketti', '--between', '1825', '1845'),
    tenures: () => heldby('tenures', 'G1000', '--ledger', 'l.sqlite'),
    version: () => heldby('--version'),
    bare: () => run(process.execPath, '-e', '0'),
  });
  row(
    'cold `candidates`, damaged name : process that opens and selects 1',
    ratio(cold.damaged.ms, cold.open.ms),
    '1.60',
  );
  row('cold `candidates`, misspelt name : the same', ratio(cold.misspelt.ms, cold.open.ms), '1.60');
  row('cold `tenures` : the same', ratio(cold.tenures.ms, cold.open.ms), '');
  row('`--version` less bare `node -e 0`, ms', Math.round(cold.version.ms - cold.bare.ms), '25');

  const cpu = cpus();
  console.log(
    `${new Date().toISOString().slice(0, 10)}, Node ${process.version}, ${cpu.length} × ${cpu[0]?.model ?? 'unknown'}, npm run bench\n`,
  );
  console.log('| what | measured | at most |\n| --- | --- | --- |');
  for (const cells of rows) console.log(`| ${cells.join(' | ')} |`);
} finally {
  rmSync(folder, { recursive: true, force: true });
}

function ratio(a, b) {
  return (a / b).toFixed(2);
}
