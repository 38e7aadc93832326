import type { Command } from 'commander';
import { HeldbyError } from '../../errors.ts';
import { aboutAnswer } from '../../inquiry/about.ts';
import { type ConflictsAnswer, conflictsOf } from '../../inquiry/conflicts.ts';
import { csvLine } from '../../report/csv.ts';
import {
  conflictGroups,
  decidedInLines,
  groupInLines,
  inLists,
  inOneList,
  isSame,
  twiceInLines,
} from '../conflict-words.ts';
import { actNumber, asking, type CommonOptions, type Context, widthOf } from '../context.ts';
import { common, example, optionsOf, printAnswer } from '../options.ts';
import { shown, wrapped } from '../text.ts';

type ConflictsOptions = CommonOptions & { readonly limit?: string; readonly csv?: true };

/** Groups of conflicts shown on a terminal. */
const SHOWN = 100;

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
yours. In JSON, "frees" is how many conflicts the setting aside clears, and "by"
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
          printAnswer(context, db, { ...answer, about: aboutAnswer(db, asOf) });
        } else if (options.csv) context.out(csvOf(answer));
        else context.out(conflictsInWords(answer, limit, context).join('\n'));
      });
    });
}

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
      of === null ? 'Nothing in the ledger contradicts.' : `Nothing recorded of ${shown(of.name)} contradicts.`,
    );
  const groups = conflictGroups(conflicts);
  const lists = new Set(
    [...conflicts, ...decided].flatMap(({ members }) => members.flatMap(({ source }) => source ?? [])),
  );
  const say = lists.size > 1 ? inLists : inOneList;
  let whom = '';
  const shownGroups = groups.slice(0, limit);
  for (const [place, group] of shownGroups.entries()) {
    const title = titleOf(group.concerns);
    if (title !== whom) lines.push(...(lines.length > 0 ? [''] : []), strong(shown(title)));
    whom = title;
    lines.push(...groupInLines(group, say, context));
    const [one, another] = group.concerns;
    const next = shownGroups[place + 1];
    if (one === undefined || another !== undefined || (next && titleOf(next.concerns) === title)) continue;
    lines.push(
      ...twiceInLines(
        answer.twiceListed.filter((each) => each.of.id === one.id),
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
  if (!answer.complete)
    lines.push(
      ...wrapped('Kin hang together in so many ways that there may be more conflicts than these.', width).map(doubtful),
    );
  if (decided.length > 0)
    lines.push('', strong('Decided by you'), ...decided.flatMap((each) => decidedInLines(each, say, context)));
  return lines;
}

const titleOf = (concerns: readonly { readonly id: string; readonly name: string }[]): string =>
  concerns.map(({ id, name }) => `${name}  ${id}`).join(', ');

const counted = (count: number, one: string, many: string): string => `${count} ${count === 1 ? one : many}`;
