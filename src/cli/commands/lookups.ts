import type { Command } from 'commander';
import { HeldbyError } from '../../errors.ts';
import { aboutAnswer } from '../../inquiry/about.ts';
import type { VolumeCost } from '../../inquiry/lookup-subject.ts';
import { type LookupAnswer, type LookupsAnswer, lookupsFor, MOST_PLANNED, USUAL_LIMIT } from '../../inquiry/lookups.ts';
import { kindNamed } from '../../ledger/kinds.ts';
import { seriesNameOf } from '../../ledger/known-editions.ts';
import type { Db } from '../../ledger/open.ts';
import { resolveRef } from '../../ledger/refs.ts';
import { actNumber, asking, type CommonOptions, type Context, widthOf } from '../context.ts';
import { common, example, optionsOf, printAnswer } from '../options.ts';
import { percent, shown, wrapped } from '../text.ts';

type LookupsOptions = CommonOptions & {
  readonly limit?: string;
  readonly plan?: string;
  readonly cost?: readonly string[];
};

const NAMES_SHOWN = 10;
const EDITIONS_SHOWN = 8;
const MOST_SHOWN = 5000;

const collect = (value: string, before: string[] | undefined): string[] => [...(before ?? []), value];

export function register(program: Command, context: Context): void {
  const command = program
    .command('lookups')
    .description('which edition to look into next, for whom, how much surer a name would be, and what each answer does')
    .argument('<object-or-mark>', 'a mark, or an object for all its marks that name a holder')
    .option('--limit <number>', `how many to give (${USUAL_LIMIT} unless you say another)`)
    .option('--plan <number>', `what to look up in one visit of so many looks, up to ${MOST_PLANNED}`)
    .option(
      '--cost <number>',
      'what calling up a volume costs where one look costs 1; SERIES=NUMBER for one series; may be given again',
      collect as never,
    );
  common(command)
    .addHelpText(
      'after',
      example(
        'heldby lookups m1',
        'heldby lookups 214 --plan 3 --cost 10',
        'heldby lookups m1 --cost "Coast Survey=30"',
      ),
    )
    .action((words: string) => {
      const options = optionsOf<LookupsOptions>(command);
      return asking(context, options, (db) => {
        const answer = lookupsFor(db, words, {
          limit: whole(options.limit, '--limit', MOST_SHOWN) ?? USUAL_LIMIT,
          plan: whole(options.plan, '--plan', MOST_PLANNED),
          cost: costs(db, options.cost ?? []),
        });
        if (options.json) {
          const asOf = options.asOf === undefined ? undefined : actNumber(options.asOf);
          printAnswer(context, db, { ...answer, about: aboutAnswer(db, asOf) });
        } else {
          context.out(lookupsInLines(answer, context, options.cost !== undefined).join('\n'));
          for (const caution of answer.cautions)
            context.note(wrapped(`Caution: ${caution}`, widthOf(context)).join('\n'));
        }
      });
    });
}

function whole(text: string | undefined, option: string, most: number): number | undefined {
  if (text === undefined) return undefined;
  const number = /^\d{1,6}$/.test(text) ? Number(text) : 0;
  if (number < 1 || number > most)
    throw new HeldbyError('USAGE', `${option} ${text} is not understood.`, `Give a whole number from 1 to ${most}.`);
  return number;
}

/** Costs as they were given: `10` for any volume, `SERIES=30` for one series. */
export function costs(db: Db, given: readonly string[]): VolumeCost {
  let usual = 0;
  const ofSeries = new Map<string, number>();
  for (const text of given) {
    const at = text.lastIndexOf('=');
    const number = Number(text.slice(at + 1).trim());
    if (text.slice(at + 1).trim() === '' || !Number.isFinite(number) || number < 0)
      throw new HeldbyError(
        'USAGE',
        `--cost ${text} is not understood.`,
        'Write --cost 10, or --cost "Coast Survey=10": a number, not negative.',
      );
    if (at < 0) usual = number;
    else ofSeries.set(seriesNameOf(db, resolveRef(db, kindNamed('series'), text.slice(0, at).trim())), number);
  }
  return { usual, ofSeries };
}

