import { doubtfulDate } from '../careers/doubtful-date.ts';
import type { Recording } from '../ledger/recording.ts';
import { datesOfEdition, nearer } from '../ledger/series-dates.ts';
import type { DateOptions } from '../time/reading-options.ts';
import type { Span } from '../time/span.ts';
import type { CodedList } from './coded-list.ts';
import { idsOf, textAt } from './list-column.ts';
import type { Editions } from './list-editions.ts';
import type { ListFaults } from './list-faults.ts';

/** The dates of lines, 0 for none, with the days that each means. */
export type Dates = { readonly ids: Int32Array; readonly spans: ReadonlyMap<number, Span> };

/** Counted from the date of the paper: another day in each edition. */
const OF_THE_PAPER = /\b(?:ult|inst|prox|curr?t)/i;

/** The dates of the lines as their editions write them, each wording read once for all that write alike. */
export function datesOf(into: Recording, list: CodedList, editions: Editions, faults: ListFaults): Dates {
  const codes = list.codes.dated;
  const values = list.values.dated;
  const spans = new Map<number, Span>();
  if (!codes || !values) return { ids: new Int32Array(list.count), spans };
  const read = (text: string, options: DateOptions | undefined): number => {
    const { id, ...span } = into.words.date(text, null, options);
    spans.set(id, span);
    return id;
  };
  const ofPaper = Array.from({ length: values.size }, (_, code) => OF_THE_PAPER.test(values.text(code))).includes(true);
  into.act.flush();
  type Alike = { readonly options: DateOptions; readonly ids: Int32Array };
  const alike = new Map<string, Alike>();
  const ofEdition = new Map<number, Alike>();
  for (const edition of editions.asAt.keys()) {
    const { reference, ...others } = datesOfEdition(into.db, edition);
    const options = nearer(ofPaper && reference !== undefined ? { ...others, reference } : others, into.dates);
    const signature = JSON.stringify(options);
    const group = alike.get(signature) ?? { options, ids: new Int32Array(values.size) };
    alike.set(signature, group);
    ofEdition.set(edition, group);
  }
  const [first, another] = [...alike.values()];
  if (another === undefined) return { ids: idsOf(list, 'dated', faults, (text) => read(text, first?.options)), spans };
  const ids = new Int32Array(list.count);
  for (let row = 0; row < list.count; row += 1) {
    const code = codes[row] as number;
    const group = ofEdition.get(editions.ids[row] as number);
    if (code < 0 || group === undefined) continue;
    const known = group.ids[code] as number;
    ids[row] =
      known > 0
        ? known
        : (faults.at(list.lines[row] as number, 'dated', () => read(values.text(code), group.options)) ?? 0);
    group.ids[code] = ids[row] as number;
  }
  return { ids, spans };
}

/** Lines with a date of rank that looks wrong beside their edition: nothing is refused for it. */
export function doubtfulDates(list: CodedList, { ids, asAt }: Editions, dated: Dates): string[] {
  const notes: string[] = [];
  let more = 0;
  for (let row = 0; row < list.count; row += 1) {
    const span = dated.spans.get(dated.ids[row] as number);
    const edition = asAt.get(ids[row] as number);
    const doubt = span && edition && doubtfulDate(span, edition);
    if (doubt === undefined) continue;
    const where = doubt === 'after' ? 'after' : `more than ${doubt.yearsBefore} years before`;
    if (notes.length < LOOKED_AT)
      notes.push(
        `Line ${list.lines[row]} looks wrong: it is dated ${textAt(list, 'dated', row)}, ${where} its edition.`,
      );
    else more += 1;
  }
  return more === 0 ? notes : [...notes, `… and ${more} more of which the date looks wrong beside their edition.`];
}

const LOOKED_AT = 10;
