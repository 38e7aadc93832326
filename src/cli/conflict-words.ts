import { compareIds } from '../careers/record-order.ts';
import type { AsideClaim, ConflictFound, SaidClaim } from '../inquiry/conflicts-found.ts';
import { type Context, widthOf } from './context.ts';
import { runs } from './runs.ts';
import { shown, wrapped } from './text.ts';

/**
 * Conflicts as a terminal tells them. Those of the same people that the same claims would clear are told together:
 * 1. what is in all of them stands first, what can be added to make one of them below;
 * 2. the same claim in several editions is one line;
 * 3. claims that contradict the same things, and have the same next best way out, stand side by side.
 */
export type Group = {
  readonly concerns: ConflictFound['concerns'];
  /** What gives way; several where each of them contradicts the same others. */
  readonly asides: (readonly AsideClaim[])[];
  /** The other members of each conflict. */
  readonly others: (readonly SaidClaim[])[];
  readonly first: ConflictFound;
};

export const isSame = (a: SaidClaim, b: SaidClaim): boolean => a.id === b.id && a.claim === b.claim;

/** How claims are said: the list is named with each where the answer speaks of several. */
export type Say = (claim: SaidClaim) => string;

export const inOneList: Say = ({ claim, id }) => `${shown(claim)}  ${id}`;

export const inLists: Say = ({ claim, source, id }) =>
  `${shown(claim)}${source === null ? '' : ` (${shown(source)})`}  ${id}`;

/** Claims of one conflict that are told. */
const LINES = 12;

/** Groups of conflicts, those of one person in a row. */
export function conflictGroups(conflicts: readonly ConflictFound[]): Group[] {
  const firsts = new Map<string, number>();
  const groups = new Map<string, Group>();
  for (const conflict of conflicts) {
    const whom = whomOf(conflict);
    if (!firsts.has(whom)) firsts.set(whom, firsts.size);
    const signature = `${whom} ${conflict.omission} ${named(conflict.setAside)}`;
    const others = conflict.members.filter((member) => !conflict.setAside.some((each) => isSame(each, member)));
    const known = groups.get(signature);
    if (known) known.others.push(others);
    else
      groups.set(signature, {
        concerns: conflict.concerns,
        asides: [conflict.setAside],
        others: [others],
        first: conflict,
      });
  }
  const merged = new Map<string, Group>();
  for (const group of groups.values()) {
    const { omission, otherWayOut } = group.first;
    const against = group.others.map(named).join(';');
    const signature = `${whomOf(group)} ${omission} ${group.asides[0]?.length} ${against} ${named(otherWayOut)}`;
    const known = merged.get(signature);
    if (known) known.asides.push(...group.asides);
    else merged.set(signature, group);
  }
  const order = (group: Group): number => firsts.get(whomOf(group)) ?? 0;
  return [...merged.values()].sort((a, b) => order(a) - order(b));
}

const whomOf = ({ concerns }: Pick<ConflictFound, 'concerns'>): string => concerns.map(({ id }) => id).join();

const named = (claims: readonly SaidClaim[]): string => claims.map(({ id, claim }) => `${id} ${claim}`).join('|');

/** What several conflicts of somebody have in common: why this way out was taken, and the next best one. */
export const wayOf = ({ concerns, asides, first }: Group): string =>
  `${whomOf({ concerns })} ${asides.flat().map(({ why }) => why)[0]} ${named(first.otherWayOut)}`;

/** @param isLast whether no group follows that is got out of in the same way, which is then told once for all of them. */
export function groupInLines({ asides, others, first }: Group, isLast: boolean, say: Say, context: Context): string[] {
  const { bad, doubtful, faint } = context.style;
  const width = widthOf(context);
  const bullet = (text: string): string[] =>
    wrapped(text, width - 4).map((line, index) => `  ${index === 0 ? '·' : ' '} ${line}`);
  const put = (text: string, paint: (line: string) => string): string[] =>
    wrapped(text, width - 4).map((line) => paint(`    ${line}`));
  const lines: string[] = [];
  const aside = asides.flat();
  if (others.length === 1 && asides.length === 1) {
    lines.push(bad(first.members.length === 1 ? 'This cannot be:' : 'These cannot all be true:'));
    for (const claim of first.members) lines.push(...bullet(say(claim)));
  } else {
    const shared = (others[0] ?? []).filter((claim) => others.every((set) => set.some((each) => isSame(each, claim))));
    const head = condensed([...(asides.length > 1 ? [] : aside), ...shared], say);
    const added = others.map((set) => set.filter((claim) => !shared.some((each) => isSame(each, claim))));
    const sets = asides.length > 1 ? asides : added;
    const both = asides.length > 1 && others.length > 1;
    const told = condensedSets(sets, say);
    if (head.length === 0 && !both) {
      lines.push(bad('Of each line here not all can be true:'));
      for (const text of told.slice(0, LINES)) lines.push(...bullet(text));
      if (told.length > LINES) lines.push(faint(`    … and ${told.length - LINES} more`));
    } else if (both) {
      lines.push(bad('None of these can be true'));
      for (const text of told) lines.push(...bullet(text));
      lines.push(bad('together with any of these:'));
      const against = condensedSets(added, say);
      for (const text of [...head, ...against].slice(0, LINES)) lines.push(...bullet(text));
      if (head.length + against.length > LINES)
        lines.push(faint(`    … and ${head.length + against.length - LINES} more`));
    } else {
      lines.push(bad(head.length > 1 ? 'These cannot be true' : 'This cannot be true'));
      for (const text of head) lines.push(...bullet(text));
      lines.push(bad(`together with ${told.length > 1 || sets.length > 1 ? 'any of these' : 'this'}:`));
      for (const text of told.slice(0, LINES)) lines.push(...bullet(text));
      if (told.length > LINES) lines.push(faint(`    … and ${told.length - LINES} more`));
    }
  }
  const proposed = aside.some(({ by }) => by === 'proposed');
  const whys = [...new Set(aside.map(({ why }) => why))].map(shown).join(' ');
  const clears = Math.max(first.frees, asides.length * others.length);
  const clearing = clears > 1 && first.omission === null ? ` It clears ${clears} conflicts.` : '';
  const told = isLast ? ` ${whys}${clearing}` : clearing;
  lines.push(...put(`${proposed ? 'Would be set aside' : 'Set aside'}: ${partsOf(aside)}.${told}`, doubtful));
  if (!isLast) return lines;
  if (first.otherWayOut.length > 0) lines.push(...put(`The next best way out: ${partsOf(first.otherWayOut)}.`, faint));
  const [undecided] = aside.filter(({ by }) => by === 'proposed');
  if (undecided)
    lines.push(...put(`Until you decide, nothing is left out: heldby set-aside ${undecided.id} --why TEXT`, faint));
  return lines;
}

