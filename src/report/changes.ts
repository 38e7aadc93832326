import type { ActSummary, RecordChange } from '../inquiry/changes.ts';
import type { LeaderFigures, LotChange } from '../inquiry/changes-lots.ts';
import type { LotReport } from '../inquiry/report-lot.ts';
import { sentence } from './lines.ts';
import { makingInWords } from './lot-date.ts';
import { markText } from './lot-marks.ts';
import { openLines } from './lot-open.ts';
import { citedInWords } from './notes.ts';
import { degreeOf, namingOf, type Words } from './words.ts';

/** The differences of one lot as sentences. `before` and `after`: the reports that differ. */
export function lotChangesInWords(
  changes: readonly LotChange[],
  before: LotReport | null,
  after: LotReport | null,
  words: Words,
): string[] {
  return changes.map((change) => sentence(changeInWords(change, before, after, words)));
}

function changeInWords(change: LotChange, before: LotReport | null, after: LotReport | null, words: Words): string {
  const { say } = words;
  const lots = { before: before ?? after, after: after ?? before };
  const naming = (when: 'before' | 'after') => namingOf({ people: lots[when]?.people ?? {} }, words);
  const person = naming('after').plain;
  /** The words of a mark, withheld where they may name somebody living. */
  const marked = (text: string): string => {
    const mark = (after ?? before)?.marks.find((each) => each.text === text);
    return mark === undefined ? text : markText(mark, naming('after'));
  };
  const nothing = say('change.nothing');
  switch (change.change) {
    case 'added':
    case 'gone':
      return say(`change.${change.change}`);
    case 'title':
    case 'note':
      return say(`change.${change.change}`, { before: change.before ?? nothing, after: change.after ?? nothing });
    case 'made': {
      const made = (figures: typeof change.before): string => makingInWords(figures, words) ?? say('made.both.none');
      return say('change.made', { before: made(change.before), after: made(change.after) });
    }
    case 'feature-added':
    case 'feature-gone':
    case 'feature-changed':
      return say(`change.${change.change}`, { text: change.text });
    case 'mark-added':
    case 'mark-gone':
    case 'mark-changed':
      return say(`change.${change.change}`, { text: marked(change.text) });
    case 'leader':
      return (
        leaderInWords(change.before, change.after, marked(change.text), person, words) +
        (change.since ? sinceInWords(change.since, words) : '')
      );
    case 'rival-added':
    case 'rival-gone':
    case 'own-added':
    case 'own-gone':
      return say(`change.${change.change}`, { text: marked(change.text), person: person(change.person) });
    case 'holders': {
      const named = (holders: typeof change.before): string =>
        holders.length === 0
          ? say('change.holders.none')
          : words.all(
              holders.map((holder) =>
                holder.person === null
                  ? say('picture.unrecorded')
                  : say('change.holder', {
                      grade: words.degree(degreeOf(holder.wording ?? '')),
                      person: person(holder.person),
                    }),
              ),
            );
      return say('change.holders', { before: named(change.before), after: named(change.after) });
    }
    case 'citation':
    case 'search-added':
    case 'search-gone': {
      const cited = (when: 'before' | 'after', id: string): string => {
        const lot = lots[when];
        return lot === null ? '' : words.all(citedInWords(lot, [id], words, naming(when)));
      };
      if (change.change === 'citation')
        return say('change.citation', {
          before: cited('before', change.before.id),
          after: cited('after', change.after.id),
        });
      const when = change.change === 'search-added' ? 'after' : 'before';
      return say(`change.${change.change}`, { search: cited(when, change.search.id) });
    }
    case 'caution-added':
    case 'caution-gone':
      return say(`change.${change.change}`, { caution: change.caution });
    case 'open-added':
    case 'open-gone': {
      const lot = change.change === 'open-added' ? lots.after : lots.before;
      const place = lot?.open.indexOf(change.item) ?? -1;
      const line = lot === null ? undefined : openLines(lot, words, namingOf(lot, words))[place];
      return say(`change.${change.change}`, { what: line?.what ?? change.item.reason });
    }
    case 'assumption': {
      const otherwise = say('change.assumption.default');
      return say('change.assumption', {
        name: change.name,
        before: change.before ?? otherwise,
        after: change.after ?? otherwise,
      });
    }
  }
}

function leaderInWords(
  before: LeaderFigures | null,
  after: LeaderFigures | null,
  text: string,
  called: (person: LeaderFigures['person']) => string,
  words: Words,
): string {
  const { say } = words;
  const figures = ({ person, share, wording }: LeaderFigures): string =>
    say('change.leader.figures', {
      grade: words.degree(degreeOf(wording)),
      person: called(person),
      share: words.share(share),
    });
  if (before === null) return say('change.leader.new', { text, after: after === null ? '' : figures(after) });
  if (after === null) return say('change.leader.gone', { text, before: figures(before) });
  if (before.person.id === after.person.id && degreeOf(before.wording) === degreeOf(after.wording))
    return say('change.leader.share', {
      text,
      person: called(after.person),
      before: words.share(before.share),
      after: words.share(after.share),
    });
  return say('change.leader', { text, before: figures(before), after: figures(after) });
}

/** With which act the lead went over, and why: the command itself may name people who are withheld. */
function sinceInWords({ id, at, why }: ActSummary, { say, dates }: Words): string {
  const values = { id: String(id), date: dates.day(at.slice(0, 10)) };
  return why === null ? say('change.leader.since', values) : say('change.leader.because', { ...values, why });
}

/** A record that differs, in one line. */
export function recordChangeInWords({ id, called, change, fields }: RecordChange, { say, all }: Words): string {
  if (change !== 'changed') return say(`change.record.${change}`, { id, called });
  const nothing = say('change.nothing');
  const told = fields.map(({ field, before, after }) =>
    say('change.field', { field, before: before ?? nothing, after: after ?? nothing }),
  );
  return say('change.record.changed', { id, called, fields: all(told, 'list.semicolon') });
}

export function actInWords({ id, at, who, command, why }: ActSummary, { say, dates }: Words): string {
  const values = { id: String(id), date: dates.day(at.slice(0, 10)), who, command };
  // The command often says it itself.
  return why === null || command.includes(why) ? say('change.act', values) : say('change.act.why', { ...values, why });
}
