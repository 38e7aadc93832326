/** Records of a claim in many editions, or of a way out, that are named. */
export const MOST_NAMED = 6;

/** Labels or ids, those that count on as `1820–1823`; at most so many of them. */
export function runs(labels: readonly string[], mark = '[a-z]{1,2}', most = MOST_NAMED): string {
  const pattern = new RegExp(`^(${mark})(\\d{1,9})$`);
  const found: { first: string; last: string }[] = [];
  for (const label of new Set(labels)) {
    const run = found.at(-1);
    const [before, now] = [run && pattern.exec(run.last), pattern.exec(label)];
    if (run && before && now && before[1] === now[1] && Number(now[2]) === Number(before[2]) + 1) run.last = label;
    else found.push({ first: label, last: label });
  }
  const said = found.map(({ first, last }) => (first === last ? first : `${first}–${last}`));
  const more = said.length - most;
  return `${said.slice(0, most).join(', ')}${more > 0 ? ` and ${more} more` : ''}`;
}
