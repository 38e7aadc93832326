import type { Command } from 'commander';
import { HeldbyError } from '../../errors.ts';
import { aboutAnswer } from '../../inquiry/about.ts';
import { type ConflictsAnswer, conflictsOf } from '../../inquiry/conflicts.ts';
import { csvLine } from '../../report/csv.ts';
import {
  conflictGroups,
  decidedInLines,
  type Group,
  groupInLines,
  inLists,
  inOneList,
  isSame,
  wayOf,
} from '../conflict-words.ts';
import { actNumber, asking, type CommonOptions, type Context, widthOf } from '../context.ts';
import { common, example, optionsOf, printAnswer } from '../options.ts';
import { slipsInLines, twiceInLines } from '../slip-words.ts';
import { shown, wrapped } from '../text.ts';

type ConflictsOptions = CommonOptions & { readonly limit?: string; readonly csv?: true };

/** Groups of conflicts shown on a terminal. */
const SHOWN = 100;
/** Groups shown of one who is perhaps two people of one name. */
const MOST_OF_TWO = 2;

export function register(program: Command, context: Context): void {
  const command = program
    .command('conflicts')
    .description('evidence that cannot all be true, what gives way, and why; of the whole ledger without an argument')
    .argument('[subject]', 'a person or an object (or a mark on it): an id, a key, or words that pick it out')
    .option('--limit <number>', `how many groups to show in words (${SHOWN} unless you say another)`)
    .option('--csv', 'print CSV: one line for each claim of each conflict');
  common(command)
    .addHelpText(
      'after',
      `
Each conflict is a minimal set of claims: drop any one, and it is gone. Up to
1,000 are listed, the smallest first, and the rest are counted. What gives way is
the set of claims of least total reliability that clears them all; a record that
you set aside yourself (heldby set-aside) stands above that, and is shown as
yours. Below stands what slip of the printer, or of whoever took a line down, would
explain it (two lines exchanged, a rank, a date or a year misread, a search that
missed the line), and lines that contradict nothing but stand apart from the
others. In JSON, "slips" has these, "frees" is how many conflicts the setting aside clears, and "by"
whether it is computed, yours, or only proposed (then nothing is left out until
you decide).
${example('heldby conflicts', 'heldby conflicts "Julian Peter Ferrand"', 'heldby conflicts 214 --json')}`,
    )
    .action((words: string | undefined) => {
      const options = optionsOf<ConflictsOptions>(command);
      return asking(context, options, (db) => {
        const limit = options.limit === undefined ? SHOWN : wholeNumber(options.limit);
        let told = false;
        const answer = conflictsOf(db, words, (done, of) => {
          if (!told && done < of) context.note(`Looking through ${of} people …`);
          told = true;
        });
        if (options.json) {
          const asOf = options.asOf === undefined ? undefined : actNumber(options.asOf);
          printAnswer(context, db, {
            ...answer,
            conflicts: answer.conflicts.map(inJson),
            about: aboutAnswer(db, asOf),
          });
        } else if (options.csv) context.out(csvOf(answer));
        else context.out(conflictsInWords(answer, limit, context).join('\n'));
      });
    });
}

/** Claims of the next best way out that JSON has with each conflict: many conflicts share one, and it can be long. */
const MOST_OF_WAY = 30;

const inJson = ({ otherWayOut, ...conflict }: ConflictsAnswer['conflicts'][number]) => ({
  ...conflict,
  otherWayOut: otherWayOut.slice(0, MOST_OF_WAY),
  otherWayOutBeyond: Math.max(0, otherWayOut.length - MOST_OF_WAY),
});

function wholeNumber(text: string): number {
  if (!/^[1-9]\d{0,6}$/.test(text))
    throw new HeldbyError('USAGE', `"${text}" is no number of groups.`, 'Give a whole number, such as --limit 20.');
  return Number(text);
}

function csvOf({ conflicts }: ConflictsAnswer): string {
  const header = csvLine(['conflict', 'kind', 'concerns', 'id', 'key', 'claim', 'source', 'setAside', 'why', 'frees']);
  const lines = conflicts.flatMap(({ kind, concerns, members, setAside, frees }, place) =>
    members.map((member) => {
      const aside = setAside.find((each) => isSame(each, member));
      return csvLine([
        place + 1,
        kind,
        concerns.map(({ id, name }) => `${name} ${id}`).join('; '),
        member.id,
        member.key,
        member.claim,
        member.source,
        aside?.by,
        aside?.why,
        aside === undefined ? undefined : frees,
      ]);
    }),
  );
  return [header, ...lines].join('').trimEnd();
}

