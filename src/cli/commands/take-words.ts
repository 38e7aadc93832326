import type { TakenAnswer } from '../../inquiry/take.ts';
import type { MovedTenure, Settled } from '../../inquiry/take-settles.ts';
import type { Standing } from '../../intake/compact-line.ts';
import { dayInWords, spanInWords } from '../span-words.ts';
import type { Style } from '../style.ts';
import { shown, wrapped } from '../text.ts';

/** What a line was understood as, whose it is, and what it settles; the id first. */
export function takenInLines(answer: TakenAnswer, edition: string, style: Style, width: number): string[] {
  const { id, known } = answer;
  // Of a page of new names each would say so: that is told beside the line, not below it.
  const isNew = answer.person === null && answer.fitting.length === 0 && answer.unplaced.length === 0;
  const beside = known ? '  (known already)' : isNew ? '  (new name)' : '';
  const lines = [`${style.strong(id)}  ${shown(understood(answer))}${style.faint(beside)}`];
  if (known) return lines;
  const indent = ' '.repeat(id.length + 2);
  for (const said of [...(isNew ? [] : [whose(answer)]), ...settled(answer, edition)])
    lines.push(...wrapped(shown(said), width - indent.length).map((line) => style.faint(indent + line)));
  return lines;
}

/** What looks wrong, one line each. */
export const doubtsInLines = ({ doubts }: Pick<TakenAnswer, 'doubts'>, style: Style, width: number): string[] =>
  doubts.flatMap(({ says }) => wrapped(`? ${shown(says)}`, width).map((line) => style.doubtful(line)));

/** Rank, name, corps, date and page, as far as there are any. */
export function understood({ entry }: TakenAnswer): string {
  const f = (name: string): string | undefined => (entry[name] === undefined ? undefined : String(entry[name]));
  const kind = f('kind') === 'substantive' ? undefined : f('kind');
  return [
    `${f('title') ?? f('rank')}${kind === undefined ? '' : ` (${kind})`}`,
    f('name'),
    f('corps'),
    f('dated') === undefined ? undefined : `dated ${f('dated')}`,
    f('datedAsPrinted') === undefined ? undefined : `printed ${f('datedAsPrinted')}`,
    f('page') === undefined ? undefined : `p. ${f('page')}`,
    f('note') === undefined ? undefined : `note: ${f('note')}`,
  ]
    .filter((part) => part !== undefined)
    .join(' · ');
}

function whose({ person, made, fitting, unplaced }: TakenAnswer): string {
  const others =
    unplaced.length === 0
      ? ''
      : `; the name stands unplaced in ${unplaced.map((each) => `${each.edition} as ${each.rank} (${each.id})`).join(', ')}`;
  if (person !== null) return `${person.name} ${person.id}${made ? `, made just now${others}` : ''}`;
  if (fitting.length === 0) return `nobody of this name is recorded: not placed${others}`;
  const names = fitting.slice(0, 4).map(({ id, name }) => `${name} =${id}`);
  return `not placed; it may be ${names.join(' or ')}${fitting.length > names.length ? ' or others' : ''}${others}`;
}

function settled({ settles }: TakenAnswer, edition: string): string[] {
  if (settles === null) return [];
  return [[...listed(settles, edition), ...settles.moved.flatMap(movedInWords)].join('; ')].filter(
    (line) => line !== '',
  );
}

function listed({ listed: how, rank }: Settled, edition: string): string[] {
  switch (how) {
    case 'first':
      return [`the first that is known of him as ${rank}`];
    case 'already':
      return [`he was ${rank} already in ${edition}`];
    case 'still':
      return [`he was still ${rank} in ${edition}`];
    case 'between':
      return [`he is known as ${rank} at that time: no bound moves`];
  }
}

function movedInWords({ rank, implied, possible, certain }: MovedTenure): string[] {
  const name = `${rank}${implied ? ' (implied)' : ''}`;
  const words: string[] = [];
  if (possible.before === null) words.push(`${name} ${daysShort(possible.after, undefined)}`);
  else if (!same(possible.before, possible.after))
    words.push(
      `bounds as ${name} now ${daysShort(possible.after, possible.before)} (were ${daysShort(possible.before, possible.after)})`,
    );
  if (certain.after !== null && !same(certain.before, certain.after))
    words.push(`${name} certainly ${daysShort(certain.after, certain.before ?? undefined)}`);
  return words;
}

type Days = { readonly from: string | null; readonly to: string | null };
const same = (a: Days | null, b: Days): boolean => a?.from === b.from && a?.to === b.to;
const year = (day: string | null): string => (day === null ? '…' : day.slice(0, day.lastIndexOf('-') - 3));

/** Years, where they tell one span from the other; else days. */
function daysShort(days: Days, other: Days | undefined): string {
  const years = ({ from, to }: Days): string => `${year(from)}–${year(to)}`;
  if (other !== undefined && years(days) === years(other)) return spanInWords(days);
  if (days.from !== null && days.from === days.to) return `on ${dayInWords(days.from)}`;
  return year(days.from) === year(days.to) ? spanInWords(days) : years(days);
}

/** What holds for the lines that follow. */
export function headingInWords({ corps, rank, page }: Standing): string {
  const parts = [corps, rank, page === undefined ? undefined : `p. ${page}`].filter((part) => part !== undefined);
  return parts.length === 0 ? 'no rank yet' : shown(parts.join(' · '));
}