const points = (gain: number): string => `+${(gain * 100).toFixed(gain < 0.001 ? 2 : 1)} points`;
const figure = (cost: number): string => String(Math.round(cost * 100) / 100);

const subjectInWords = ({ edition, person, surname }: Pick<LookupAnswer, 'edition' | 'person' | 'surname'>): string =>
  shown(
    `${edition.series} ${edition.label}: ${surname === undefined ? `${person?.name ?? ''}  ${person?.id ?? ''}` : `every ${surname}`}`,
  );

/** Look-ups of one name together, the name for which the best one is worth most first. */
function byName(lookups: readonly LookupAnswer[]): LookupAnswer[][] {
  const names = new Map<string, LookupAnswer[]>();
  for (const lookup of lookups) {
    const name = lookup.surname === undefined ? `${lookup.person?.id}` : `every ${lookup.surname}`;
    const known = names.get(name);
    if (known === undefined) names.set(name, [lookup]);
    else known.push(lookup);
  }
  return [...names.values()];
}

/** Other editions for the same name, with what each is worth; the series only where it is another. */
function editionsInWords({ edition: { series } }: LookupAnswer, others: readonly LookupAnswer[]): string {
  const told = others
    .slice(0, EDITIONS_SHOWN)
    .map(
      ({ edition, gain }) =>
        `${edition.series === series ? '' : `${edition.series} `}${edition.label} (${points(gain)})`,
    );
  const more = others.length > EDITIONS_SHOWN ? ` and ${others.length - EDITIONS_SHOWN} more` : '';
  return shown(`${told.join(', ')}${more}`);
}

function lookupsInLines(answer: LookupsAnswer, context: Context, withCost: boolean): string[] {
  const { strong, faint, good } = context.style;
  const width = widthOf(context);
  const lines: string[] = [];
  for (const { id, text, leader, leaderShare } of answer.marks) {
    const now = leader === null ? 'nobody fits' : `${leader.name} leads with ${percent(leaderShare).trim()}`;
    lines.push(...wrapped(`${strong(shown(`“${text}”  ${id}`))}: ${shown(now)}`, width));
  }
  lines.push('');
  if (answer.lookups.length === 0)
    lines.push(
      ...wrapped(
        'No list that the ledger knows is expected to make a name surer: whatever one shows, the same name would lead.',
        width,
      ),
      ...wrapped('If there are others, make them known: heldby edition add SERIES LABEL --as-at DATE', width),
    );
  const names = byName(answer.lookups);
  for (const [place, [lookup, ...others]] of names.slice(0, NAMES_SHOWN).entries()) {
    if (lookup === undefined) continue;
    const { gain, cost, answers, marks } = lookup;
    const worth = `${good(points(gain))}${withCost ? `, cost ${figure(cost)}` : ''}`;
    lines.push(`${String(place + 1).padStart(3)}  ${worth}  ${strong(subjectInWords(lookup))}`);
    for (const { answer: told, chance, leader, leaderShare } of answers) {
      const then = leader === null ? 'nobody fits' : `${leader.name} ${percent(leaderShare).trim()}`;
      lines.push(...wrapped(shown(`${percent(chance)}  ${told}: ${then}`), width - 7).map((line) => `       ${line}`));
    }
    if (answer.marks.length > 1) lines.push(faint(`       for ${marks.map(({ id }) => id).join(' ')}`));
    if (others.length > 0)
      lines.push(
        ...wrapped(`or in ${editionsInWords(lookup, others)}`, width - 7).map((line) => faint(`       ${line}`)),
      );
  }
  if (names.length > NAMES_SHOWN) lines.push(faint(`     … and ${names.length - NAMES_SHOWN} more names`));
  if (answer.plan !== null) {
    lines.push('', strong('In one visit, whatever each answer is'));
    if (answer.plan.length === 0) lines.push('  nothing that would make a name surer');
    for (const [place, planned] of answer.plan.entries())
      lines.push(
        `${String(place + 1).padStart(3)}  ${good(`${points(planned.gain)} in all`)}${withCost ? `, cost ${figure(planned.cost)}` : ''}  ${subjectInWords(planned)}`,
      );
  }
  return lines;
}
