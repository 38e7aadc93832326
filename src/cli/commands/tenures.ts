import type { Command } from 'commander';
import { aboutAnswer } from '../../inquiry/about.ts';
import { type TenureAnswer, type TenuresAnswer, tenuresOf } from '../../inquiry/tenures.ts';
import { NO_END, NO_START, type Span } from '../../time/span.ts';
import { axisFor, bar, yearLine } from '../bars.ts';
import { actNumber, asking, type CommonOptions, type Context, widthOf } from '../context.ts';
import { common, example, optionsOf, printAnswer } from '../options.ts';
import { boundsInWords, dayOfAnswer, spanInWords } from '../span-words.ts';
import { fitted, padded, shown, wrapped } from '../text.ts';

export function register(program: Command, context: Context): void {
  const command = program
    .command('tenures')
    .description('every appointment of a person: when it began and ended, between which days, on which evidence')
    .argument('<person>', 'an id, a key, or a name')
    .option('--grounds', 'name the records on which each bound rests');
  common(command)
    .addHelpText('after', example('heldby tenures "Julian Peter Ferrand"', 'heldby tenures p1 --json'))
    .action((words: string) => {
      const options = optionsOf<CommonOptions & { readonly grounds?: true }>(command);
      return asking(context, options, (db) => {
        const answer = tenuresOf(db, words);
        if (options.json)
          printAnswer(context, db, {
            ...answer,
            about: aboutAnswer(db, options.asOf === undefined ? undefined : actNumber(options.asOf)),
          });
        else context.out(tenuresInWords(answer, context, options.grounds === true));
      });
    });
}

const days = ({ from, to }: { readonly from: string | null; readonly to: string | null }): Span => ({
  from: from === null ? NO_START : dayOfAnswer(from),
  until: to === null ? NO_END : ((dayOfAnswer(to) + 1) as Span['until']),
});

/** Half-pay and retirement keep the rank; nobody is in post by them. */
const withoutPost = (kind: string): boolean => kind === 'half-pay' || kind === 'retired';

function tenuresInWords(answer: TenuresAnswer, context: Context, withGrounds: boolean): string {
  const { strong, faint, doubtful } = context.style;
  const width = widthOf(context);
  const { person, also, tenures, conflicts, unused } = answer;
  const lines = [strong(shown(`${person.name}  ${person.id}${also.map(({ id }) => ` = ${id}`).join('')}`)), ''];
  if (tenures.length === 0) {
    lines.push('No appointment is recorded.', `Record one: heldby entry add EDITION --person ${person.id} --rank RANK`);
    return lines.join('\n');
  }
  const stand = tenures.filter(({ unsupported }) => !unsupported);
  if (stand.length > 0) lines.push(...picture(stand, width, faint), '');
  for (const tenure of tenures) {
    const title = `${tenure.rank}${tenure.corps === null ? '' : `, ${tenure.corps}`}${tenure.kind === 'substantive' ? '' : ` (${tenure.kind})`}`;
    const flags = [
      ...(tenure.implied ? ['implied: no evidence of its own'] : []),
      ...(tenure.unsupported ? ['all that says so is set aside'] : tenure.provisional ? ['provisional'] : []),
    ];
    lines.push(
      `${strong(shown(title))}  ${faint(tenure.id)}${flags.length > 0 ? `  ${doubtful(`(${flags.join('; ')})`)}` : ''}`,
    );
    lines.push(
      `  began       ${boundsInWords(tenure.start)}${withGrounds ? faint(onGrounds(tenure.grounds.startEarliest, tenure.grounds.startLatest)) : ''}`,
    );
    lines.push(
      `  ended       ${boundsInWords(tenure.end)}${withGrounds ? faint(onGrounds(tenure.grounds.endEarliest, tenure.grounds.endLatest)) : ''}`,
    );
    lines.push(
      `  ${withoutPost(tenure.kind) ? 'was so ' : 'in post'}     ${tenure.unsupported ? 'perhaps never' : tenure.certain === null ? 'on no day for certain' : `certainly ${spanInWords(tenure.certain)}`}`,
    );
    if (tenure.records.length > 0)
      lines.push(
        ...wrapped(tenure.records.join(' '), width - 14).map((line, index) =>
          faint(`  ${index === 0 ? 'recorded in' : '           '} ${line}`),
        ),
      );
  }
  if (stand.some(({ provisional }) => provisional)) lines.push('', ...wrapped(PROVISIONAL, width).map(faint));
  if (conflicts.length > 0) lines.push('', ...contradictionsInLines(answer, context));
  if (unused.length > 0)
    lines.push(
      '',
      'Kept, but not used:',
      ...unused.flatMap(({ id, reason }) => wrapped(`${reason}  ${id}`, width - 2).map((line) => `  ${line}`)),
    );
  for (const { id, why, who, act } of answer.setAside)
    lines.push(
      ...wrapped(`Set aside by ${shown(who)} in act ${act}: ${shown(why ?? 'no reason given')}  ${id}`, width).map(
        doubtful,
      ),
    );
  return lines.join('\n');
}

