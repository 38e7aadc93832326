// Damaged readings against a ledger of a million entries: `npm run bench`. What the program finds must be what an
// exhaustive weighted comparison of every surname finds; beside it, for recall and time, a fuzzy finder and a scan by
// edit distance, neither of which knows lost letters or which letters are alike. All in one process, one after the other
// for each reading, so that a machine that slows down slows all.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { cpus, tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { DuckDBInstance } from '@duckdb/node-api';
import Database from 'better-sqlite3';
import Fuse from 'fuse.js';
import { rolldown } from 'rolldown';
import { generate, random } from './generate.mjs';

const ROOT = resolve(import.meta.dirname, '../..');
const ENTRIES = Number(process.env['HELDBY_BENCH_ENTRIES'] ?? 1_000_000);
const READINGS = Number(process.env['HELDBY_BENCH_READINGS'] ?? 1000);
/** Readings that are looked for once more before anything counts. */
const WARMING = 20;
const folder = mkdtempSync(join(tmpdir(), 'heldby-bench-'));
const at = (name) => join(folder, name);

try {
  console.error(`Generating ${ENTRIES} entries …`);
  const entries = generate(at('list.csv'), ENTRIES);
  for (const words of [
    ['init', 'l.sqlite'],
    ['import', 'list.csv', '--ledger', 'l.sqlite'],
  ]) {
    const ran = spawnSync(process.execPath, [join(ROOT, 'bin/heldby.js'), ...words], { cwd: folder, encoding: 'utf8' });
    if (ran.status !== 0) throw new Error(`heldby ${words.join(' ')}: ${ran.stderr}`);
  }
  const { surnamesWithin, patternFrom, limitBits, surnameCost, isDamaged, DEFAULTS } = await program();
  const db = new Database(at('l.sqlite'), { readonly: true });
  const names = db.prepare('SELECT id, text FROM surname ORDER BY id').all();
  const elementBits = DEFAULTS.values['agree.element'];
  const fuse = new Fuse(names, { keys: ['text'], includeScore: true, ignoreLocation: true });
  const duck = await (await DuckDBInstance.create(':memory:')).connect();
  await duck.run('CREATE TABLE surname (id INTEGER, text VARCHAR)');
  await duck.run(`INSERT INTO surname VALUES ${names.map(({ id, text }) => `(${id}, '${text.toLowerCase()}')`)}`);

  const readings = damagedReadings(names, READINGS);
  console.error(`${readings.length} damaged readings of ${names.length} surnames …`);
  const found = { program: tally(), fuse: tally(), duck: tally() };
  let exhaustiveMs = 0;
  let differing = 0;
  for (const [place, { typed, seen, gaps, id }] of [...readings.slice(0, WARMING), ...readings].entries()) {
    if (place === WARMING) {
      exhaustiveMs = 0;
      for (const one of Object.values(found)) Object.assign(one, tally());
    }
    const pattern = patternFrom(typed);
    const limit = limitBits(pattern, DEFAULTS);
    const [all, ms] = await timed(() =>
      names.flatMap(({ id, text }) => {
        const bits = surnameCost(pattern, text, { elementBits, limitBits: limit });
        return bits <= limit ? [{ id, bits }] : [];
      }),
    );
    exhaustiveMs += ms;
    const wanted = new Map(all.map(({ id, bits }) => [id, bits]));
    const [own, ownMs] = await timed(() => surnamesWithin(db, pattern, limit, elementBits));
    if (own.length !== wanted.size || own.some(({ id, bits }) => wanted.get(id) !== bits)) differing += 1;
    count(found.program, own, ownMs, wanted, id);
    // As many as there are to be found, the likest first.
    const [fuzzy, fuzzyMs] = await timed(() => fuse.search(seen, { limit: wanted.size }).map(({ item }) => item));
    count(found.fuse, fuzzy, fuzzyMs, wanted, id);
    const [scanned, scannedMs] = await timed(async () => {
      const sql = `SELECT id FROM surname ORDER BY levenshtein(text, '${gaps}'), id LIMIT ${wanted.size}`;
      return (await duck.runAndReadAll(sql)).getRowObjects();
    });
    count(found.duck, scanned, scannedMs, wanted, id);
  }
  const cpu = cpus();
  console.log(
    `${new Date().toISOString().slice(0, 10)}, Node ${process.version}, ${cpu.length} × ${cpu[0]?.model ?? 'unknown'}; ${entries} entries, ${names.length} surnames, ${readings.length} damaged readings (${readings.filter(({ typed }) => isDamaged(patternFrom(typed))).length} with letters lost or unsure)\n`,
  );
  console.log(
    '| search | share of the surnames within the limit | share of the readings whose own surname is among them | ms a reading | times as fast |',
  );
  console.log('| --- | --- | --- | --- | --- |');
  const line = (what, { hits, wanted, own, ms }, n = readings.length) =>
    console.log(
      `| ${what} | ${(hits / wanted).toFixed(3)} | ${(own / n).toFixed(3)} | ${(ms / n).toFixed(2)} | ${(exhaustiveMs / ms).toFixed(1)} |`,
    );
  const { wanted, hits: _hits, own, ms: _ms } = found.program;
  line('every surname compared by weights', { hits: wanted, wanted, own, ms: exhaustiveMs });
  line('the program', found.program);
  line('Fuse.js, letters that are seen', found.fuse);
  line('DuckDB, edit distance to the reading with its gaps', found.duck);
  console.log(
    `\nReadings for which the program finds other names, or other bits, than the exhaustive comparison: ${differing}`,
  );
  if (differing > 0) process.exitCode = 1;
} finally {
  rmSync(folder, { recursive: true, force: true });
}

