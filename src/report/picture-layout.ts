import type { Picture, PictureRow, Stretch } from './picture.ts';

/** What is drawn, in units of the picture, from its upper left corner. */
export type Shape =
  | {
      readonly shape: 'bar';
      readonly fill: 'certain' | 'possible';
      readonly x: number;
      readonly y: number;
      readonly width: number;
      readonly height: number;
    }
  | {
      readonly shape: 'arrow';
      readonly to: 'left' | 'right';
      readonly x: number;
      readonly y: number;
      readonly height: number;
    }
  | { readonly shape: 'curve'; readonly points: readonly (readonly [x: number, y: number])[]; readonly base: number }
  | {
      readonly shape: 'rule';
      readonly x1: number;
      readonly y1: number;
      readonly x2: number;
      readonly y2: number;
      readonly strong: boolean;
    }
  | {
      readonly shape: 'text';
      readonly x: number;
      readonly y: number;
      readonly text: string;
      readonly role: 'title' | 'group' | 'label' | 'dates' | 'year' | 'legend';
      readonly anchor: 'start' | 'end' | 'middle';
      /** Room that the text has; what a wide typeface needs beyond it is not shown. */
      readonly room: number;
    };

/** One row with its own name for whoever points at it or hears it. */
export type LaidRow = { readonly name: string; readonly unused: boolean; readonly shapes: readonly Shape[] };

export type Layout = {
  readonly width: number;
  readonly height: number;
  readonly ground: readonly Shape[];
  readonly rows: readonly LaidRow[];
  readonly legend: readonly Shape[];
};

const EDGE = 14;
const TITLE = 22;
const GROUP = 26;
const LINE = 17;
const BAR = 13;
const CURVE = 30;
const ROW_GAP = 9;
const ARROW = 9;
const FONT: Readonly<Record<'title' | 'group' | 'label' | 'dates' | 'year' | 'legend', number>> = {
  title: 16,
  group: 13,
  label: 13,
  dates: 12,
  year: 12,
  legend: 12,
};
export const fontSize = (role: keyof typeof FONT): number => FONT[role];

/** Of the line, where the dates need the rest. */
const LABEL_SHARE = 0.45;

/** Below this width the dates stand under the label, not beside it. */
const BESIDE = 560;

/**
 * Where everything stands. Every label has a line of its own above its bar, and is cut to its room, so that no two texts
 * can lie over each other whatever the typeface. Widths are in units of the picture.
 */
export function laidOut(picture: Picture, width: number): Layout {
  const inner = width - 2 * EDGE;
  const left = EDGE + ARROW;
  const right = width - EDGE - ARROW;
  const at = (year: number): number =>
    round(
      left +
        ((Math.min(Math.max(year, picture.from), picture.to) - picture.from) / (picture.to - picture.from)) *
          (right - left),
    );
  const ground: Shape[] = [];
  const rows: LaidRow[] = [];
  let y = EDGE;
  const titleLines = brokenTo(picture.title, inner, FONT.title);
  for (const line of titleLines) {
    y += TITLE;
    ground.push(textAt(EDGE, y - 6, line, 'title', 'start', inner));
  }
  y += 6;
  const top = y;
  for (const { title, rows: group } of picture.groups) {
    y += GROUP;
    ground.push(textAt(EDGE, y - 8, title, 'group', 'start', inner));
    for (const row of group) {
      const laid = laidRow(row, y, width, at);
      rows.push(laid.row);
      y = laid.until + ROW_GAP;
    }
  }
  const bottom = y;
  const years = yearMarks(picture, right - left).map((year) => ({ year, x: at(year) }));
  const rules = years.map(({ x }): Shape => ({ shape: 'rule', x1: x, y1: top, x2: x, y2: bottom, strong: false }));
  const axis: Shape[] = [
    { shape: 'rule', x1: EDGE, y1: bottom, x2: width - EDGE, y2: bottom, strong: true },
    ...years.map(({ year, x }) => textAt(x, bottom + LINE, String(year), 'year', 'middle', YEAR_ROOM - 2)),
  ];
  const legend = legendShapes(picture, bottom + 2 * LINE, inner);
  return {
    width,
    height: Math.ceil(legend.until + EDGE),
    ground: [...rules, ...ground, ...axis],
    rows,
    legend: legend.shapes,
  };
}