const PROVISIONAL = 'Provisional: these days would be others if other records were set aside instead.';

/** Claims that give way that are named. */
const MOST_NAMED = 8;

/** What gives way, once; against what, is told by `conflicts`. */
function contradictionsInLines({ person, conflicts, conflictsBeyond }: TenuresAnswer, context: Context): string[] {
  const { bad, doubtful, faint } = context.style;
  const width = widthOf(context);
  const aside = new Set(conflicts.flatMap(({ setAside }) => setAside.map(({ id, claim }) => `${claim}  ${id}`)));
  const count = conflicts.length + conflictsBeyond;
  const heading = `Records contradict each other (${count} ${count === 1 ? 'conflict' : 'conflicts'}). Left out as the least reliable:`;
  return [
    ...wrapped(heading, width).map(bad),
    ...[...aside]
      .slice(0, MOST_NAMED)
      .flatMap((text) =>
        wrapped(shown(text), width - 4).map((line, index) => doubtful(`  ${index === 0 ? '·' : ' '} ${line}`)),
      ),
    ...(aside.size > MOST_NAMED ? [faint(`    … and ${aside.size - MOST_NAMED} more`)] : []),
    `What they contradict, and what else could give way: heldby conflicts ${person.id}`,
  ];
}

const onGrounds = (earliest: readonly string[], latest: readonly string[]): string => {
  const named = (ids: readonly string[]) => (ids.length === 0 ? 'nothing' : ids.join(' '));
  return `   [from ${named(earliest)}; to ${named(latest)}]`;
};

/** One bar a tenure over one axis of years. */
function picture(tenures: readonly TenureAnswer[], width: number, faint: (text: string) => string): string[] {
  const labelOf = ({ rank, corps, kind }: TenureAnswer): string =>
    `${withoutPost(kind) ? `${kind} ` : ''}${rank} ${corps ?? ''}`.trim();
  const labelWidth = Math.min(26, Math.max(...tenures.map((tenure) => labelOf(tenure).length)));
  const axis = axisFor(
    tenures.flatMap((tenure) => {
      const { from, until } = days(tenure.possible);
      return [from, until, ...(tenure.certain === null ? [] : [days(tenure.certain).from, days(tenure.certain).until])];
    }),
    width - labelWidth - 2,
  );
  if (!axis) return [faint('(no day of any appointment is known)')];
  const rows = tenures.map((tenure) => {
    const { possible, certain } = tenure;
    const label = padded(fitted(shown(labelOf(tenure)), labelWidth), labelWidth);
    return `${label}  ${bar(axis, days(possible), certain === null ? undefined : days(certain)).trimEnd()}`;
  });
  return [
    ...rows,
    faint(`${' '.repeat(labelWidth)}  ${yearLine(axis)}`),
    faint(`${' '.repeat(labelWidth)}  █ certain  ░ possible  ◁ ▷ open`),
  ];
}
