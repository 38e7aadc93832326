let shownSigns = 0;

/** One line on a terminal, written over by the next and taken away by none; nothing elsewhere. */
export function progress(doing: string): void {
  if ((doing === '' && shownSigns === 0) || process.stderr.isTTY !== true) return;
  const text = doing === '' ? '' : `${doing} …`;
  process.stderr.write(`\r${text.padEnd(shownSigns)}${text === '' ? '\r' : ''}`);
  shownSigns = text.length;
}