function laidRow(
  row: PictureRow,
  top: number,
  width: number,
  at: (year: number) => number,
): { row: LaidRow; until: number } {
  const inner = width - 2 * EDGE;
  const shapes: Shape[] = [];
  let y = top + LINE;
  const isBeside = width >= BESIDE;
  // The label has what it needs, up to its share of the line; the dates have the rest.
  const labelNeeds = Math.min(inner * LABEL_SHARE, widthOf(row.label, FONT.label) + 4);
  const datesRoom = isBeside ? Math.min(inner - labelNeeds - 12, widthOf(row.dates, FONT.dates) + 4) : inner;
  const labelRoom = isBeside ? inner - datesRoom - 12 : inner;
  const [label = '', ...more] = brokenTo(row.label, labelRoom, FONT.label);
  shapes.push(textAt(EDGE, y - 4, label, 'label', 'start', labelRoom));
  const further = more.length > 0 ? fitted(more.join(' '), inner, FONT.label) : undefined;
  if (isBeside) {
    shapes.push(textAt(width - EDGE, y - 4, fitted(row.dates, datesRoom, FONT.dates), 'dates', 'end', datesRoom));
  }
  if (further !== undefined) {
    y += LINE;
    shapes.push(textAt(EDGE, y - 4, further, 'label', 'start', inner));
  }
  if (!isBeside) {
    for (const line of brokenTo(row.dates, inner, FONT.dates)) {
      y += LINE;
      shapes.push(textAt(EDGE, y - 4, line, 'dates', 'start', inner));
    }
  }
  y += 2;
  if (row.density !== null) {
    shapes.push(...curveShapes(row.density, y, at));
    y += CURVE + 2;
  }
  for (const { possible, certain } of row.bars) shapes.push(...barShapes(possible, certain, y, width, at));
  return { row: { name: `${row.label}: ${row.dates}`, unused: row.unused, shapes }, until: y + BAR };
}

function barShapes(
  possible: Stretch,
  certain: Stretch | null,
  y: number,
  width: number,
  at: (year: number) => number,
): Shape[] {
  const edge = { left: EDGE + ARROW, right: width - EDGE - ARROW };
  const bar = (stretch: Stretch, fill: 'certain' | 'possible'): Shape => {
    const from = stretch.from === null ? edge.left : at(stretch.from);
    const to = stretch.to === null ? edge.right : at(stretch.to);
    return { shape: 'bar', fill, x: from, y, width: Math.max(2, round(to - from)), height: BAR };
  };
  return [
    bar(possible, 'possible'),
    ...(certain === null ? [] : [bar(certain, 'certain')]),
    ...(possible.from === null ? [{ shape: 'arrow', to: 'left', x: edge.left, y, height: BAR } as const] : []),
    ...(possible.to === null ? [{ shape: 'arrow', to: 'right', x: edge.right, y, height: BAR } as const] : []),
  ];
}

/** The years of a density as one line over its base, each year in the middle of its days. */
function curveShapes(
  { firstYear, shares }: NonNullable<PictureRow['density']>,
  y: number,
  at: (year: number) => number,
): Shape[] {
  const highest = shares.reduce((most, share) => Math.max(most, share), 0);
  if (highest === 0) return [];
  const base = y + CURVE;
  const first = at(Number.NEGATIVE_INFINITY);
  const last = at(Number.POSITIVE_INFINITY);
  const points = shares.flatMap((share, place): [number, number][] => {
    const x = at(firstYear + place + 0.5);
    return x <= first || x >= last ? [] : [[x, round(base - (share / highest) * CURVE)]];
  });
  return points.length === 0 ? [] : [{ shape: 'curve', points, base }];
}

/** Room for the figures of a year, with some space on either side. */
const YEAR_ROOM = 46;
const STEPS = [1, 2, 5, 10, 20, 25, 50, 100, 200, 500];

