import type { SlipFound } from '../inquiry/conflict-slips.ts';
import type { ConflictsAnswer } from '../inquiry/conflicts.ts';
import { type Context, widthOf } from './context.ts';
import { MOST_NAMED, runs } from './runs.ts';
import { shown, wrapped } from './text.ts';

/** Slips that would explain a contradiction, or a line that stands apart, and what to do about each. */
export function slipsInLines(slips: ConflictsAnswer['slips'], context: Context): string[] {
  const { doubtful, faint } = context.style;
  const width = widthOf(context) - 4;
  return slips.flatMap(({ id, kind, says, contradicts, beside, correction }) => {
    const told = `${contradicts ? 'Perhaps a slip: ' : ''}${contradicts ? says : `${says.charAt(0).toUpperCase()}${says.slice(1)}`}.`;
    const right = contradicts ? '' : `; if it is right: heldby amend ${id} note sic --why TEXT`;
    const way = `${wayOn(id, kind, beside[0] ?? id, correction)}${right}`;
    return [
      ...wrapped(shown(told), width).map((line) => doubtful(`    ${line}`)),
      ...wrapped(shown(way), width).map((line) => faint(`    ${line}`)),
    ];
  });
}

/** What to type next about a slip. */
function wayOn(id: string, kind: SlipFound['kind'], other: string, correction: SlipFound['correction']): string {
  if (correction)
    return `If it was misread: heldby amend ${id} ${correction.field} ${quoted(correction.value)} --why TEXT`;
  if (kind === 'search') return `If the search missed it: heldby withdraw ${id} --why TEXT`;
  const show = `To see what stands beside it: heldby show ${kind === 'leaving' ? other : id}`;
  return kind === 'exchanged' ? `${show}; if it is so: heldby set-aside ${id},${other} --why TEXT` : show;
}

const quoted = (value: string): string => (/^[\w.-]+$/.test(value) ? value : `"${value}"`);

/** That two people of one name may have been put together, and how they are taken apart. */
export function twiceInLines(
  twice: ConflictsAnswer['twiceListed'],
  other: ConflictsAnswer['othersOfTheName'][number] | undefined,
  context: Context,
): string[] {
  if (twice.length === 0) return [];
  const { doubtful, faint } = context.style;
  const width = widthOf(context) - 4;
  const put = (text: string, paint: (line: string) => string): string[] =>
    wrapped(shown(text), width).map((line) => paint(`    ${line}`));
  const editions = runs(
    twice.map(({ edition }) => edition),
    '',
  );
  const pairs = twice.slice(0, MOST_NAMED).map(({ entries }) => entries.join(' and '));
  const more = twice.length > MOST_NAMED ? ` and ${twice.length - MOST_NAMED} more` : '';
  const told = `Listed in two posts in ${twice.length === 1 ? 'edition' : 'editions'} ${editions} (${pairs.join(', ')}${more}): perhaps two people of one name.`;
  const add = 'If so, record the other: heldby person add NAME --key KEY';
  const give = (entries: string): string =>
    `and give them their entries: heldby amend ${entries} person KEY --why TEXT`;
  if (other === undefined)
    return [...put(told, doubtful), ...put(add, faint), ...put(give(twice[0]?.entries.at(-1) ?? 'ID'), faint)];
  const theirs = other.posts.map(
    ({ post, editions, entries }) =>
      `${post}, ${editions.length > 1 ? 'editions' : 'edition'} ${runs(editions, '')} (${runs(entries)})`,
  );
  const all = runs(
    other.posts.flatMap(({ entries }) => entries),
    undefined,
    Number.POSITIVE_INFINITY,
  );
  return [
    ...put(`${told} The other’s would be: ${theirs.join('; ')}.`, doubtful),
    ...put(add, faint),
    ...put(give(all.replaceAll('–', '-').replaceAll(', ', ',')), faint),
  ];
}
