// The walk that `npm start` takes: a ledger of invented people, lists and objects is made in a temporary folder, and
// the questions that it is for are put to it through the real command. Nothing is asked of the reader. HELDBY_KEEP=1
// keeps the folder and says where it is.
import { spawnSync } from 'node:child_process';
import { copyFileSync, mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const here = dirname(fileURLToPath(import.meta.url));
const launcher = join(here, '..', 'bin', 'heldby.js');
const WIDTH = 80;

const folder = mkdtempSync(join(tmpdir(), 'heldby-walk-'));
const env = { ...process.env, HELDBY_LEDGER: 'demo.sqlite', HELDBY_WHO: 'the walk', COLUMNS: String(WIDTH) };
if (process.stdout.isTTY && !process.env.NO_COLOR) env.FORCE_COLOR ??= '1';

const say = (text = '') => process.stdout.write(`${text}\n`);

/** Prose, broken at spaces to the width of the page. */
function tell(text) {
  let line = '';
  for (const word of text.split(/\s+/)) {
    if (line !== '' && line.length + 1 + word.length > WIDTH) {
      say(line);
      line = '';
    }
    line = line === '' ? word : `${line} ${word}`;
  }
  if (line !== '') say(line);
}

const quoted = (argument) => (/^[\w./:=,-]+$/.test(argument) ? argument : `'${argument.replaceAll("'", "'\\''")}'`);

/** A command line, continued before an option where it would be wider than the page. */
function showTyped(typed) {
  let line = '';
  for (const part of typed.split(/ (?=--)/)) {
    if (line !== '' && line.length + 1 + part.length > WIDTH - 2) {
      say(`${line} \\`);
      line = `    ${part}`;
    } else line = line === '' ? part : `${line} ${part}`;
  }
  say(line);
}

/** Runs the command as one would type it and shows what it prints; anything but exit status 0 ends the walk. */
function run(...args) {
  say();
  showTyped(`$ heldby ${args.map(quoted).join(' ')}`);
  const { status, error, stdout, stderr } = spawnSync(process.execPath, [launcher, ...args], {
    cwd: folder,
    env,
    encoding: 'utf8',
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  if (error) throw error;
  process.stdout.write(stdout);
  process.stdout.write(stderr);
  if (status !== 0) throw new Error(`The command ended with exit status ${status}.`);
}

let stepNumber = 0;
function step(title, before, commands, after) {
  stepNumber += 1;
  const heading = `${stepNumber}. ${title}`;
  say(`\n${heading}\n${'-'.repeat(heading.length)}`);
  tell(before);
  for (const command of commands) run(...command);
  say();
  tell(after);
}

function walk() {
  tell(`heldby keeps the evidence about old objects and the people who may have owned them, and works out who held what,
    when, and how sure that is. This walk asks it about five objects. The people, the State of Varrow, its Coast Survey
    and its lists are invented.`);
  step(
    'A ledger, and what goes into it',
    `A ledger is one file. Two files are read into it: records of every kind (people, objects, marks, gazette notices,
    searches), and the entries of 24 yearly lists as they were typed from the page. HELDBY_LEDGER=demo.sqlite tells every command
    which ledger is meant.`,
    [
      ['init', 'demo.sqlite'],
      ['import', 'examples/records.jsonl'],
      ['import', 'examples/lists.csv'],
      ['import', 'examples/lists.csv'],
    ],
    `Each import is one act in the journal, all of it or nothing. A file that comes a second time records nothing new.`,
  );
  step(
    'What a date means',
    `Dates are written as the sources write them. Which days does this one mean?`,
    [['when', 'c. 1834']],
    `These are the days of the year that is named. Where ‘about’ a year is used as evidence it reaches five years
    further to either side; that figure is an assumption, and a ledger can change it.`,
  );
  step(
    'When was he what',
    `Nathaniel Brome rose from ensign to major in the 1st Fencibles. In the list of 1837 somebody looked for him and did
    not find him. What can be said of his career, and on which entries does it rest?`,
    [['tenures', 'brome-nathaniel']],
    `He was a lieutenant from March 1836 and is listed again in 1838, so the line fell out at the printer’s: the search
    is set aside, and said to be. Where the lists stop, the last rank stays open.`,
  );
  step(
    'A damaged name',
    `Under the flap of a writing slope is ‘Lieut. J. Ferr[..]d’: two letters are lost. Three lieutenants of the lists
    fit what is left. Which of them wrote it?`,
    [['candidates', '214-flap']],
    `Julian Peter Ferrand held the rank when the slope was new. John Ferrold came into it later and may have owned it at
    second hand; James Ferrard was promoted out of it early. More than ‘possibly’ the name alone does not allow.`,
  );
  step(
    'Two men of one name',
    `A Thomas Marrick of the Harbour Artillery and a Thomas Marrick of the 3rd Fencibles stand in the same lists for
    years. Which of them was the ‘Lieut. T. Marrick’ of the barometer?`,
    [['candidates', '221-plate']],
    `Only the younger. The scales are divided in a measure that a law of 1829 brought in, and the elder had been a
    captain since 1824: the rank and the date of the object decide what the name cannot.`,
  );
  step(
    'A conclusion that hangs on one line',
    `The stick of a ‘Major E. Thorley’ has a silver collar of 1844. Edmund Thorley is called a major once only, in the
    list of 1845, and there his rank is dated 3 June 1834, when every list still has him a lieutenant. Ernest Thorley
    was a brevet major and had retired in 1842.`,
    [['candidates', '245-collar']],
    `The printed date contradicts the other lists and is set aside; that he is listed as a major is not. So Edmund
    leads, one grade lower than his share would earn him, and the answer names the entry on which all of it rests. The
    volume of 1846 has not been called up yet. (heldby tenures thorley-edmund shows what contradicts what.)`,
  );
  step(
    'Nobody fits',
    `Inside the lens cap of a telescope somebody read ‘Capt. R. Quennell’. Who was he?`,
    [['candidates', '238-cap']],
    `That nobody fits is no finding yet. The nearest name differs where scratched letters are easily confused, and is a
    reason to look at the cap again.`,
  );
  step(
    'A second reading',
    `By raking light a second reader sees r’s where the first read n’s, and cannot make out the vowel. That reading is
    recorded beside the first, then accepted in its place, with the reason; and the question is put again.`,
    [
      ['reading', 'add', '238-cap', 'Capt. R. Qu[.]rrell', '--by', 'second reader, by raking light'],
      ['amend', '238-cap', 'text', 'Capt. R. Qu[.]rrell', '--why', 'raking light shows rr where nn was read'],
      ['candidates', '238-cap'],
    ],
    `One captain fits, in two corps with nearly five years of half pay between them. Nothing was lost by the change: the next
    command still answers from the first reading.`,
  );
  step(
    'The ledger as it was',
    `What did the same question give before the reading was changed, after act 2?`,
    [['--as-of', '2', 'candidates', '238-cap']],
    `Every earlier state can be asked. What was told to a client on a given day can be worked out again.`,
  );
  step(
    'Three names on a tea caddy',
    `A painted name, a slip pasted across it, and over that a depository’s label: the Harcombs and Lisles were
    wharfingers and notaries at Saltmere. The slip says ‘M. Lisle’, and there was a Lieutenant Matthew Lisle as well.`,
    [
      ['candidates', '230-base'],
      ['candidates', '230-ink'],
      ['candidates', '230-label'],
    ],
    `The first and the last name are clear. Taken by itself the slip may be Margaret Lisle’s, Josiah Harcomb’s daughter,
    or the lieutenant’s. That the names before and after it are those of her father and her daughter speaks for her;
    each of these answers looks at one mark alone.`,
  );
  step(
    'Words just read',
    `Somebody writes about a pair of dividers engraved ‘Capt. P. Anstey-Vole’. Words need not be in the ledger to be
    asked about.`,
    [['candidates', '--text', 'Capt. P. Anstey-Vole', '--role', 'owner', '--between', '1830', '1850']],
    `Piers Anstey took the second surname by licence in September 1836 and was promoted in May 1840. If the words are
    his, they were engraved between those days; and the answer says that the licence is what it hangs on.`,
  );
  step(
    'What is in the ledger, and how it got there',
    `Records can be shown and listed, and every act read back.`,
    [['show', '221-plate'], ['list', 'objects'], ['history'], ['history', '238-cap']],
    `The attribution of the barometer is the researcher’s own, with the reason and the act that recorded it. An
    attribution is an opinion on the evidence recorded, never a warranty.`,
  );
  say('\nTo go on by yourself\n--------------------');
  tell(`From the project’s folder, make a ledger of your own from the same files:`);
  say();
  say('  node bin/heldby.js init mine.sqlite');
  say('  export HELDBY_LEDGER=mine.sqlite');
  say('  node bin/heldby.js import examples/records.jsonl');
  say('  node bin/heldby.js import examples/lists.csv');
  say('  node bin/heldby.js candidates 214-flap --json');
  say('  node bin/heldby.js report --all --format all --out catalogue');
  say('  node bin/heldby.js --help');
}

// A reader that stops reading (`npm start | head`) or Ctrl-C ends the walk, but the folder is still removed: Ctrl-C
// reaches the command that is running, and the walk stops because that command did not end well.
process.stdout.on('error', (error) => {
  if (error.code !== 'EPIPE') throw error;
});
process.on('SIGINT', () => undefined);

try {
  mkdirSync(join(folder, 'examples'));
  for (const name of ['records.jsonl', 'lists.csv']) copyFileSync(join(here, name), join(folder, 'examples', name));
  walk();
} catch (error) {
  process.stderr.write(`\nThe walk stopped: ${error.message}\n`);
  process.exitCode = 1;
} finally {
  if (process.env.HELDBY_KEEP === '1') say(`\nThe ledger was kept: ${join(folder, 'demo.sqlite')}`);
  else rmSync(folder, { recursive: true, force: true });
}
