import type { Command } from 'commander';
import { aboutAnswer } from '../../inquiry/about.ts';
import { type TenureAnswer, type TenuresAnswer, tenuresOf } from '../../inquiry/tenures.ts';
import { NO_END, NO_START, type Span } from '../../time/span.ts';
import { axisFor, bar, yearLine } from '../bars.ts';
import { actNumber, asking, type CommonOptions, type Context, widthOf } from '../context.ts';
import { common, example, optionsOf, printJson } from '../options.ts';
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
          printJson(context, {
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
  const { strong, faint, doubtful, bad } = context.style;
  const width = widthOf(context);
  const { person, also, tenures, conflicts, unused } = answer;
  const lines = [strong(shown(`${person.name}  ${person.id}${also.map(({ id }) => ` = ${id}`).join('')}`)), ''];
  if (tenures.length === 0) {
    lines.push('No appointment is recorded.', `Record one: heldby entry add EDITION --person ${person.id} --rank RANK`);
    return lines.join('\n');
  }
  lines.push(...picture(tenures, width, faint), '');
  for (const tenure of tenures) {
    const title = `${tenure.rank}${tenure.corps === null ? '' : `, ${tenure.corps}`}${tenure.kind === 'substantive' ? '' : ` (${tenure.kind})`}`;
    const flags = [
      ...(tenure.implied ? ['implied: no evidence of its own'] : []),
      ...(tenure.provisional ? ['provisional'] : []),
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
      `  ${withoutPost(tenure.kind) ? 'was so ' : 'in post'}     ${tenure.certain === null ? 'on no day for certain' : `certainly ${spanInWords(tenure.certain)}`}`,
    );
    if (tenure.records.length > 0)
      lines.push(
        ...wrapped(tenure.records.join(' '), width - 14).map((line, index) =>
          faint(`  ${index === 0 ? 'recorded in' : '           '} ${line}`),
        ),
      );
  }
  for (const { aside, others } of byWhatGivesWay(conflicts)) {
    lines.push('', bad('These cannot all be true:'));
    for (const { id, claim } of [...aside, ...others]) {
      lines.push(
        ...wrapped(`${shown(claim)}  ${id}`, width - 4).map((line, index) => `  ${index === 0 ? '·' : ' '} ${line}`),
      );
    }
    for (const { id, claim } of aside) {
      lines.push(
        ...wrapped(`Set aside, as the least reliable: ${shown(claim)}  ${id}`, width - 2).map((line) =>
          doubtful(`  ${line}`),
        ),
      );
    }
  }
  if (answer.conflictsBeyond > 0) lines.push(`… and ${answer.conflictsBeyond} more conflicts`);
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

/** Conflicts that one and the same claim would clear are told together: what gives way, and all that speaks against it. */
function byWhatGivesWay(conflicts: TenuresAnswer['conflicts']) {
  const groups = new Map<string, { aside: readonly Said[]; others: Map<string, Said> }>();
  for (const { members, setAside } of conflicts) {
    const signature = JSON.stringify(setAside);
    const group = groups.get(signature) ?? { aside: setAside, others: new Map<string, Said>() };
    groups.set(signature, group);
    for (const member of members) {
      const text = `${member.id} ${member.claim}`;
      if (!setAside.some(({ id, claim }) => `${id} ${claim}` === text)) group.others.set(text, member);
    }
  }
  return [...groups.values()].map(({ aside, others }) => ({ aside, others: [...others.values()] }));
}

type Said = TenuresAnswer['conflicts'][number]['members'][number];

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
