// Three hundred lots on a ledger of a million entries: seconds, and whether the memory grows with the lots. Invented and
// seeded: `node tests/bench/batch.mjs [entries] [lots]`.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { generate, random } from './generate.mjs';

const LAUNCHER = resolve(import.meta.dirname, '../../bin/heldby.js');
const [entries = 1e6, lots = 300] = process.argv.slice(2).map(Number);

/** Marks of people of the list: a rank and an initial, every third object with a second name and no rank. */
function records(lines) {
  const next = random(11);
  const line = () => lines[Math.floor(next() * lines.length)].split(',');
  const out = [];
  for (let ref = 1; ref <= lots; ref += 1) {
    const [, edition, , , name, rank] = line();
    const [forename, surname] = [name.split(' ')[0], name.split(' ').at(-1)];
    const damaged = next() < 0.3 && surname.length > 5 ? `${surname.slice(0, 3)}[.]${surname.slice(4)}` : surname;
    const object = `lot-${ref}`;
    const window = `${Number(edition) - 15}/${Number(edition) + 10}`;
    out.push({ type: 'object', key: object, ref: String(ref), title: 'Writing slope' });
    out.push({ type: 'feature', object, text: 'hand-filed screws', window, force: 'usual', weight: 'moderate' });
    out.push({ type: 'mark', object, text: `${rank} ${forename[0]}. ${damaged}`, role: 'owner' });
    if (ref % 3 > 0) continue;
    const other = line()[4].split(' ');
    out.push({ type: 'mark', object, text: `${other[0]} ${other.at(-1)}`, role: 'owner' });
  }
  return out;
}

const folder = mkdtempSync(join(tmpdir(), 'heldby-batch-'));
/** The command under GNU time, which tells its seconds, its processor's and its largest memory. */
function run(...words) {
  const { status, stderr } = spawnSync('/usr/bin/time', ['-f', '%e %U %M', process.execPath, LAUNCHER, ...words], {
    cwd: folder,
    encoding: 'utf8',
  });
  if (status !== 0) throw new Error(`heldby ${words.join(' ')}: ${stderr}`);
  const [seconds, processor, kilobytes] = stderr.trim().split('\n').at(-1).split(' ').map(Number);
  return { seconds, processor, megabytes: Math.round(kilobytes / 1024) };
}

try {
  generate(join(folder, 'lists.csv'), entries);
  const lines = readFileSync(join(folder, 'lists.csv'), 'utf8').split('\n').slice(1, -1);
  writeFileSync(
    join(folder, 'lots.jsonl'),
    records(lines)
      .map((each) => JSON.stringify(each))
      .join('\n'),
  );
  run('init');
  run('import', 'lists.csv');
  run('import', 'lots.jsonl');
  const tenth = Array.from({ length: Math.ceil(lots / 10) }, (_, at) => String(at + 1));
  for (const [what, words] of [
    [`${tenth.length} lots`, tenth],
    [`${lots} lots`, ['--all']],
    [`${lots} lots again, nothing changed`, ['--all']],
  ]) {
    const { seconds, processor, megabytes } = run('report', ...words, '--format', 'html', '--out', 'catalogue');
    console.log(`${what}: ${seconds} s (processor ${processor} s), ${megabytes} MB`);
  }
} finally {
  rmSync(folder, { recursive: true, force: true });
}
