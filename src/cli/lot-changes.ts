import type { LedgerState } from '../inquiry/changes.ts';
import { type LotChange, lotChanges } from '../inquiry/changes-lots.ts';
import { leaderSince } from '../inquiry/leader-since.ts';
import { lotsInOrder, reportOf } from '../inquiry/report.ts';
import type { LotReport } from '../inquiry/report-lot.ts';
import { lotChangesInWords } from '../report/changes.ts';
import { headingOf } from '../report/compose.ts';
import { printedText } from '../report/print.ts';
import type { Style } from '../report/style.ts';
import { type Words, wordsOf } from '../report/words.ts';
import { shown, wrapped } from './text.ts';

/** A lot whose report differs between two states, with every difference as it is and in words. */
export type ChangedLot = {
  readonly id: string;
  readonly ref: string;
  readonly heading: string;
  readonly changes: readonly LotChange[];
  readonly lines: readonly string[];
};

/**
 * Every lot that reads otherwise in the second state than in the first.
 * @param wanted the ids asked for; all lots of either state unless said.
 */
export function changedLots(
  before: LedgerState,
  after: LedgerState,
  wanted: readonly string[] | undefined,
  style: Style,
): ChangedLot[] {
  const words = wordsOf(style);
  const [then, now] = [lotsInOrder(before.db), lotsInOrder(after.db)];
  const all = [...now, ...then.filter((id) => !now.includes(id))];
  return all
    .filter((id) => wanted === undefined || wanted.includes(id))
    .flatMap((id) => {
      const old = then.includes(id) ? reportOf(before.db, id, before.act) : null;
      const fresh = now.includes(id) ? reportOf(after.db, id, after.act) : null;
      const changes = lotChanges(old, fresh).map((change) => {
        if (change.change !== 'leader') return change;
        const { mark, before: was, after: is } = change;
        if (was?.person.id === is?.person.id) return change;
        return { ...change, since: leaderSince(before, after, id, mark, is?.person.id) };
      });
      const found = lotChangesInWords(changes, old, fresh, words);
      const lines = found.length > 0 || readsTheSame(old, fresh, style) ? found : [words.say('changes.wording')];
      const lot = fresh ?? old;
      if (lot === null || lines.length === 0) return [];
      return [{ id, ref: lot.object.ref, heading: headingOf(lot, words), changes, lines }];
    });
}

/** Whether the two print the same but for the line that names the act. */
function readsTheSame(before: LotReport | null, after: LotReport | null, style: Style): boolean {
  if (before === null || after === null) return before === after;
  const text = (lot: LotReport): string => printedText([{ lot: { ...lot, about: after.about } }], 'text', style);
  return text(before) === text(after);
}

export function lotLines(
  lots: readonly ChangedLot[],
  words: Words,
  columns: number,
  strong: (text: string) => string,
): string[] {
  if (lots.length === 0) return [words.say('changes.lots.none')];
  return lots.flatMap(({ heading, lines }) => [
    '',
    ...wrapped(shown(heading), columns).map(strong),
    ...lines.flatMap((line) => bulleted(line, columns)),
  ]);
}

/** A line with a hyphen before it, and its further lines under its text. */
export const bulleted = (line: string, columns: number): string[] =>
  wrapped(shown(line), columns - 2).map((text, place) => `${place === 0 ? '-' : ' '} ${text}`);
