import type { Command } from 'commander';
import { HeldbyError } from '../../errors.ts';
import { aboutAnswer } from '../../inquiry/about.ts';
import { type ConflictsAnswer, conflictsOf } from '../../inquiry/conflicts.ts';
import type { AsideClaim, ConflictFound, SaidClaim } from '../../inquiry/conflicts-found.ts';
import { csvLine } from '../../report/csv.ts';
import { actNumber, asking, type CommonOptions, type Context, widthOf } from '../context.ts';
import { common, example, optionsOf, printJson } from '../options.ts';
import { shown, wrapped } from '../text.ts';

type ConflictsOptions = CommonOptions & { readonly limit?: string; readonly csv?: true };

/** Groups of conflicts shown on a terminal, and lines of one group. */
const SHOWN = 100;
const LINES = 12;

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
          printJson(context, { ...answer, about: aboutAnswer(db, asOf) });
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

const isSame = (a: SaidClaim, b: SaidClaim): boolean => a.id === b.id && a.claim === b.claim;

function conflictsInWords(answer: ConflictsAnswer, limit: number, context: Context): string[] {
  const { strong, faint, doubtful } = context.style;
  const width = widthOf(context);
  const { of, conflicts, conflictsBeyond, decided, people, objects } = answer;
  const lines: string[] = [];
  if (conflicts.length === 0)
    lines.push(
      of === null ? 'Nothing in the ledger contradicts.' : `Nothing recorded of ${shown(of.name)} contradicts.`,
    );
  const groups = byWhatGivesWay(conflicts);
  const lists = new Set(
    [...conflicts, ...decided].flatMap(({ members }) => members.flatMap(({ source }) => source ?? [])),
  );
  const say = lists.size > 1 ? inLists : inOneList;
  let whom = '';
  for (const group of groups.slice(0, limit)) {
    const title = group.concerns.map(({ id, name }) => `${name}  ${id}`).join(', ');
    if (title !== whom) lines.push(...(lines.length > 0 ? [''] : []), strong(shown(title)));
    whom = title;
    lines.push(...groupInLines(group, say, context));
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
  if (!answer.complete)
    lines.push(
      ...wrapped('Kin hang together in so many ways that there may be more conflicts than these.', width).map(doubtful),
    );
  if (decided.length > 0)
    lines.push('', strong('Decided by you'), ...decided.flatMap((each) => decidedInLines(each, say, context)));
  return lines;
}

const counted = (count: number, one: string, many: string): string => `${count} ${count === 1 ? one : many}`;

type Group = {
  readonly concerns: ConflictFound['concerns'];
  readonly aside: readonly AsideClaim[];
  /** The other members of each conflict. */
  readonly others: (readonly SaidClaim[])[];
  readonly first: ConflictFound;
};

/** Conflicts of the same people that the same claims would clear are told together, those of one person in a row. */
function byWhatGivesWay(conflicts: readonly ConflictFound[]): Group[] {
  const groups = new Map<string, Group>();
  const firsts = new Map<string, number>();
  for (const conflict of conflicts) {
    const whom = conflict.concerns.map(({ id }) => id).join();
    if (!firsts.has(whom)) firsts.set(whom, firsts.size);
    const aside = conflict.setAside.map(({ id, claim }) => `${id} ${claim}`).join('|');
    const signature = `${whom} ${conflict.omission} ${aside}`;
    const others = conflict.members.filter((member) => !conflict.setAside.some((each) => isSame(each, member)));
    const known = groups.get(signature);
    if (known) known.others.push(others);
    else
      groups.set(signature, {
        concerns: conflict.concerns,
        aside: conflict.setAside,
        others: [others],
        first: conflict,
      });
  }
  const order = (group: Group): number => firsts.get(group.concerns.map(({ id }) => id).join()) ?? 0;
  return [...groups.values()].sort((a, b) => order(a) - order(b));
}

/** How claims are said: the list is named with each where the answer speaks of several. */
type Say = (claim: SaidClaim) => string;

function groupInLines({ aside, others, first }: Group, say: Say, context: Context): string[] {
  const { bad, doubtful, faint } = context.style;
  const width = widthOf(context);
  const bullet = (text: string): string[] =>
    wrapped(text, width - 4).map((line, index) => `  ${index === 0 ? '·' : ' '} ${line}`);
  const put = (text: string, paint: (line: string) => string): string[] =>
    wrapped(text, width - 4).map((line) => paint(`    ${line}`));
  const lines: string[] = [];
  if (others.length === 1) {
    lines.push(bad(first.members.length === 1 ? 'This cannot be:' : 'These cannot all be true:'));
    for (const claim of first.members) lines.push(...bullet(say(claim)));
  } else {
    const single = others.every((set) => set.length === 1);
    lines.push(bad(aside.length > 1 ? 'These cannot be true' : 'This cannot be true'));
    for (const claim of aside) lines.push(...bullet(say(claim)));
    lines.push(bad(`together with any of these ${others.length}${single ? '' : ' sets'}:`));
    for (const set of others.slice(0, LINES)) lines.push(...bullet(set.map(say).join('; and ')));
    if (others.length > LINES) lines.push(faint(`    … and ${others.length - LINES} more`));
  }
  const proposed = aside.some(({ by }) => by === 'proposed');
  const named = aside.map(({ id, part }) => `${id} (${part})`).join(', ');
  const whys = [...new Set(aside.map(({ why }) => why))].map(shown).join(' ');
  lines.push(...put(`${proposed ? 'Would be set aside' : 'Set aside'}: ${named}. ${whys}`, doubtful));
  if (first.otherWayOut.length > 0) {
    const ids = first.otherWayOut.map(({ id, part }) => `${id} (${part})`);
    const more = ids.length > MOST_NAMED ? ` and ${ids.length - MOST_NAMED} more` : '';
    lines.push(...put(`The next best way out: ${ids.slice(0, MOST_NAMED).join(', ')}${more}.`, faint));
  }
  const [undecided] = aside.filter(({ by }) => by === 'proposed');
  if (undecided)
    lines.push(...put(`Until you decide, nothing is left out: heldby set-aside ${undecided.id} --why TEXT`, faint));
  return lines;
}

/** Claims of the next best way out that are named. */
const MOST_NAMED = 6;

const inOneList = ({ claim, id }: SaidClaim): string => `${shown(claim)}  ${id}`;

const inLists = ({ claim, source, id }: SaidClaim): string =>
  `${shown(claim)}${source === null ? '' : ` (${shown(source)})`}  ${id}`;

function decidedInLines({ concerns, members, setAside }: ConflictFound, say: Say, context: Context): string[] {
  const width = widthOf(context);
  const others = members.filter((member) => !setAside.some((each) => isSame(each, member)));
  const text = `${shown(concerns.map(({ name }) => name).join(', '))}: ${setAside.map(say).join('; ')}, against ${others.map(say).join('; ')}. Set aside: ${shown(setAside[0]?.why ?? '')}`;
  return wrapped(text, width - 4).map((line, index) => `  ${index === 0 ? '·' : ' '} ${line}`);
}