/** The program's own search, as it is built. */
async function program() {
  const from = (path) => JSON.stringify(join(ROOT, 'src', path));
  writeFileSync(
    at('search.ts'),
    [
      `export { surnamesWithin } from ${from('ledger/surname-search.ts')};`,
      `export { isDamaged, limitBits, patternFrom } from ${from('names/pattern.ts')};`,
      `export { surnameCost } from ${from('names/surname-cost.ts')};`,
      `export { DEFAULTS } from ${from('assumptions.ts')};`,
    ].join('\n'),
  );
  const bundle = await rolldown({ input: at('search.ts'), platform: 'node', external: ['better-sqlite3'] });
  await bundle.write({ file: at('search.mjs'), format: 'esm' });
  return import(at('search.mjs'));
}

function tally() {
  return { hits: 0, wanted: 0, own: 0, ms: 0 };
}

function count(sum, found, ms, wanted, id) {
  sum.ms += ms;
  sum.wanted += wanted.size;
  sum.hits += found.filter((one) => wanted.has(one.id)).length;
  sum.own += found.some((one) => one.id === id) ? 1 : 0;
}

async function timed(work) {
  const begun = process.hrtime.bigint();
  const result = await work();
  return [result, Number(process.hrtime.bigint() - begun) / 1e6];
}

/**
 * A surname each, damaged in one of five ways: 1. letters in a row are lost; 2. all but the beginning or the end is;
 * 3. one letter is taken for one like it, another is lost; 4. an unsure letter is taken for another, one is lost; 5. nothing
 * is lost, but a letter was left out, doubled or taken for one like it. `seen` has the letters that are seen, `gaps` a
 * dot for each lost one.
 */
function damagedReadings(all, wanted, seed = 11) {
  const next = random(seed);
  const below = (n) => Math.floor(next() * n);
  const ALIKE = {
    u: 'n',
    n: 'u',
    c: 'e',
    e: 'c',
    l: 't',
    t: 'l',
    i: 'y',
    y: 'i',
    k: 'c',
    s: 'z',
    a: 'o',
    o: 'a',
    h: 'b',
    r: 'n',
    m: 'n',
    d: 't',
  };
  const readings = [];
  while (readings.length < wanted) {
    const { id, text } = all[below(all.length)];
    const letters = [...text.toLowerCase()];
    if (letters.length < 5 || letters.some((letter) => !/[a-z]/.test(letter))) continue;
    const typed = letters.map((letter) => letter);
    const place = 1 + below(letters.length - 2);
    const like = (spot) => {
      const other = ALIKE[letters[spot]] ?? letters[spot];
      typed[spot] = other;
      return other;
    };
    const kind = readings.length % 5;
    if (kind === 0)
      for (let spot = place; spot < Math.min(letters.length - 1, place + 1 + below(3)); spot += 1) typed[spot] = '[.]';
    else if (kind === 1) {
      const kept = 3 + below(2);
      if (next() < 0.5) typed.splice(kept, letters.length - kept, '[---]');
      else typed.splice(0, letters.length - kept, '[---]');
    } else if (kind === 2 || kind === 3) {
      const other = like(place);
      if (kind === 3) typed[place] = `_${other}`;
      const lost = (place + 2) % letters.length;
      typed[lost] = '[.]';
    } else if (next() < 0.3) typed.splice(place, 1);
    else if (next() < 0.5) typed[place] += typed[place];
    else like(place);
    const text_ = typed.join('');
    readings.push({
      id,
      typed: text_.replaceAll('][', ''),
      seen: text_.replaceAll(/\[[^\]]*\]|_/g, ''),
      gaps: text_.replaceAll('[---]', '...').replaceAll(/[[\]_]/g, ''),
    });
  }
  return readings;
}
