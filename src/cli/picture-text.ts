import type { Picture, PictureRow } from '../report/picture.ts';
import { yearMarks } from '../report/picture-layout.ts';
import type { Style } from './style.ts';
import { fitted, shown, wrapped } from './text.ts';

const CERTAIN = '█';
const POSSIBLE = '░';
const OPEN_LEFT = '◁';
const OPEN_RIGHT = '▷';
const HEIGHTS = ' ▁▂▃▄▅▆▇';

/** The picture on a terminal: the same rows, each under its label, over one line of years. */
export function pictureInText(picture: Picture, columns: number, { strong, faint }: Style): string {
  const lines = [...wrapped(shown(picture.title), columns).map(strong)];
  for (const { title, rows } of picture.groups) {
    lines.push('', strong(shown(title)));
    for (const row of rows) lines.push(...rowLines(row, picture, columns, faint));
  }
  const { certain, possible, open, density } = picture.legend;
  lines.push(
    '',
    faint(yearLine(picture, columns)),
    ...wrapped(
      `${CERTAIN} ${certain}   ${POSSIBLE} ${possible}   ${OPEN_LEFT} ${OPEN_RIGHT} ${open}   ▁▃▅ ${density}`,
      columns,
    ).map(faint),
  );
  return lines.join('\n');
}

function rowLines(row: PictureRow, picture: Picture, columns: number, faint: (text: string) => string): string[] {
  const head = shown(row.label);
  const dates = shown(row.dates);
  const isOneLine = [...head].length + 2 + [...dates].length <= columns;
  const label = isOneLine
    ? [`${head}  ${faint(dates)}`]
    : [fitted(head, columns), ...wrapped(dates, columns - 2).map((line) => faint(`  ${line}`))];
  const curve = row.density === null ? [] : [curveLine(row.density, picture, columns)];
  return [...label, ...curve, ...row.bars.map((bar) => barLine(bar, picture, columns))];
}

function barLine({ possible, certain }: PictureRow['bars'][number], { from, to }: Picture, columns: number): string {
  const cells: string[] = new Array<string>(columns).fill(' ');
  const paint = (first: number | null, last: number | null, sign: string): void => {
    const at = (year: number): number => ((year - from) / (to - from)) * columns;
    const begin = first === null ? 0 : Math.min(columns - 1, Math.max(0, Math.floor(at(first))));
    const end = last === null ? columns - 1 : Math.min(columns - 1, Math.max(begin, Math.ceil(at(last)) - 1));
    for (let place = begin; place <= end; place += 1) cells[place] = sign;
  };
  paint(possible.from, possible.to, POSSIBLE);
  if (certain !== null) paint(certain.from, certain.to, CERTAIN);
  if (possible.from === null) cells[0] = OPEN_LEFT;
  if (possible.to === null) cells[columns - 1] = OPEN_RIGHT;
  return cells.join('').trimEnd();
}

/** How likely each stretch of years is: the highest of its years, as the height of its sign. */
function curveLine(
  { firstYear, shares }: NonNullable<PictureRow['density']>,
  { from, to }: Picture,
  columns: number,
): string {
  const highest = shares.reduce((most, share) => Math.max(most, share), 0);
  const heights: number[] = new Array<number>(columns).fill(0);
  for (const [place, share] of shares.entries()) {
    const first = Math.floor(((firstYear + place - from) / (to - from)) * columns);
    const last = Math.max(first, Math.ceil(((firstYear + place + 1 - from) / (to - from)) * columns) - 1);
    for (let at = Math.max(0, first); at <= Math.min(columns - 1, last); at += 1)
      heights[at] = Math.max(heights[at] ?? 0, share);
  }
  return heights
    .map((share) => HEIGHTS[highest === 0 ? 0 : Math.ceil((share / highest) * (HEIGHTS.length - 1))] ?? ' ')
    .join('')
    .trimEnd();
}

/** Round years where they belong, as many as have room. */
function yearLine(picture: Picture, columns: number): string {
  const cells: string[] = new Array<string>(columns).fill(' ');
  for (const year of yearMarks(picture, columns * 7)) {
    const at = Math.round(((year - picture.from) / (picture.to - picture.from)) * columns);
    const label = String(year);
    if (at < 0 || at + label.length > columns) continue;
    for (const [place, sign] of [...label].entries()) cells[at + place] = sign;
  }
  return cells.join('').trimEnd();
}