function conflictsInWords(answer: ConflictsAnswer, limit: number, context: Context): string[] {
  const { strong, faint, doubtful } = context.style;
  const width = widthOf(context);
  const { of, conflicts, conflictsBeyond, decided, people, objects, reliability } = answer;
  const lines: string[] = [];
  if (conflicts.length === 0)
    lines.push(
      of === null
        ? 'No records of the ledger contradict each other.'
        : `No records of ${shown(of.name)} contradict each other.`,
    );
  const groups = conflictGroups(conflicts);
  const lists = new Set(
    [...conflicts, ...decided].flatMap(({ members }) => members.flatMap(({ source }) => source ?? [])),
  );
  const say = lists.size > 1 ? inLists : inOneList;
  const ofOne = (group: Group | undefined): string | undefined =>
    group === undefined || group.concerns.length > 1 ? undefined : group.concerns[0]?.id;
  const shownGroups = groups.slice(0, limit);
  let whom = '';
  let told = 0;
  for (const [place, group] of shownGroups.entries()) {
    const one = ofOne(group);
    const title = titleOf(group.concerns);
    const twice = answer.twiceListed.filter(({ of }) => of.id === one);
    if (title !== whom) {
      lines.push(...(lines.length > 0 ? [''] : []), strong(shown(title)));
      const other = answer.othersOfTheName.find(({ of }) => of.id === one);
      lines.push(...twiceInLines(twice, other, context));
      told = 0;
    }
    whom = title;
    told += 1;
    const next = shownGroups[place + 1];
    const isLast = next === undefined || titleOf(next.concerns) !== title;
    // What two people of one name explain is not told line by line.
    const hidden = twice.length > 1 ? told - MOST_OF_TWO : 0;
    if (hidden <= 0) lines.push(...groupInLines(group, isLast || wayOf(next) !== wayOf(group), say, context));
    if (!isLast) continue;
    if (hidden > 0) lines.push(faint(`    … and ${hidden} more like it (--csv has them)`));
    lines.push(
      ...slipsInLines(
        answer.slips.filter((each) => each.contradicts && each.of.id === one),
        context,
      ),
    );
  }
  if (groups.length > limit)
    lines.push(
      '',
      faint(`… and ${groups.length - limit} more groups of conflicts: --limit N, or name a person or object.`),
    );
  if (conflictsBeyond > 0)
    lines.push('', `… and ${conflictsBeyond} more conflicts beyond the ${conflicts.length} smallest.`);
  lines.push(...worthALook(answer, limit, context));
  if (of === null && conflicts.length > 0)
    lines.push(
      '',
      `${conflicts.length + conflictsBeyond} conflicts, of ${counted(people, 'person', 'people')} and ${counted(objects, 'object', 'objects')}.`,
    );
  const [list] = lists;
  if (lists.size === 1 && list !== undefined)
    lines.push(faint(`Editions are of the ${shown(list.replace(/^the /i, ''))}.`));
  if (conflicts.some(({ kind }) => kind === 'career' || kind === 'life'))
    lines.push(
      ...wrapped(
        `Reliability: a date of life ${reliability.life}, a notice ${reliability.notice}, a date of rank ${reliability.dated}, a listing ${reliability.listing}, a search ${reliability.nil}, hearsay ${reliability.hearsay} (heldby assume). The tenures are reckoned without what is set aside; it stays recorded.`,
        width,
      ).map(faint),
    );
  if (conflicts.length > 0 || answer.slips.length > 0) lines.push(...wrapped(NEXT, width).map(faint));
  if (!answer.complete)
    lines.push(
      ...wrapped('Kin hang together in so many ways that there may be more conflicts than these.', width).map(doubtful),
    );
  if (decided.length > 0) lines.push('', strong('Decided by you'), ...decidedInLines(decided, say, context));
  return lines;
}

/** Lines that contradict nothing, but that a reader would look at again. */
function worthALook({ of, slips }: ConflictsAnswer, limit: number, context: Context): string[] {
  const { strong, faint } = context.style;
  const apart = slips.filter(({ contradicts }) => !contradicts);
  if (apart.length === 0) return [];
  const lines = ['', strong('Contradicts nothing, but is worth a second look')];
  for (const slip of apart.slice(0, limit)) {
    if (of === null) lines.push(shown(titleOf([slip.of])));
    lines.push(...slipsInLines([slip], context));
  }
  if (apart.length > limit) lines.push(faint(`… and ${apart.length - limit} more: --limit N`));
  return lines;
}

const NEXT =
  'Look again at the page, or at the object. What was misread: heldby amend ID FIELD VALUE --why TEXT. What is misprinted, or to give way in spite of its weight: heldby set-aside ID --why TEXT. With --dry-run either says what it would change.';

const titleOf = (concerns: readonly { readonly id: string; readonly name: string }[]): string =>
  concerns.map(({ id, name }) => `${name}  ${id}`).join(', ');

const counted = (count: number, one: string, many: string): string => `${count} ${count === 1 ? one : many}`;
