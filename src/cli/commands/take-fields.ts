import type { Standing } from '../../intake/compact-line.ts';
import { shown } from '../text.ts';
import type { Ask, Offers, TakeOffers } from './take-offers.ts';

/** What was typed into each field, as it stands; to be offered again where the entry was refused. */
export type Filled = Readonly<Record<string, string>>;

type Field = {
  readonly name: string;
  /** What is taken where nothing is typed. */
  readonly stands: (standing: Standing) => string | undefined;
  readonly offers?: (offers: TakeOffers) => Offers;
  /** As it stands in a line of the compact notation, with the sign that says what it is. */
  readonly inLine: (typed: string, standing: Standing) => string;
};

const nothing = (): undefined => undefined;
const DITTO = /^(?:["”“]|do\.?)$/i;
const dateAbove = ({ dated }: Standing): string =>
  [dated?.text, dated?.printed && `{${dated.printed}}`].filter((part) => part !== undefined).join(' ');

const FIELDS: readonly Field[] = [
  { name: 'Name', stands: nothing, offers: ({ person }) => person, inLine: (typed) => `<${typed}>` },
  { name: 'Rank', stands: ({ rank }) => rank, offers: ({ rank }) => rank, inLine: (typed) => `^${typed}` },
  { name: 'Corps', stands: ({ corps }) => corps, offers: ({ corps }) => corps, inLine: (typed) => `@${typed}` },
  { name: 'Dated', stands: nothing, inLine: (typed, standing) => (DITTO.test(typed) ? dateAbove(standing) : typed) },
  { name: 'Page', stands: ({ page }) => page, inLine: (typed) => `p${typed.replace(/^p{1,2}\.?\s*/i, '')}` },
  { name: 'Person', stands: nothing, offers: ({ person }) => person, inLine: (typed) => personInLine(typed) },
  { name: 'Note', stands: nothing, inLine: (typed) => `// ${typed}` },
];

const personInLine = (typed: string): string =>
  typed === '+' ? '+' : `=${typed.replace(/^=/, '').replace(/,.*$/, '')}`;

/**
 * Asks for one entry, field by field. What stands, or was typed before, is taken where nothing is typed, and `-` is none.
 * A word behind a colon in any field is a command, as it is on a line.
 * @returns a line of the compact notation with what was typed; undefined at the end of all typing.
 */
export async function askFields(
  standing: Standing,
  before: Filled,
  offers: TakeOffers,
  ask: Ask,
): Promise<{ readonly line: string; readonly filled: Filled } | undefined> {
  const filled: Record<string, string> = {};
  const parts: string[] = [];
  for (const { name, stands, offers: offered, inLine } of FIELDS) {
    const there = before[name] ?? stands(standing);
    const reply = await ask(`${name}${there === undefined ? '' : ` [${shown(there)}]`}: `, offered?.(offers));
    if (reply === undefined) return undefined;
    const typed = reply.trim() || (before[name] ?? '');
    if (typed.startsWith(':')) return { line: typed, filled: {} };
    if (name === 'Name' && typed === '') return { line: '', filled: {} };
    if (typed !== '') filled[name] = typed;
    if (typed === '' || (typed === '-' && !['Corps', 'Person'].includes(name))) continue;
    parts.push(inLine(typed, standing));
  }
  return { line: parts.join(', ').replace(/, (?=\/\/)/, ' '), filled };
}
