import type { Command } from 'commander';
import { HeldbyError } from '../../errors.ts';
import { aboutAnswer } from '../../inquiry/about.ts';
import type { WordsAsked } from '../../inquiry/candidates.ts';
import { type FigureAnswer, type GroundsAnswer, groundsOf } from '../../inquiry/grounds.ts';
import { FIGURES } from '../../inquiry/grounds-figures.ts';
import type { Ground } from '../../inquiry/grounds-tree.ts';
import { actNumber, asking, type CommonOptions, type Context, widthOf } from '../context.ts';
import { common, example, optionsOf, printAnswer } from '../options.ts';
import { shown, table, wrapped } from '../text.ts';
import { type Branch, tree } from '../tree.ts';
import { wholeMeant } from '../whole-option.ts';
import { spanBetween, type WordsOptions, wordsAsked } from './candidates.ts';
import { costs } from './lookups.ts';
import { chainsWanted } from './provenance.ts';

type GroundsOptions = CommonOptions &
  WordsOptions & {
    readonly without?: readonly string[];
    readonly depth?: string;
    readonly whole?: string;
    readonly between?: readonly string[];
    readonly cost?: readonly string[];
    readonly chains?: string;
  };

const collect = (value: string, before: string[] | undefined): string[] => [...(before ?? []), value];

const TITLES = {
  tenure: 'Of a tenure (p1.2)',
  person: 'Of a person (p1)',
  entry: 'Of an entry (e410); a figure that heldby careers prints',
  careers: 'Of all entries together (careers); figures that heldby careers and careers --weights print',
  conflicts: 'Of all evidence that cannot be true together (conflicts)',
  mark: 'Of a mark (m1); PERSON is the likeliest candidate unless you name another',
  words: 'Of words just read (--text), as heldby candidates --text is asked about them',
  status: 'Of the ledger as a whole (status); what heldby alone prints',
  object: 'Of an object (o1, or its reference)',
  assumption: 'Of an assumption (tenure.mean)',
  record: 'Of any other record (e410)',
} as const;

export function register(program: Command, context: Context): void {
  const command = program
    .command('grounds')
    .description('why a figure is what it is: the chain of claims behind it, down to entries, pages, editions and acts')
    .argument('[id]', 'a tenure, person, entry, mark, object, assumption or any record; or careers, conflicts, status')
    .argument('[figure...]', 'which figure, and whose; the usual ones unless you say')
    .option(
      '--without <record>',
      'and what it would be had that record never been made; may be given again',
      collect as never,
    )
    .option('--text <text>', 'instead of an id: words just read, as for heldby candidates')
    .option('--between <dates...>', 'of a mark or words: two dates between which it was made, as for heldby candidates')
    .option('--role <role>', 'for --text: what the words are')
    .option('--surname <text>', 'for --text: the surname in it')
    .option('--forenames <text>', 'for --text: the forenames in it')
    .option('--rank <text>', 'for --text: the rank in it')
    .option('--corps <text>', 'for --text: the corps in it')
    .option('--place <text>', 'for --text: the place in it')
    .option('--cost <number>', 'of a plan: what calling up a volume costs, as for heldby lookups', collect as never)
    .option('--chains <number>', 'of an object: how many successions are told, as for heldby provenance')
    .option('--depth <levels>', 'how many levels of the tree to draw')
    .option('--whole <editions>', 'as for heldby careers: which editions count as taken down whole (all, none)');
  common(command)
    .addHelpText('after', () => `\n${figuresInWords()}`)
    .addHelpText(
      'after',
      example(
        'heldby grounds p1.2 startLatest',
        'heldby grounds m1 share "Julian Peter Ferrand" --without e410',
        'heldby grounds 214 span --depth 2',
        'heldby grounds e12 careers',
        'heldby grounds e12 chance e7 --without e9',
        'heldby grounds careers weight corps',
        'heldby grounds conflicts frees e410',
        'heldby grounds m1 ruledOut "James Ferrard"',
        'heldby grounds tenure.mean estimate',
        'heldby grounds m1 share --between 1834 1838',
        'heldby grounds --text "Lieut. J. Ferr[..]d" --between 1834 1838 share "Julian Peter Ferrand"',
        'heldby grounds 214 plan 3 --cost 10',
        'heldby grounds 214 holder "Anne Holt" --chains 10',
        'heldby grounds status counts entries',
      ),
    )
    .action((id: string | undefined, more: string[]) => {
      const options = optionsOf<GroundsOptions>(command);
      return asking(context, options, (db) => {
        const depth = options.depth === undefined ? Number.POSITIVE_INFINITY : levels(options.depth);
        const asOf = options.asOf === undefined ? undefined : actNumber(options.asOf);
        const about = aboutAnswer(db, asOf);
        // Behind its two dates everything is what is asked for.
        const [dates, behind] = [options.between?.slice(0, 2), options.between?.slice(2) ?? []];
        const [of, figure] = askedFor([...(id === undefined ? [] : [id]), ...more, ...behind], options);
        const answer = groundsOf(db, of, figure, {
          without: options.without ?? [],
          whole: wholeMeant(options.whole),
          between: dates && spanBetween(dates),
          cost: options.cost && costs(db, options.cost),
          chains: options.chains === undefined ? undefined : chainsWanted(options.chains),
        });
        if (options.json) printAnswer(context, db, { ...answer, about });
        else context.out(groundsInLines(answer, depth, context).join('\n'));
      });
    });
}

