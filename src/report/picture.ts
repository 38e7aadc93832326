import type { Days } from '../inquiry/made.ts';
import type { LotReport, PersonName } from '../inquiry/report-lot.ts';
import type { TimelineAnswer, TimelineBar, TimelineRow, YearShares } from '../inquiry/timeline.ts';
import { capital } from './lines.ts';
import { markText } from './lot-marks.ts';
import type { PhraseName } from './phrases.ts';
import { type Naming, namingOf, type Words } from './words.ts';

/** Years as numbers: 1 July 1834 is about 1834.5. Null where a side is open. */
export type Stretch = { readonly from: number | null; readonly to: number | null };

export type PictureRow = {
  readonly label: string;
  /** The dates of the row in words. */
  readonly dates: string;
  readonly bars: readonly { readonly possible: Stretch; readonly certain: Stretch | null }[];
  readonly density: YearShares | null;
  /** Shown, but taken no part in the reckoning. */
  readonly unused: boolean;
};

export type PictureGroup = { readonly title: string; readonly rows: readonly PictureRow[] };

/** A picture before it has a size: the same for the screen, the page and the terminal. */
export type Picture = {
  readonly title: string;
  readonly groups: readonly PictureGroup[];
  /** The years that it shows. */
  readonly from: number;
  readonly to: number;
  readonly legend: {
    readonly certain: string;
    readonly possible: string;
    readonly open: string;
    readonly density: string;
  };
  readonly listTitle: string;
};

/** Words and years of a calendar picture. `lot`: the report that it belongs to, by which names are withheld. */
export function pictureOf(answer: TimelineAnswer, words: Words, lot?: LotReport): Picture {
  const { say } = words;
  const naming = namingOf({ people: lot?.people ?? {} }, words);
  const textOf = (id: string, text: string): string => {
    const mark = lot?.marks.find((each) => each.id === id);
    return mark === undefined ? text : markText(mark, naming);
  };
  const groups: { title: string; rows: PictureRow[] }[] = [];
  for (const row of answer.rows) {
    const title = capital(groupTitle(row, answer.of.kind, words));
    const group = groups.find((each) => each.title === title) ?? { title, rows: [] };
    if (!groups.includes(group)) groups.push(group);
    group.rows.push({
      label: capital(labelOf(row, words, naming, textOf)),
      dates: datesOf(row, words),
      bars: row.bars.map(({ possible, certain }) => ({
        possible: stretch(possible),
        certain: certain && stretch(certain),
      })),
      density: row.density,
      unused: row.kind === 'window' && !row.used,
    });
  }
  const name = answer.of.kind === 'mark' ? `“${textOf(answer.of.id, answer.of.name)}”` : answer.of.name;
  return {
    title: say('picture.title', { what: name }),
    groups,
    ...yearsShown(groups.flatMap(({ rows }) => rows)),
    legend: {
      certain: say('picture.legend.certain'),
      possible: say('picture.legend.possible'),
      open: say('picture.legend.open'),
      density: say('picture.legend.density'),
    },
    listTitle: say('picture.list'),
  };
}

function groupTitle(row: TimelineRow, of: TimelineAnswer['of']['kind'], { say }: Words): string {
  if (row.kind !== 'candidate') return say(`picture.${row.kind}`);
  return of === 'mark' ? say('picture.candidate.one') : say('picture.candidate', { number: String(row.number) });
}

function labelOf(row: TimelineRow, words: Words, naming: Naming, textOf: (id: string, text: string) => string): string {
  const { say, named } = words;
  const called = (person: PersonName | null): string =>
    person === null ? say('picture.unrecorded') : naming.plain(person);
  switch (row.kind) {
    case 'making':
      return say(`picture.making.${row.by}`);
    case 'window': {
      const details = [
        named('made.state', row.state),
        named('made.force', row.force),
        ...(row.used ? [] : [say('picture.unused')]),
      ];
      return say('picture.window.label', { text: row.text, details: words.all(details) });
    }
    case 'mark':
      return say('picture.mark.label', { number: String(row.number), text: textOf(row.id, row.text) });
    case 'candidate':
      return say('picture.candidate.label', { person: called(row.person), share: words.share(row.share) });
    case 'holder':
      return say('picture.holder.label', { person: called(row.person), number: String(row.number) });
    case 'life':
      return say('picture.life.label', { person: called(row.person) });
    case 'tenure': {
      const kind = row.implied ? say('standing.implied') : row.of === 'substantive' ? undefined : row.of;
      if (row.corps === null) return kind === undefined ? row.rank : words.all([row.rank, kind]);
      const values = { rank: row.rank, corps: row.corps };
      return kind === undefined
        ? say('picture.tenure.label', values)
        : say('picture.tenure.label.kind', { ...values, kind });
    }
  }
}

/** The dates of a row in words: what is certain, and what is possible beyond it. */
function datesOf(row: TimelineRow, words: Words): string {
  const { say, dates } = words;
  if (row.kind === 'making' || row.kind === 'holder' || (row.kind === 'mark' && !row.stated))
    return words.all(row.bars.map(({ possible }) => say('picture.likely', { dates: dates.years(possible) })));
  if (row.kind === 'window' || row.kind === 'mark')
    return words.all(row.bars.map(({ possible }) => dates.span(possible)));
  return words.all(
    row.bars.map((bar) => barInWords(bar, words)),
    'list.semicolon',
  );
}

function barInWords({ possible, certain }: TimelineBar, { say, dates }: Words): string {
  if (certain === null) return say('picture.possible', { dates: dates.days(possible) });
  const sure = say('picture.certain', { dates: dates.days(certain) });
  return certain.from === possible.from && certain.to === possible.to
    ? sure
    : say('picture.dates', { certain: sure, possible: say('picture.possible', { dates: dates.days(possible) }) });
}

const stretch = ({ from, to }: Days): Stretch => ({
  from: from === null ? null : decimalYear(from, 0),
  to: to === null ? null : decimalYear(to, 1),
});

const DAYS_BEFORE_MONTH = [0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334];

/** A day of an answer as a number of years; `more` days later. */
export function decimalYear(day: string, more: number): number {
  const year = Number(day.slice(0, -6));
  const month = Number(day.slice(-5, -3));
  return year + ((DAYS_BEFORE_MONTH[month - 1] ?? 0) + Number(day.slice(-2)) - 1 + more) / 365.25;
}

/** Part of the years at either side that is left free, and the least of it. */
const MARGIN = 0.04;
const LEAST_MARGIN_YEARS = 1;

/** All the years on which a bar begins or ends, with room on both sides for what is open. */
function yearsShown(rows: readonly PictureRow[]): { from: number; to: number } {
  const ends = rows.flatMap(({ bars }) =>
    bars.flatMap(({ possible, certain }) => [possible.from, possible.to, certain?.from ?? null, certain?.to ?? null]),
  );
  const finite = ends.filter((year) => year !== null);
  if (finite.length === 0) return { from: 1800, to: 1900 };
  const [first, last] = [Math.min(...finite), Math.max(...finite)];
  const margin = Math.max(LEAST_MARGIN_YEARS, (last - first) * MARGIN);
  return { from: Math.floor(first - margin), to: Math.ceil(last + margin) };
}

/** The picture as sentences, for whoever cannot see it. */
export const pictureLines = ({ groups }: Picture, { say }: Pick<Words, 'say'>): { title: string; lines: string[] }[] =>
  groups.map(({ title, rows }) => ({
    title,
    lines: rows.map(({ label, dates }) => say('picture.row' satisfies PhraseName, { label, dates })),
  }));
