import type { Effect, MakingState, MarkChange, TenureChange, TenureState } from '../inquiry/effect.ts';
import { type Context, widthOf } from './context.ts';
import { boundsInWords, spanInWords } from './span-words.ts';
import { percent, shown, wrapped } from './text.ts';

/** Changes of one mark that are told in words. */
const SHARES_TOLD = 5;

/** What a correction would change: bounds of tenures, leaders and shares of marks, makings, each before and after. */
export function effectInLines(effect: Effect, context: Context): string[] {
  const { strong, faint, doubtful } = context.style;
  const width = widthOf(context);
  const { tenures, marks, objects, conflicts, notWorkedOut } = effect;
  const put = (text: string): string[] => wrapped(text, width - 2).map((line) => `  ${line}`);
  const lines: string[] = [''];
  if (tenures.length + marks.length + objects.length === 0)
    lines.push('No bound of any tenure and no share of any mark would change.');
  if (tenures.length > 0) lines.push(strong('Tenures'));
  for (const change of tenures) lines.push(...put(tenureInWords(change)));
  if (marks.length > 0) lines.push(strong('Marks'));
  for (const change of marks) for (const line of markInWords(change)) lines.push(...put(line));
  if (objects.length > 0) lines.push(strong('Objects'));
  for (const { ref, before, after } of objects)
    lines.push(...put(`${shown(ref)}: ${makingInWords(before)}  →  ${makingInWords(after)}`));
  if (conflicts.before !== conflicts.after)
    lines.push(doubtful(`Conflicts of those concerned: ${conflicts.before}  →  ${conflicts.after}`));
  if (notWorkedOut.people > 0)
    lines.push(faint(`… and ${notWorkedOut.people} more people, whose tenures were not worked out`));
  if (notWorkedOut.marks > 0) lines.push(faint(`… and ${notWorkedOut.marks} more marks, which were not worked out`));
  return lines;
}

function tenureInWords({ person, post, before, after }: TenureChange): string {
  const who = shown(`${person.name} ${person.id}, ${post}`);
  if (before === null || after === null) {
    const told = before ?? after;
    return `${who}: ${before === null ? 'comes in' : 'is gone'}${told === null ? '' : ` (${stateInWords(told)})`}`;
  }
  const parts = [
    ...changed('began', before, after, ({ start }) => boundsInWords(start)),
    ...changed('ended', before, after, ({ end }) => boundsInWords(end)),
    ...changed('', before, after, ({ provisional }) => (provisional ? 'provisional' : 'not provisional')),
  ];
  return `${who}: ${parts.join('; ')}`;
}

const stateInWords = ({ start, end }: TenureState): string =>
  `began ${boundsInWords(start)}, ended ${boundsInWords(end)}`;

function changed(
  label: string,
  before: TenureState,
  after: TenureState,
  say: (state: TenureState) => string,
): string[] {
  const [was, is] = [say(before), say(after)];
  return was === is ? [] : [`${label === '' ? '' : `${label} `}${was}  →  ${is}`];
}

function markInWords({ id, text, leader, unrecorded, shares }: MarkChange): string[] {
  const named = (each: MarkChange['leader']['before']): string =>
    each === null ? 'nobody' : `${shown(each.person.name)} ${share(each.share)}`;
  const leads =
    leader.before?.person.id === leader.after?.person.id
      ? `led by ${named(leader.before)}  →  ${share(leader.after?.share ?? null)}`
      : `led by ${named(leader.before)}  →  ${named(leader.after)}`;
  const others = shares
    .filter(({ person }) => person.id !== leader.after?.person.id || leader.before?.person.id !== person.id)
    .slice(0, SHARES_TOLD)
    .map(({ person, before, after }) => `${shown(person.name)} ${share(before)}  →  ${share(after)}`);
  const unknown =
    unrecorded.before === unrecorded.after
      ? []
      : [`unrecorded ${share(unrecorded.before)}  →  ${share(unrecorded.after)}`];
  return [`“${shown(text)}”  ${id}: ${[leads, ...others, ...unknown].join('; ')}`];
}

const share = (value: number | null): string => (value === null ? '–' : percent(value).trim());

const makingInWords = (state: MakingState | null): string =>
  state === null
    ? 'not recorded'
    : `made ${state.phrase} (${spanInWords(state.span)})${state.withMarks === null ? '' : `, with its marks ${state.withMarks}`}`;
