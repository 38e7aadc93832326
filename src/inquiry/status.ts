import { countsOfKinds, type KindCount, lastEditionTaken, unplacedCount, waiting } from '../ledger/find-counts.ts';
import { lastEntryIn } from '../ledger/find-in-edition.ts';
import type { KindName } from '../ledger/kind.ts';
import { kindNamed } from '../ledger/kinds.ts';
import type { Db } from '../ledger/open.ts';
import { readRecord } from '../ledger/reading-records.ts';
import { actsNewestFirst } from '../ledger/undo.ts';
import { type About, aboutAnswer } from './about.ts';

export type StatusAnswer = {
  readonly counts: readonly KindCount[];
  /** Lines that are nobody's yet; null where that was not counted. */
  readonly unplaced: number | null;
  readonly lastAct: { readonly id: number; readonly at: string; readonly who: string; readonly command: string } | null;
  /** What could be done next, what is nearest first: the command and why. */
  readonly next: readonly { readonly command: string; readonly why: string }[];
  readonly about: About;
};

const MOST_STEPS = 6;

/**
 * Where a ledger stands: how much is in it, what was done last, and what could be done next.
 * @param commands those that there are, so that nothing is proposed that cannot be done.
 */
export function statusOf(db: Db, commands: readonly string[], asOf: number | undefined): StatusAnswer {
  const counts = countsOfKinds(db);
  const count = (kind: KindName): number => counts.find((each) => each.kind === kind)?.count ?? 0;
  const unplaced = unplacedCount(db, count('entry')) ?? null;
  const [last] = actsNewestFirst(db, 1);
  return {
    counts: counts.filter((each) => each.count > 0),
    unplaced,
    lastAct: last === undefined ? null : { id: last.id, at: last.at, who: last.who, command: last.command },
    next: nextSteps(db, count, unplaced)
      .filter(({ command }) => commands.includes(command.split(' ')[1] ?? ''))
      .slice(0, MOST_STEPS),
    about: aboutAnswer(db, asOf),
  };
}

type Step = { readonly command: string; readonly why: string };

/**
 * In this order: 1. a list, if there is none; 2. its first edition; 3. the page that was left; 4. an edition without a
 * line; 5. lines that are nobody's; 6. an object, its marks and its features; 7. marks that nobody is named for;
 * 8. what to look up for them; 9. what contradicts itself.
 */
function nextSteps(db: Db, count: (kind: KindName) => number, unplaced: number | null): Step[] {
  const field = (kind: KindName, id: number, name: string): string =>
    String(readRecord(db, kindNamed(kind), id)?.fields[name] ?? '');
  const steps: Step[] = [];
  const add = (command: string, why: string): number => steps.push({ command: `heldby ${command}`, why });
  const when = (id: number | undefined, say: (id: number) => unknown): unknown =>
    id === undefined ? undefined : say(id);
  if (count('series') === 0) {
    add('series add "Name of the list" --service army', 'no list is recorded yet');
    add('import FILE', 'or bring lists in from a file: CSV, a spreadsheet, or JSON Lines');
  }
  when(waiting.seriesWithoutEdition(db), (id) =>
    add(`edition add s${id} LABEL --as-at DATE`, `${field('series', id, 'name')} has no edition yet`),
  );
  when(lastEditionTaken(db), (id) =>
    when(lastEntryIn(db, id)?.row, (row) =>
      add(
        `entry take ed${id}`,
        `go on with ${editionCalled(db, id)}, where ${field('entry', row, 'name') || 'the last line'} was taken last`,
      ),
    ),
  );
  when(waiting.editionWithoutEntry(db), (id) =>
    add(`entry take ed${id}`, `no line of ${editionCalled(db, id)} is taken down yet`),
  );
  if (unplaced !== null && unplaced > 0)
    add('careers --review', `${unplaced} ${unplaced === 1 ? 'line is' : 'lines are'} nobody’s yet`);
  if (count('object') === 0) add('object add REF --title TEXT', 'no object is recorded yet');
  when(waiting.objectWithoutMark(db), (id) =>
    add(`mark add o${id} "TEXT" --role owner`, `${objectCalled(db, id)} has no mark yet`),
  );
  when(waiting.objectWithoutFeature(db), (id) =>
    add(`feature add o${id} "TRAIT" --window 1790/1850`, `nothing dates ${objectCalled(db, id)} by its make yet`),
  );
  when(waiting.ownersMarkWithoutAttribution(db), (id) => {
    add(`candidates m${id}`, `nobody is named for “${field('mark', id, 'text')}” yet`);
    add(`lookups m${id}`, 'which edition to consult next for it');
  });
  if (count('entry') + count('notice') > 0) add('conflicts', 'evidence that cannot all be true, if there is any');
  return steps;
}

function editionCalled(db: Db, id: number): string {
  const edition = readRecord(db, kindNamed('edition'), id);
  const series = readRecord(db, kindNamed('series'), Number(String(edition?.fields['series']).slice(1)));
  return `${series?.fields['name'] ?? ''} ${edition?.fields['label'] ?? ''}`.trim();
}

function objectCalled(db: Db, id: number): string {
  const object = readRecord(db, kindNamed('object'), id);
  return `${object?.fields['ref'] ?? ''} (${object?.fields['title'] ?? ''})`;
}
