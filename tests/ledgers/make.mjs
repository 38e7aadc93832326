// Makes the small ledger of the present format, with the answers it gives, from records.jsonl:
//   npm run build && node tests/ledgers/make.mjs
// Run it while a format is being made. Once a version of the program that has it is out, its ledger is never made
// again: what it says is what people have on their disks.
import { spawnSync } from 'node:child_process';
import { copyFileSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { gzipSync } from 'node:zlib';

const here = import.meta.dirname;
const root = resolve(here, '../..');
const format = Math.max(...readdirSync(join(root, 'migrations')).map((name) => Number(name.slice(0, 4))));
const folder = mkdtempSync(join(tmpdir(), 'heldby-ledger-'));

const run = (...words) => {
  const { status, stdout, stderr } = spawnSync(process.execPath, [join(root, 'bin/heldby.js'), ...words], {
    cwd: folder,
    env: { ...process.env, HELDBY_LEDGER: 'l.sqlite', HELDBY_WHO: 'tester' },
    encoding: 'utf8',
  });
  if (status !== 0) throw new Error(`heldby ${words.join(' ')}: ${stderr}`);
  return stdout;
};

/** What is asked of the ledger; the test asks it again. */
const QUESTIONS = [
  ['tenures', 'ferrand'],
  ['tenures', 'ferrand', '--as-of', '1'],
  ['tenures', 'holt'],
  ['candidates', 'm1'],
  ['made', '214'],
  ['list', 'entries'],
  ['list', 'people'],
  ['list', 'marks'],
  ['show', 'e-1834'],
  ['assume', 'circa'],
  ['history', 'p1'],
  ['verify'],
];

copyFileSync(join(here, 'records.jsonl'), join(folder, 'records.jsonl'));
run('init', 'l.sqlite');
run('import', 'records.jsonl');
run('amend', 'e-1834', 'page', '214', '--why', 'misread');
run('notice', 'add', '--person', 'ferrand', '--event', 'died', '--date', '1870', '--source', 'Register');
run('undo');
run('person', 'add', 'Anne Holt', '--born', '1790');
run('withdraw', 'q1', '--why', 'another volume');
const answers = QUESTIONS.map((words) => ({
  words,
  answer: withoutProgram(JSON.parse(run(...words, '--json'), withoutWording)),
}));
writeFileSync(
  join(here, `format-${format}.answers.jsonl`),
  `${answers.map((each) => JSON.stringify(each)).join('\n')}\n`,
);
writeFileSync(join(here, `format-${format}.ledger.gz`), gzipSync(readFileSync(join(folder, 'l.sqlite')), { level: 9 }));
rmSync(folder, { recursive: true });

/** The version of the program is told in answers, and is another one each time. */
function withoutProgram({ about, acts, ...answer }) {
  return {
    ...answer,
    ...(about === undefined ? {} : { about: { act: about.act, assumptions: about.assumptions } }),
    ...(acts === undefined ? {} : { acts: acts.map(({ id, who, undoes }) => ({ id, who, undoes })) }),
  };
}

/** How records are called, and what stands beside them, is worded for people and may be worded better. */
function withoutWording(field, value) {
  return field === 'called' || field === 'neighbours' ? undefined : value;
}
