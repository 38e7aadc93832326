import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { decimalYear, type Picture, type PictureRow } from '../../src/report/picture.ts';
import { fontSize, laidOut, type Shape, widthOf, yearMarks } from '../../src/report/picture-layout.ts';

const LEGEND = { certain: 'certain', possible: 'possible', open: 'open', density: 'the higher, the likelier' };
const row = (changes: Partial<PictureRow> = {}): PictureRow => ({
  label: 'Lieutenant, 2nd Fencibles',
  dates: 'certain 16 May 1833 – 7 February 1839',
  bars: [{ possible: { from: 1833.4, to: 1839.1 }, certain: { from: 1833.4, to: 1839.1 } }],
  density: null,
  unused: false,
  ...changes,
});
const picture = (rows: readonly PictureRow[], changes: Partial<Picture> = {}): Picture => ({
  title: 'Calendar of 214',
  groups: [{ title: 'Appointments', rows }],
  from: 1830,
  to: 1842,
  legend: LEGEND,
  listTitle: 'In words',
  ...changes,
});
const shapesOf = (given: Picture, width: number): Shape[] => {
  const { ground, rows, legend } = laidOut(given, width);
  return [...ground, ...rows.flatMap(({ shapes }) => shapes), ...legend];
};

type Text = Shape & { shape: 'text' };
/** The room that is kept for a text, within which it is cut off. */
function boxOf({ x, y, room, anchor, role }: Text) {
  const left = anchor === 'start' ? x : anchor === 'end' ? x - room : x - room / 2;
  return { left, right: left + room, top: y - fontSize(role), bottom: y + fontSize(role) * 0.25 };
}

describe('no two texts lie over each other, and none outside the picture', () => {
  const check = (given: Picture, width: number): void => {
    const texts = shapesOf(given, width).filter((shape): shape is Text => shape.shape === 'text');
    const { height } = laidOut(given, width);
    const boxes = texts.map(boxOf);
    for (const [i, a] of boxes.entries()) {
      expect(a.left).toBeGreaterThanOrEqual(-0.5);
      expect(a.right).toBeLessThanOrEqual(width + 0.5);
      expect(a.bottom).toBeLessThanOrEqual(height);
      for (const b of boxes.slice(i + 1)) {
        const apart = a.right <= b.left || b.right <= a.left || a.bottom <= b.top || b.bottom <= a.top;
        expect(apart, `${texts[i]?.text} over another text`).toBe(true);
      }
    }
  };
  const text = fc.string({ unit: fc.constantFrom('m', 'i', ' ', 'W', '漢', '“', '.', 'ạ'), maxLength: 160 });
  const year = fc.double({ min: 1600, max: 2000, noNaN: true });
  const stretch = fc.record({ from: fc.option(year, { freq: 3 }), to: fc.option(year, { freq: 3 }) });
  const anyRow = fc.record({
    label: text,
    dates: text,
    bars: fc.array(fc.record({ possible: stretch, certain: fc.option(stretch) }), { maxLength: 3 }),
    density: fc.option(
      fc.record({
        firstYear: fc.integer({ min: 1600, max: 1900 }),
        shares: fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { maxLength: 60 }),
      }),
    ),
    unused: fc.boolean(),
  });
  test('whatever the rows, on a page and on a telephone', () =>
    fc.assert(
      fc.property(
        fc.array(anyRow, { maxLength: 6 }),
        text,
        fc.integer({ min: 1600, max: 1950 }),
        fc.integer({ min: 2, max: 400 }),
        fc.constantFrom(240, 340, 559, 560, 720, 1200),
        (rows, title, from, years, width) => check(picture(rows, { title, from, to: from + years }), width),
      ),
      { seed: 3, numRuns: 150 },
    ));
});

describe('bars', () => {
  const barsOf = (changes: Partial<PictureRow>) =>
    laidOut(picture([row(changes)]), 720).rows[0]?.shapes.filter(({ shape }) => shape !== 'text');

  test('possible days are hatched, with the certain ones filled within them', () => {
    const bars = barsOf({ bars: [{ possible: { from: 1832, to: 1841 }, certain: { from: 1834, to: 1838 } }] });
    const [possible, certain] = bars as [Shape & { shape: 'bar' }, Shape & { shape: 'bar' }];
    expect([possible.fill, certain.fill]).toEqual(['possible', 'certain']);
    expect(certain.x).toBeGreaterThan(possible.x);
    expect(certain.x + certain.width).toBeLessThan(possible.x + possible.width);
  });
  test('an open side ends in an arrow at the edge', () =>
    expect(barsOf({ bars: [{ possible: { from: null, to: 1838 }, certain: null }] })).toContainEqual(
      expect.objectContaining({ shape: 'arrow', to: 'left' }),
    ));
  test('a single day is still to be seen', () =>
    expect(barsOf({ bars: [{ possible: { from: 1835, to: 1835.001 }, certain: null }] })).toContainEqual(
      expect.objectContaining({ shape: 'bar', width: 2 }),
    ));
  test('a density is drawn over the years that are shown, and no further', () => {
    const curve = barsOf({ density: { firstYear: 1700, shares: new Array<number>(300).fill(0.01) } })?.[0];
    expect(curve).toMatchObject({ shape: 'curve' });
    expect((curve as Shape & { shape: 'curve' }).points).toHaveLength(12);
  });
});

test.each<[from: number, to: number, room: number, first: number[]]>([
  [1830, 1842, 680, [1830, 1831, 1832]],
  [1830, 1842, 300, [1830, 1832, 1834]],
  [1761, 1911, 680, [1780, 1800]],
  [1600, 1960, 300, [1600, 1700]],
])('round years from %d to %d in room for %d', (from, to, room, first) =>
  expect(yearMarks({ from, to }, room).slice(0, first.length)).toEqual(first),
);

test('a day as a number of years', () => {
  expect(decimalYear('1834-01-01', 0)).toBe(1834);
  expect(decimalYear('1834-07-02', 0)).toBeCloseTo(1834.5, 2);
  expect(decimalYear('1834-12-31', 1)).toBeCloseTo(1835, 2);
});

test('wide letters are reckoned wider than narrow ones', () =>
  expect(widthOf('WWWW', 12)).toBeGreaterThan(widthOf('iiii', 12)));