/** What figures are asked of, and the words of the figure. */
function askedFor(
  words: readonly string[],
  options: GroundsOptions,
): [of: string | WordsAsked, figure: readonly string[]] {
  if (options.text !== undefined) return [wordsAsked(options), words];
  const given = (['role', 'surname', 'forenames', 'rank', 'corps', 'place'] as const).find(
    (name) => options[name] !== undefined,
  );
  if (given !== undefined)
    throw new HeldbyError('USAGE', `--${given} goes with --text.`, 'What is recorded of a mark: heldby amend m1 …');
  const [of, ...figure] = words;
  if (of === undefined)
    throw new HeldbyError(
      'USAGE',
      'Say what the figure is of.',
      'heldby grounds m1 share   or   heldby grounds --text "Lieut. J. Ferr[..]d" share',
    );
  return [of, figure];
}

function levels(text: string): number {
  if (!/^[1-9]\d?$/.test(text))
    throw new HeldbyError('USAGE', `"${text}" is no number of levels.`, 'Give a whole number, such as --depth 2.');
  return Number(text);
}

/** Every figure with what it takes and means. */
const figuresInWords = (): string =>
  (Object.keys(TITLES) as (keyof typeof TITLES)[])
    .map((is) => {
      const rows = FIGURES[is].map(({ name, takes, about }) => [
        `  ${takes === '' ? name : `${name} ${takes}`}`,
        about,
      ]);
      return `${TITLES[is]}:\n${table(rows).join('\n')}`;
    })
    .join('\n');

function groundsInLines({ of, figures, without }: GroundsAnswer, depth: number, context: Context): string[] {
  const { strong, faint, doubtful } = context.style;
  const width = widthOf(context);
  const lines = [strong(shown(`${of.name}${of.id === null || of.name === of.id ? '' : `  ${of.id}`}`))];
  if (figures.length === 0) lines.push('', 'There is no such figure of it yet.');
  const drawn = new Set<string>();
  for (const figure of figures) {
    lines.push('', ...figureInLines(figure, depth, width, faint, doubtful, drawn));
  }
  if (without !== null && without.with.length > 0)
    lines.push(
      '',
      ...wrapped(
        `With ${without.ids.join(', ')} goes what cannot be without it: ${without.with.join(', ')}`,
        width,
      ).map(faint),
    );
  return lines;
}

function figureInLines(
  { figure, says, grounds, without }: FigureAnswer,
  depth: number,
  width: number,
  faint: (text: string) => string,
  doubtful: (text: string) => string,
  drawn: Set<string>,
): string[] {
  const changed =
    without === null
      ? []
      : wrapped(`without: ${without.says === says ? 'the same' : without.says}`, width - 2).map((line) =>
          doubtful(`  ${shown(line)}`),
        );
  return [
    ...wrapped(`${figure}: ${shown(says)}`, width),
    ...changed,
    ...tree(
      grounds.map((each) => branchOf(each, depth - 1)),
      width,
      faint,
      drawn,
    ),
  ];
}

/** Branches of one kind drawn; the rest are counted. */
const MOST_BRANCHES = 16;

/** Claims that a note names are not traced any further: `conflicts` tells what they contradict. */
const MOST_NAMED = 6;

function branchOf({ what, says, id, grounds }: Ground, depth: number): Branch {
  const isNaming = what === 'note' && grounds.length > 0 && grounds.every((each) => each.what === 'claim');
  const [most, deeper] = isNaming ? [MOST_NAMED, 0] : [MOST_BRANCHES, depth - 1];
  const under = depth > 0 ? grounds.slice(0, most).map((each) => branchOf(each, deeper)) : [];
  const more = depth > 0 ? grounds.length - under.length : 0;
  return {
    text: id === null || what === 'act' || what === 'assumption' ? says : `${says}  ${id}`,
    ...(what === 'act' && id !== null && grounds.length === 0 ? { short: id } : {}),
    branches: more > 0 ? [...under, { text: `… and ${more} more (--json has them all)`, branches: [] }] : under,
  };
}
