/** Signs that roff would take for its own, or print as a typographer's. */
const SIGNS: Readonly<Record<string, string>> = {
  '\\': '\\(rs',
  '-': '\\-',
  "'": '\\(aq',
  '`': '\\(ga',
  '^': '\\(ha',
  '~': '\\(ti',
  '"': '\\(dq',
};

/** A text as it stands, in roff. A line of it that begins with a point is no request: man(7). */
export const roffText = (text: string): string =>
  text
    .replaceAll(/[\\\-'`^~"]/g, (sign) => SIGNS[sign] ?? sign)
    .replaceAll(/^\./gm, '\\&.')
    .replaceAll(/^$/gm, '\\&');

/** A request with one argument, which may hold spaces. */
export const request = (name: string, text: string): string => `.${name} "${roffText(text)}"`;

/** Lines kept as they are, in letters of one width. */
export const kept = (text: string): readonly string[] => ['.PP', '.nf', roffText(text), '.fi'];

/** A term in bold with what it means beside it. */
export const term = (name: string, means: string): readonly string[] => ['.TP', request('B', name), roffText(means)];
