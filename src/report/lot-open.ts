import type { LotReport } from '../inquiry/report-lot.ts';
import type { OpenItem } from '../inquiry/report-reasons.ts';
import { capital } from './lines.ts';
import { windowsNamed } from './lot-date.ts';
import { markText } from './lot-marks.ts';
import { recordsNamed } from './notes.ts';
import type { PhraseName } from './phrases.ts';
import type { SeenTo, Style } from './style.ts';
import type { Naming, Words } from './words.ts';

/** An open point in words: what it is, what to do next, and who has seen to it. */
export type OpenLine = {
  readonly reason: OpenItem['reason'];
  readonly what: string;
  readonly next: string;
  readonly command: string | null;
  readonly seenTo: SeenTo | undefined;
  /** Whether it makes the lot unresolved. */
  readonly counts: boolean;
};

export function openLines(lot: LotReport, words: Words, naming: Naming): OpenLine[] {
  return lot.open.map((item) => {
    const seen = seenTo(lot, item, words.style);
    const values = valuesOf(lot, item, words, naming);
    return {
      reason: item.reason,
      what: capital(words.say(phraseOf(item), values)),
      next: words.say(nextOf(item), values),
      command: item.command,
      seenTo: seen,
      counts: seen === undefined && words.style.unresolved.includes(item.reason),
    };
  });
}

/** A point as one paragraph. */
export function openInWords({ what, next, command, seenTo: seen }: OpenLine, { say }: Words): string {
  if (seen !== undefined) return say('open.line', { what, next: say('open.seen', { by: seen.by, note: seen.note }) });
  const then = command === null ? '' : ` ${say('open.command', { command })}`;
  return `${say('open.line', { what, next })}${then}`;
}

export const isUnresolved = (lines: readonly OpenLine[]): boolean => lines.some(({ counts }) => counts);

const seenTo = ({ object }: LotReport, { reason }: OpenItem, style: Style): SeenTo | undefined =>
  style.seenTo.find((each) => each.reason === reason && [object.ref, object.key, object.id].includes(each.lot));

/** Whether rivals are named, or only somebody unrecorded, or both, are three sentences. */
function phraseOf({ reason, data }: OpenItem): PhraseName {
  if (reason === 'records' && data['leftOut'] !== undefined) return 'open.records.which';
  if (reason === 'export' && data['sure'] === 'yes') return 'open.export.sure';
  if (reason !== 'rivals' || data['unrecorded'] !== 'yes') return `open.${reason}`;
  return data['rivals'] === '' ? 'open.rivals.nobody' : 'open.rivals.unrecorded';
}

const nextOf = (item: OpenItem): PhraseName =>
  phraseOf(item) === 'open.rivals.nobody' ? 'open.rivals.nobody.next' : `open.${item.reason}.next`;

function valuesOf(lot: LotReport, { reason, data }: OpenItem, words: Words, naming: Naming): Record<string, string> {
  const values: Record<string, string> = { ...data };
  if (data['from'] !== undefined && data['to'] !== undefined)
    values['dates'] = words.dates.span({ from: data['from'], to: data['to'] });
  const withheld = Object.values(lot.people).filter(({ id }) => naming.isWithheld(id));
  for (const place of ['person', 'leader', 'rivals'] as const) {
    const said = values[place];
    if (said !== undefined && withheld.some(({ name }) => said.includes(name)))
      values[place] = words.say('person.withheld');
  }
  const mark = lot.marks.find(({ text }) => text === data['mark']);
  if (mark !== undefined) values['mark'] = markText(mark, naming);
  // A reader of print knows no ids of records.
  const idsIn = (ids = ''): string[] => ids.split(', ');
  if (reason === 'hangs')
    values['records'] = words.all(recordsNamed(lot, idsIn(data['records']), words, naming), 'list.or');
  if (reason === 'windows')
    for (const which of ['members', 'setAside'])
      values[which] = windowsNamed(
        lot,
        idsIn(data[which]).map((id) => ({ id })),
        words,
      );
  return values;
}
