import type { Picture } from './picture.ts';
import { fontSize, type LaidRow, laidOut, type Shape } from './picture-layout.ts';
import { escapedMarkup as safe } from './safe-text.ts';

/** Dark on white; what is possible is hatched and what is certain is filled, so that no colour is needed to tell them. */
const INK = '#1c1c1c';
const FAINT = '#5a5a5a';
const RULE = '#d9d9d9';
const CERTAIN = '#1f5060';
const CURVE = '#a8642a';
const PAPER = '#ffffff';

export const WIDE_PICTURE = 720;
/** For a telephone: the letters keep their size. */
export const NARROW_PICTURE = 340;

/**
 * A picture as SVG, complete in itself: nothing in it is fetched from elsewhere. `name` keeps the ids of several pictures
 * of one page apart; `lines`: the same in words.
 */
export function svgOf(picture: Picture, width: number, name: string, lines: readonly string[]): string {
  const layout = laidOut(picture, width);
  const { height } = layout;
  const style = `font-family="'Liberation Sans', Arial, Helvetica, sans-serif"`;
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${height}" width="${width}" height="${height}" role="img" aria-labelledby="${name}-title ${name}-text" ${style}>`,
    `<title id="${name}-title">${safe(picture.title)}</title>`,
    `<desc id="${name}-text">${lines.map(safe).join(' ')}</desc>`,
    '<defs>',
    `<pattern id="${name}-possible" width="5" height="5" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><rect width="5" height="5" fill="${PAPER}"/><rect width="1.6" height="5" fill="${CERTAIN}"/></pattern>`,
    '</defs>',
    `<rect width="${width}" height="${height}" fill="${PAPER}"/>`,
    ...layout.ground.map((shape) => shapeOf(shape, name)),
    ...layout.rows.map((row) => rowOf(row, name)),
    ...layout.legend.map((shape) => shapeOf(shape, name)),
    '</svg>',
  ].join('\n');
}

/** What took no part in the reckoning is drawn fainter; its words are not. */
function rowOf({ name: title, unused, shapes }: LaidRow, name: string): string {
  const drawn = (texts: boolean): string =>
    shapes
      .filter(({ shape }) => (shape === 'text') === texts)
      .map((shape) => shapeOf(shape, name))
      .join('');
  const bars = unused ? `<g opacity="0.45">${drawn(false)}</g>` : drawn(false);
  return `<g><title>${safe(title)}</title>${drawn(true)}${bars}</g>`;
}

function shapeOf(shape: Shape, name: string): string {
  switch (shape.shape) {
    case 'rule':
      return `<line x1="${shape.x1}" y1="${shape.y1}" x2="${shape.x2}" y2="${shape.y2}" stroke="${shape.strong ? INK : RULE}" stroke-width="${shape.strong ? 1.2 : 1}"/>`;
    case 'bar': {
      const fill = shape.fill === 'certain' ? CERTAIN : `url(#${name}-possible)`;
      return `<rect x="${shape.x}" y="${shape.y}" width="${shape.width}" height="${shape.height}" fill="${fill}" stroke="${CERTAIN}" stroke-width="1"/>`;
    }
    case 'arrow': {
      const tip = shape.to === 'right' ? shape.x + 9 : shape.x - 9;
      return `<path d="M${shape.x} ${shape.y - 1}L${tip} ${shape.y + shape.height / 2}L${shape.x} ${shape.y + shape.height + 1}Z" fill="${PAPER}" stroke="${CERTAIN}" stroke-width="1.4"/>`;
    }
    case 'curve': {
      const line = shape.points.map(([x, y]) => `${x} ${y}`).join('L');
      const first = shape.points[0]?.[0] ?? 0;
      const last = shape.points.at(-1)?.[0] ?? 0;
      return `<path d="M${first} ${shape.base}L${line}L${last} ${shape.base}Z" fill="${CURVE}" fill-opacity="0.28" stroke="none"/><path d="M${line}" fill="none" stroke="${CURVE}" stroke-width="1.6"/>`;
    }
    case 'text':
      return textOf(shape);
  }
}

const WEIGHT = { title: '700', group: '700', label: '400', dates: '400', year: '400', legend: '400' } as const;

/** In a frame of its own, which cuts off what a wider typeface than was reckoned with would need. */
function textOf({ x, y, text, role, anchor, room }: Shape & { shape: 'text' }): string {
  const size = fontSize(role);
  const left = anchor === 'start' ? x : anchor === 'end' ? x - room : x - room / 2;
  const at = anchor === 'start' ? 0 : anchor === 'end' ? room : room / 2;
  const height = Math.ceil(size * 1.45);
  const fill = role === 'dates' || role === 'year' || role === 'legend' ? FAINT : INK;
  return `<svg x="${Math.round(left * 10) / 10}" y="${(y - size * 1.05).toFixed(1)}" width="${room}" height="${height}"><text x="${at}" y="${(size * 1.05).toFixed(1)}" font-size="${size}" font-weight="${WEIGHT[role]}" text-anchor="${anchor}" fill="${fill}">${safe(text)}</text></svg>`;
}
