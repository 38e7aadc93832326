import { type ActShown, actShown } from '../ledger/conflict-lookups.ts';
import { kindNamed, parseId } from '../ledger/kinds.ts';
import type { Db } from '../ledger/open.ts';
import { readRecord } from '../ledger/reading-records.ts';
import { currentRow } from '../ledger/records.ts';
import { actsOfRecord } from '../ledger/undo.ts';
import { gregorianDay } from '../time/calendar.ts';
import { longDay } from '../time/phrase.ts';
import { type AssumptionAnswer, assumptionList } from './assumptions.ts';
import { calledRecord } from './records.ts';

/** Why something is so, in a sentence, and what that rests on in its turn. */
export type Ground = {
  /**
   * `figure`: another computed figure; `claim`: what a record states; `rule`: what always holds; `record`, `act`: the
   * ledger's own; `assumption`: a weight that is a judgement; `note`: anything else worth knowing.
   */
  readonly what: 'figure' | 'claim' | 'rule' | 'record' | 'act' | 'assumption' | 'note';
  readonly says: string;
  /** The record, tenure, act or assumption that it speaks of. */
  readonly id: string | null;
  readonly value: unknown;
  readonly grounds: readonly Ground[];
};

export const ground = (
  what: Ground['what'],
  says: string,
  id: string | null = null,
  grounds: readonly Ground[] = [],
  value: unknown = null,
): Ground => ({ what, says, id, value, grounds });

export const note = (says: string): Ground => ground('note', says);

/** A day of an answer (`1836-03-04`) as a sentence has it. */
export function dayInWords(day: string): string {
  const [, year, month, date] = /^(-?\d+)-(\d\d)-(\d\d)$/.exec(day) ?? [];
  return year === undefined ? day : longDay(gregorianDay(Number(year), Number(month), Number(date)));
}

/** Days of an answer as a sentence has them. */
export function spanInWords({ from, to }: { readonly from: string | null; readonly to: string | null }): string {
  if (from === null) return to === null ? 'on any day' : `until ${dayInWords(to)}`;
  return to === null ? `from ${dayInWords(from)} on` : `from ${dayInWords(from)} to ${dayInWords(to)}`;
}

/** Trees of the ledger's own records, each made once. */
export type GroundsReader = ReturnType<typeof groundsReader>;

export function groundsReader(db: Db) {
  const records = new Map<string, Ground>();
  const acts = new Map<number, Ground>();
  let assumptions: ReadonlyMap<string, AssumptionAnswer> | undefined;

  const act = (id: number): Ground => {
    const known = acts.get(id);
    if (known) return known;
    const row = actShown(db, id);
    const made = ground('act', row === undefined ? `act ${id}` : actInWords(row), `act ${id}`);
    acts.set(id, made);
    return made;
  };

  /** A record with what it names to be understood (an entry its edition, an edition its series) and its acts. */
  const record = (id: string): Ground => {
    const known = records.get(id);
    if (known) return known;
    const parsed = parseId(id);
    const shown = parsed && readRecord(db, parsed.kind, parsed.row);
    if (!parsed || !shown) return ground('record', `${id} is not in the ledger`, id);
    const above = ['edition', 'series', 'object', 'mark']
      .map((name) => shown.fields[name])
      .filter((value): value is string => typeof value === 'string' && parseId(value) !== undefined);
    const made = ground('record', calledRecord(db, parsed.kind, shown), id, [
      ...above.map(record),
      ...aboutSource(shown.fields),
      ...actsBehind(db, id, shown.act).map(act),
    ]);
    records.set(id, made);
    return made;
  };

  return {
    record,
    act,
    /** What a claim of a record says, with the record under it. */
    claim: (id: string, says: string): Ground => ground('claim', says, id, [record(id)]),
    assumption(name: string): Ground {
      assumptions ??= new Map(assumptionList(db).map((each) => [each.name, each]));
      const found = assumptions.get(name);
      if (found === undefined) return ground('assumption', name, name);
      const { value, unit, meaning, source, act: changed, why } = found;
      const isDefault = value === found.default;
      const was = isDefault ? '' : ` (${found.default} unless changed)`;
      return ground(
        'assumption',
        `${name} = ${[value, unit].filter((part) => part !== '').join(' ')}${was}: ${meaning} [${isDefault ? source : (why ?? 'changed here')}]`,
        name,
        changed === null ? [] : [act(changed)],
        value,
      );
    },
    /** The value for one rank where the ledger sets one, else the general one. */
    forRank(name: string, rank: string | undefined): Ground {
      assumptions ??= new Map(assumptionList(db).map((each) => [each.name, each]));
      const own = rank === undefined ? undefined : `${name}.${rank}`;
      return this.assumption(own !== undefined && assumptions.has(own) ? own : name);
    },
  };
}

/** How an edition is cited, which copy was seen, and where it is kept. */
const aboutSource = (fields: Readonly<Record<string, unknown>>): Ground[] =>
  ['source', 'copy', 'shelfmark'].flatMap((name) =>
    fields['asAt'] === undefined || fields[name] === undefined ? [] : [note(`${name}: ${String(fields[name])}`)],
  );

/** The act that recorded it, and those that corrected it. */
function actsBehind(db: Db, id: string, latest: number): number[] {
  const parsed = parseId(id);
  if (!parsed) return [];
  const { kind, row } = parsed;
  const isFirst = Number(currentRow(db, kind, row)?.['row']) === row;
  if (isFirst) return [latest];
  return actsOfRecord(db, kindNamed(kind.kind).table, row)
    .map((act) => act.id)
    .sort((a, b) => a - b);
}

const actInWords = ({ id, at, who, command, why, void: isVoid }: ActShown): string =>
  `act ${id}, ${at.slice(0, 10)}, ${who}: ${command}${why === null ? '' : ` (${why})`}${isVoid === 1 ? ', undone' : ''}`;

export const percent = (share: number): string => `${(share * 100).toFixed(share > 0 && share < 0.001 ? 2 : 1)} %`;

export const weightText = (weight: number): string =>
  weight !== 0 && Math.abs(weight) < 0.001 ? weight.toExponential(2) : String(Number(weight.toPrecision(4)));
