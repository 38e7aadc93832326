import data from './data/beside-rank.json' with { type: 'json' };
import { keyOf, wordsOf } from './rank-words.ts';

/** How an appointment was held, where it was not substantive. */
export type BesideAppointment = 'brevet' | 'local' | 'temporary' | 'acting';

/** Words beside a rank that leave the appointment what it is. */
export type BesideStatus = 'half-pay' | 'retired' | 'unattached' | 'honorary' | 'supernumerary' | 'purchase' | 'late';

export type Beside = {
  readonly appointment: BesideAppointment | undefined;
  readonly status: readonly BesideStatus[];
  /** The service that letters such as R.N. stand for. */
  readonly service: string | undefined;
};

type Sign = { readonly modifier: string; readonly oneLetter: boolean };
type Tables = { readonly signs: ReadonlyMap<string, Sign>; readonly letters: ReadonlyMap<string, string> };

let tables: Tables | undefined;

function tablesOnce(): Tables {
  if (tables !== undefined) return tables;
  const signs = new Map<string, Sign>();
  for (const { modifier, forms } of data.modifiers) {
    for (const form of forms)
      signs.set(keyOf(form), { modifier, oneLetter: keyOf(form).length === 1 && !form.includes('/') });
  }
  tables = { signs, letters: new Map(Object.entries(data.letters).map(([form, service]) => [keyOf(form), service])) };
  return tables;
}

const MAY_BE_STATUS = /^(?:h\b|half|½|ret|on h|R\.F\.P)/i;

/**
 * What stands in the column of a corps and is none: lists print "h.p." there of whoever has no post.
 * @example statusForCorps('h.p.') === 'half-pay'
 */
export function statusForCorps(text: string): 'half-pay' | 'retired' | undefined {
  if (!MAY_BE_STATUS.test(text)) return undefined;
  const said = readBeside(wordsOf(text), { column: false, slashed: false });
  return said?.service === undefined
    ? said?.status.find((each) => each === 'half-pay' || each === 'retired')
    : undefined;
}

/** The service that a key such as `rn` or `royalnavy` stands for. */
export const serviceOfLetters = (key: string): string | undefined => tablesOnce().letters.get(key);

const APPOINTMENTS: ReadonlySet<string> = new Set(['brevet', 'local', 'temporary', 'acting']);
const MOST_WORDS = 4; // "retired on full pay"; letters may be written apart: "H. C. S."

/**
 * What the words on either side of a rank say of it, or undefined if any of them says nothing of the kind.
 * @param column one-letter signs count (`b.` for brevet).
 * @param slashed the text began "T/" or "A/", so that its first letter is a sign.
 */
export function readBeside(
  words: readonly string[],
  options: { column: boolean; slashed: boolean },
): Beside | undefined {
  const { signs, letters } = tablesOnce();
  let appointment: BesideAppointment | undefined;
  let service: string | undefined;
  const status: BesideStatus[] = [];
  for (let at = 0; at < words.length; ) {
    let length = Math.min(MOST_WORDS, words.length - at);
    for (; length > 0; length--) {
      const key = words.slice(at, at + length).join('');
      const sign = signs.get(key);
      const one = key.length === 1;
      const counts = sign !== undefined && (!one || (sign.oneLetter ? options.column : options.slashed && at === 0));
      if (counts && APPOINTMENTS.has(sign.modifier)) appointment = sign.modifier as BesideAppointment;
      else if (counts) status.push(sign.modifier as BesideStatus);
      else if (letters.has(key)) service = letters.get(key);
      else continue;
      break;
    }
    if (length === 0) return undefined;
    at += length;
  }
  return { appointment, status, service };
}
