// Entries put together into people by `careers --accept`, on an invented service of which the truth is known:
// `node tests/bench/careers.mjs [ENTRIES…]` after a build; 100,000 to a million unless others are given. Pairwise
// precision, recall and F1, beside those of a plain rule: whoever has the same name, folded, is one.
import { spawnSync } from 'node:child_process';
import { closeSync, mkdtempSync, openSync, rmSync, writeFileSync, writeSync } from 'node:fs';
import { cpus, tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import Database from 'better-sqlite3';
import { rolldown } from 'rolldown';

const ROOT = resolve(import.meta.dirname, '../..');
const SIZES = process.argv.length > 2 ? process.argv.slice(2).map(Number) : [100_000, 300_000, 1_000_000];
const folder = mkdtempSync(join(tmpdir(), 'heldby-bench-'));
const at = (name) => join(folder, name);

try {
  const { generatedService, isoDay, fold } = await program();
  const cpu = cpus();
  console.log(
    `${new Date().toISOString().slice(0, 10)}, Node ${process.version}, ${cpu.length} × ${cpu[0]?.model ?? 'unknown'}\n`,
  );
  console.log(
    '| entries | people | precision | recall | F1 | waiting | plain rule: precision, recall, F1 | seconds | of the processor | its µs, an entry and log2 of all |',
  );
  console.log('| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |');
  for (const size of SIZES) {
    const service = generatedService(size);
    writeList(service, isoDay);
    const { truth, people } = service;
    const names = service.entries.map(({ surname, forenames }) => fold(`${surname} ${forenames}`));
    const ledger = at(`${size}.sqlite`);
    heldby(ledger, 'init', ledger);
    heldby(ledger, 'series', 'add', 'Coast', '--service', 'army');
    heldby(ledger, 'import', at('list.csv'));
    const { seconds, processor } = heldby(ledger, 'careers', '--accept');
    const told = bearers(ledger, truth.length);
    const own = scores(truth, told.labels);
    const plain = scores(truth, names);
    const perLog = (processor * 1e6) / (truth.length * Math.log2(truth.length));
    const share = (value) => value.toFixed(4);
    console.log(
      `| ${truth.length} | ${people} | ${own.map(share).join(' | ')} | ${told.waiting} | ${plain.map(share).join(', ')} | ${seconds.toFixed(1)} | ${processor.toFixed(1)} | ${perLog.toFixed(2)} |`,
    );
    rmSync(ledger);
  }
} finally {
  rmSync(folder, { recursive: true, force: true });
}

/** @returns how many seconds the whole command took, and how many of the processor's. */
function heldby(ledger, ...words) {
  const begun = process.hrtime.bigint();
  const command = [process.execPath, join(ROOT, 'bin/heldby.js'), ...words, '--ledger', ledger, '--json'];
  const ran = spawnSync('sh', ['-c', '"$@" || exit; times', 'sh', ...command], {
    cwd: folder,
    encoding: 'utf8',
    maxBuffer: 1 << 30,
  });
  if (ran.status !== 0) throw new Error(`heldby ${words.join(' ')}: ${ran.status} ${ran.stderr}`);
  const [user, system] = ran.stdout.trim().split('\n').at(-1).split(' ').map(secondsOf);
  return { seconds: Number(process.hrtime.bigint() - begun) / 1e9, processor: user + system };
}

/** `1m2.5s`, as POSIX has it. */
function secondsOf(text) {
  const [minutes, seconds] = text.split('m');
  return Number(minutes) * 60 + Number.parseFloat(seconds);
}

/** The list as a researcher would have it, with the number of each row as a note. */
function writeList({ editions, entries }, isoDay) {
  const file = openSync(at('list.csv'), 'w');
  writeSync(file, 'series,edition,as_at,surname,forenames,rank,corps,dated,note\n');
  let lines = [];
  for (const [row, { edition, surname, forenames, rank, corps, dated }] of entries.entries()) {
    const { label, asAt } = editions[edition];
    const cells = ['Coast', label, isoDay(asAt.from), surname, forenames, rank.title, corps.name];
    lines.push([...cells, isoDay(dated.span.from), row].join(','));
    if (lines.length < 20_000 && row < entries.length - 1) continue;
    writeSync(file, `${lines.join('\n')}\n`);
    lines = [];
  }
  closeSync(file);
}

/** Who bears each row; whoever waits for a decision is somebody of his own. */
function bearers(ledger, count) {
  const db = new Database(ledger, { readonly: true });
  const labels = Array.from({ length: count }, (_, row) => `row ${row}`);
  let waiting = count;
  const rows = db.prepare(
    'SELECT e.note, b.person_id FROM current_entry AS e JOIN bearer AS b ON b.entry_row = e.row WHERE b.person_id IS NOT NULL',
  );
  for (const { note, person_id } of rows.iterate()) {
    labels[Number(note)] = `p${person_id}`;
    waiting -= 1;
  }
  db.close();
  return { labels, waiting };
}

/** Pairwise precision, recall and F1. */
function scores(truth, told) {
  const right = pairs(truth.map((person, row) => `${person} ${told[row]}`));
  const [said, real] = [pairs(told), pairs(truth)];
  return [right / said, right / real, (2 * right) / (said + real)];
}

/** How many pairs can be made within the groups of equal labels. */
function pairs(labels) {
  const sizes = new Map();
  for (const label of labels) sizes.set(label, (sizes.get(label) ?? 0) + 1);
  return [...sizes.values()].reduce((sum, size) => sum + (size * (size - 1)) / 2, 0);
}

async function program() {
  const from = (path) => JSON.stringify(join(ROOT, path));
  writeFileSync(
    at('service.ts'),
    [
      `export { generatedService } from ${from('tests/careers/linkage/generated-service.ts')};`,
      `export { isoDay } from ${from('src/time/calendar.ts')};`,
      `export { fold } from ${from('src/services/fold.ts')};`,
    ].join('\n'),
  );
  const bundle = await rolldown({ input: at('service.ts'), platform: 'node' });
  await bundle.write({ file: at('service.mjs'), format: 'esm' });
  return import(at('service.mjs'));
}