/** Sets of claims in a line each; sets of one claim that differ in the edition only, in one. */
const condensedSets = (sets: readonly (readonly SaidClaim[])[], say: Say): string[] =>
  sets.every(({ length }) => length === 1)
    ? condensed(sets.flat(), say)
    : [...new Set(sets.map((set) => condensed(set, say).join('; and ')))];

/** Claims in a line each; the same claim in several editions in one. */
function condensed(claims: readonly SaidClaim[], say: Say): string[] {
  const groups = new Map<string, SaidClaim[]>();
  for (const claim of claims) {
    const statement = statementOf(claim);
    const key = statement === undefined ? `${claim.id} ${claim.claim}` : `${statement} of ${claim.source}`;
    groups.set(key, [...(groups.get(key) ?? []), claim]);
  }
  return [...groups.values()].map((same) => {
    const [first] = same;
    const statement = first && statementOf(first);
    if (first === undefined || statement === undefined || same.length === 1) return same.map(say).join('; ');
    const editions = same.map(({ edition }) => edition ?? '');
    const claim = `${statement} editions ${runs(editions, '')}`;
    return say({ ...first, claim, id: runs(same.map(({ id }) => id)) });
  });
}

/** What a claim says before the edition in which it says so; undefined for what stands in none. */
function statementOf({ claim, edition }: SaidClaim): string | undefined {
  if (edition === undefined) return undefined;
  const until = claim.indexOf(` edition ${edition}`);
  return until < 0 ? undefined : claim.slice(0, until);
}

/** What of a record gives way, as one and as several. */
const PARTS: Readonly<Record<string, readonly [one: string, several: string]>> = {
  listed: ['the listing', 'the listings'],
  dated: ['the date of rank in', 'the dates of rank in'],
  start: ['the appointment told by', 'the appointments told by'],
  end: ['the leaving told by', 'the leavings told by'],
  born: ['the birth of', 'the births of'],
  died: ['the death of', 'the deaths of'],
  alive: ['the notice', 'the notices'],
  nil: ['the search', 'the searches'],
  kin: ['the kinship', 'the kinships'],
  same: ['the finding that two are one', 'the findings that two are one'],
  differ: ['the finding that two are not one', 'the findings that two are not one'],
  condition: ['the condition of service', 'the conditions of service'],
  window: ['the window of', 'the windows of'],
  clue: ['the window of clue', 'the windows of clues'],
  wording: ['the wording of', 'the wordings of'],
  made: ['the date of', 'the dates of'],
  over: ['what is said to lie under', 'what is said to lie under'],
};

/** Claims by what of their records they are: `the dates of rank in e31–e34; the listing e31`. */
function partsOf(claims: readonly SaidClaim[]): string {
  const ids = new Map<string, string[]>();
  for (const { part, id } of claims) ids.set(part, [...(ids.get(part) ?? []), id]);
  return [...ids]
    .map(([part, of]) => {
      const [one, several] = PARTS[part] ?? [part, part];
      const distinct = [...new Set(of)].sort(compareIds);
      return `${distinct.length > 1 ? several : one} ${runs(distinct)}`;
    })
    .join('; ');
}

/** What the researcher decided by setting records aside: each with all that it contradicts. */
export function decidedInLines(decided: readonly ConflictFound[], say: Say, context: Context): string[] {
  const width = widthOf(context);
  const together = new Map<string, { readonly first: ConflictFound; readonly others: Map<string, SaidClaim> }>();
  for (const conflict of decided) {
    const key = `${whomOf(conflict)} ${named(conflict.setAside)}`;
    const known = together.get(key) ?? { first: conflict, others: new Map<string, SaidClaim>() };
    for (const member of conflict.members)
      if (!conflict.setAside.some((each) => isSame(each, member)))
        known.others.set(`${member.id} ${member.claim}`, member);
    together.set(key, known);
  }
  return [...together.values()].flatMap(({ first: { concerns, setAside }, others }) => {
    const told = condensed([...others.values()], say);
    const more = told.length > LINES ? `; and ${told.length - LINES} more` : '';
    const text = `${shown(concerns.map(({ name }) => name).join(', '))}: ${setAside.map(say).join('; ')}, against ${told.slice(0, LINES).join('; ')}${more}. Set aside: ${shown(setAside[0]?.why ?? '')}`;
    return wrapped(text, width - 4).map((line, index) => `  ${index === 0 ? '·' : ' '} ${line}`);
  });
}
