import type { Command } from 'commander';
import { aboutAnswer } from '../../inquiry/about.ts';
import { type Days, type MadeAnswer, type MakingAnswer, madeOf, type WindowAnswer } from '../../inquiry/made.ts';
import { type Axis, axisFor, bar, yearLine } from '../bars.ts';
import { actNumber, asking, type CommonOptions, type Context, widthOf } from '../context.ts';
import { spansLine, strip } from '../density-strip.ts';
import { forceInWords } from '../force-words.ts';
import { common, example, optionsOf, printAnswer } from '../options.ts';
import { daysOfAnswer, spanInWords } from '../span-words.ts';
import { fitted, padded, percent, shown, wrapped } from '../text.ts';

export function register(program: Command, context: Context): void {
  const command = program
    .command('made')
    .description('when an object was made: by its features, and by its features and all its marks together')
    .argument('<object>', 'its reference, an id, a key, or words that pick it out');
  common(command)
    .addHelpText('after', example('heldby made 214', 'heldby made 214 --json'))
    .action((words: string) => {
      const options = optionsOf<CommonOptions>(command);
      return asking(context, options, (db) => {
        const answer = madeOf(db, words);
        if (options.json) {
          const asOf = options.asOf === undefined ? undefined : actNumber(options.asOf);
          printAnswer(context, db, { ...answer, about: aboutAnswer(db, asOf) });
        } else {
          context.out(madeInWords(answer, context).join('\n'));
          for (const caution of answer.cautions)
            context.note(wrapped(`Caution: ${caution}`, widthOf(context)).join('\n'));
        }
      });
    });
}

function madeInWords(answer: MadeAnswer, context: Context): string[] {
  const { strong, faint, doubtful, bad } = context.style;
  const width = widthOf(context);
  const { object, windows, conflicts, withMarks } = answer;
  const lines = [strong(shown(`${object.ref}  ${object.title}  ${object.id}`)), ''];
  lines.push(...picture(answer, width, faint), '');
  lines.push(...inFigures('by its features', answer, width, strong));
  if (withMarks !== null) lines.push(...inFigures('with all its marks', withMarks, width, strong));
  if (windows.length > 0) lines.push('', strong('Features'));
  for (const window of windows) lines.push(...windowInLines(window, width, faint, doubtful));
  if (withMarks !== null) {
    lines.push('', strong('Marks'));
    for (const mark of withMarks.marks) {
      lines.push(
        ...wrapped(`${mark.id}  “${shown(mark.text)}”  ${mark.role}`, width - 2).map((line) => `  ${line}`),
        ...wrapped(
          `put on ${spanInWords(mark)}${mark.windowIs === 'stated' ? ', by its own date' : ''}`,
          width - 6,
        ).map((line) => faint(`      ${line}`)),
        ...mark.roles.flatMap(({ role, weight, phrase }) =>
          wrapped(`if ${role} for certain (${percent(weight).trim()}): made ${phrase}`, width - 6).map((line) =>
            faint(`      ${line}`),
          ),
        ),
        ...(mark.beforeMaking
          ? wrapped('before any making: left out', width - 6).map((line) => doubtful(`      ${line}`))
          : []),
      );
      for (const { id, text, force, weight, ...window } of mark.clues)
        lines.push(
          ...wrapped(`${id} “${shown(text)}”: ${spanInWords(window)}; ${forceInWords(force, weight)}`, width - 6).map(
            (line) => faint(`      ${line}`),
          ),
        );
    }
  }
  for (const conflict of conflicts) {
    lines.push('', bad(conflict.members.length === 1 ? 'This cannot be:' : 'These cannot all be true:'));
    for (const { id, claim } of conflict.members)
      lines.push(...wrapped(`· ${shown(claim)}  ${id}`, width - 2).map((line) => `  ${line}`));
    for (const { id, claim } of conflict.setAside)
      lines.push(...wrapped(`Set aside: ${shown(claim)}  ${id}`, width - 2).map((line) => doubtful(`  ${line}`)));
  }
  return lines;
}

function inFigures(by: string, making: MakingAnswer, width: number, strong: (text: string) => string): string[] {
  return [
    `${strong(`made ${making.phrase}`)}, ${by}`,
    ...wrapped(`95 %: ${spanInWords(making.span)}; half: ${spanInWords(making.half)}`, width - 2).map(
      (line) => `  ${line}`,
    ),
  ];
}

function windowInLines(
  window: WindowAnswer,
  width: number,
  faint: (text: string) => string,
  doubtful: (text: string) => string,
): string[] {
  const { id, text, force, weight, part, state, confidence, source, fact, used } = window;
  const about = [
    spanInWords(window),
    forceInWords(force, weight),
    part === null ? state : `${part} ${state}`,
    ...(confidence === null ? [] : [`confidence ${confidence}`]),
    ...(source === null ? [] : [source]),
    ...(fact === null ? [] : [`fact ${fact}`]),
  ];
  return [
    ...wrapped(`${id}  ${shown(text)}`, width - 2).map((line) => `  ${line}`),
    ...wrapped(shown(about.join('; ')), width - 6).map((line) => faint(`      ${line}`)),
    ...(used ? [] : [doubtful('      not used for the making')]),
  ];
}

/** Wide enough to tell traits apart, and leaving most of the line to the years. */
const LABEL_PART = 0.3;
const MOST_LABEL = 30;

/** Windows as bars, each mark's days as a bar, and the density as a strip under them, over one axis of years. */
function picture(answer: MadeAnswer, width: number, faint: (text: string) => string): string[] {
  const { windows, withMarks } = answer;
  const labelWidth = Math.min(MOST_LABEL, Math.floor(width * LABEL_PART));
  const columns = width - labelWidth - 2;
  const marks = withMarks?.marks ?? [];
  // A reckoned mark can lie long after the making; it must not press the windows together.
  const dated = marks.filter(({ windowIs }) => windowIs === 'stated');
  const shownDays = [...windows, ...dated, answer.span, ...(withMarks === null ? [] : [withMarks.span])]
    .map(daysOfAnswer)
    .flatMap(({ from, until }) => [from, until]);
  const axis = axisFor(shownDays, columns);
  if (!axis) return [];
  const row = (label: string, drawn: string): string =>
    `${padded(fitted(shown(label), labelWidth), labelWidth)}  ${drawn.trimEnd()}`.trimEnd();
  const solid = (window: Days & { force: string }): string =>
    bar(axis, daysOfAnswer(window), window.force === 'hard' ? daysOfAnswer(window) : undefined);
  return [
    ...windows.map((window) => row(`${window.id} ${window.text}`, solid(window))),
    ...marks.map((mark) => row(`${mark.id} ${mark.text}`, bar(axis, daysOfAnswer(mark), undefined))),
    ...drawnMaking('by its features', answer, axis, row),
    ...(withMarks === null ? [] : drawnMaking('with all its marks', withMarks, axis, row)),
    faint(row('', yearLine(axis))),
    ...wrapped('█ hard window  ░ usual window, days of a mark  ━ half  ─ 95 %  ◁ ▷ and further', width).map(faint),
  ];
}

const drawnMaking = (
  label: string,
  making: MakingAnswer,
  axis: Axis,
  row: (label: string, drawn: string) => string,
): string[] => [
  row(label, strip(axis, making.years)),
  row('', spansLine(axis, daysOfAnswer(making.span), daysOfAnswer(making.half))),
];