/** As many round years as have room side by side. */
export function yearMarks({ from, to }: Pick<Picture, 'from' | 'to'>, room: number): number[] {
  const step = STEPS.find((each) => (room / (to - from)) * each >= YEAR_ROOM) ?? 1000;
  const years: number[] = [];
  for (let year = Math.ceil(from / step) * step; year <= to; year += step) years.push(year);
  return years;
}

const SAMPLE = 34;

type Sample = { readonly text: string; readonly draw: (x: number, y: number) => Shape[] };

const openSample: Sample['draw'] = (x, y) => [
  { shape: 'bar', fill: 'possible', x, y, width: SAMPLE - ARROW, height: BAR },
  { shape: 'arrow', to: 'right', x: x + SAMPLE - ARROW, y, height: BAR },
];

const curveSample: Sample['draw'] = (x, y) => [
  {
    shape: 'curve',
    base: y + BAR,
    points: [
      [x, y + BAR],
      [x + SAMPLE / 3, y + 2],
      [x + SAMPLE / 2, y],
      [x + SAMPLE, y + BAR - 1],
    ],
  },
];

function legendShapes({ legend, groups }: Picture, top: number, inner: number): { shapes: Shape[]; until: number } {
  const shapes: Shape[] = [];
  const rows = groups.flatMap((group) => group.rows);
  const isOpen = rows.some(({ bars }) => bars.some(({ possible }) => possible.from === null || possible.to === null));
  const isDense = rows.some(({ density }) => density !== null);
  const samples: Sample[] = [
    { text: legend.certain, draw: (x, y) => [{ shape: 'bar', fill: 'certain', x, y, width: SAMPLE, height: BAR }] },
    { text: legend.possible, draw: (x, y) => [{ shape: 'bar', fill: 'possible', x, y, width: SAMPLE, height: BAR }] },
  ];
  if (isOpen) samples.push({ text: legend.open, draw: openSample });
  if (isDense) samples.push({ text: legend.density, draw: curveSample });
  let [x, y] = [EDGE, top];
  for (const { text, draw } of samples) {
    const room = widthOf(text, FONT.legend) + 6;
    const needed = SAMPLE + 6 + room;
    if (x > EDGE && x + needed > EDGE + inner) [x, y] = [EDGE, y + LINE + 4];
    shapes.push(
      ...draw(x, y),
      textAt(x + SAMPLE + 6, y + BAR - 2, fitted(text, inner - SAMPLE, FONT.legend), 'legend', 'start', room),
    );
    x += needed + 12;
  }
  return { shapes, until: y + BAR };
}

const textAt = (
  x: number,
  y: number,
  text: string,
  role: keyof typeof FONT,
  anchor: 'start' | 'end' | 'middle',
  room: number,
): Shape => ({ shape: 'text', x: round(x), y: round(y), text, role, anchor, room: Math.ceil(room) });

/** Reckoned generously, for the widest of the usual typefaces: parts of the size of the letters. */
const WIDE = 0.66;
const NARROW = 0.36;
const FULL = 1.05;

/** About how wide a text is. */
export function widthOf(text: string, size: number): number {
  let width = 0;
  for (const sign of text) {
    if (/[ .,;:'|!()[\]ijl‘’]/.test(sign)) width += NARROW;
    else if (/[mwMWQOG@%—…]/.test(sign) || (sign.codePointAt(0) ?? 0) > 0x2e80) width += FULL;
    else if (!/\p{M}/u.test(sign)) width += WIDE;
  }
  return width * size;
}

function fitted(text: string, room: number, size: number): string {
  if (widthOf(text, size) <= room) return text;
  const signs = [...text];
  let length = signs.length;
  while (length > 0 && widthOf(`${signs.slice(0, length).join('')}…`, size) > room) length -= 1;
  return `${signs.slice(0, length).join('').trimEnd()}…`;
}

function brokenTo(text: string, room: number, size: number): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ')) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (line !== '' && widthOf(longer, size) > room) {
      lines.push(line);
      line = word;
    } else line = longer;
  }
  return [...lines, line].map((each) => fitted(each, room, size));
}

const round = (value: number): number => Math.round(value * 10) / 10;
