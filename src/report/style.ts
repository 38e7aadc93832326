import { HeldbyError } from '../errors.ts';
import { OPEN_REASONS, type OpenReason } from '../inquiry/report-reasons.ts';
import { ENGLISH, type Phrases, phrasesWith } from './phrases.ts';
import { inOneStep, type NamedValues, namedValues } from './style-file.ts';
import keys from './style-keys.json' with { type: 'json' };

export type Degree = 'certain' | 'very' | 'probably' | 'possibly' | 'open';

/** An open point that somebody of the house has seen to. */
export type SeenTo = {
  readonly lot: string;
  readonly reason: OpenReason;
  readonly by: string;
  readonly note: string;
};

/** How a house prints. `style-keys.json` says of each key what it means and what it may be. */
export type Style = {
  readonly language: string;
  readonly phrases: Phrases;
  readonly circa: string;
  readonly making: 'range' | 'circa';
  readonly dates: 'day-month-year' | 'month-day-year' | 'numeric' | 'iso';
  readonly order: 'earliest-first' | 'latest-first';
  readonly notes: 'footnotes' | 'endnotes';
  readonly lifeDates: 'brackets' | 'parentheses' | 'none';
  readonly trade: 'parentheses' | 'brackets' | 'plain';
  readonly degrees: readonly Degree[];
  readonly shares: boolean;
  readonly ids: boolean;
  readonly conventions: boolean;
  readonly picture: boolean;
  readonly photographs: boolean;
  readonly living: 'withhold' | 'print';
  readonly disclaimers: readonly string[];
  readonly columns: number;
  readonly unresolved: readonly OpenReason[];
  readonly seenTo: readonly SeenTo[];
};

/** A key of a style file, as it is explained to whoever writes one. */
export type StyleKey = {
  readonly key: string;
  readonly type: string;
  readonly of?: readonly string[];
  readonly from?: number;
  readonly to?: number;
  readonly default: unknown;
  readonly meaning: string;
};

export const STYLE_KEYS: readonly StyleKey[] = keys;

/**
 * The style that a file describes, over the default one.
 * @param file its name: TOML where it ends in `.toml`, else JSON.
 * @param phrasesNamed reads a file of phrases that the style names.
 * @throws HeldbyError VALUE with the key that is wrong.
 */
export function readStyle(text: string, file: string, phrasesNamed: (name: string) => string): Style {
  const values = namedValues(text, file, 'The style');
  for (const key of Object.keys(values))
    if (!STYLE_KEYS.some((each) => each.key === key))
      throw fault(`A style has no key "${key}".`, `Its keys: ${STYLE_KEYS.map((each) => each.key).join(', ')}.`, key);
  const chosen: Record<string, unknown> = {};
  for (const spec of STYLE_KEYS)
    chosen[spec.key] = values[spec.key] === undefined ? spec.default : checked(spec, values[spec.key]);
  return { ...(chosen as Omit<Style, 'phrases'>), phrases: phrasesOf(chosen, phrasesNamed) };
}

/** The style of a house that has not said otherwise. */
export const defaultStyle = (): Style =>
  readStyle('{}', 'style.json', () => {
    throw new Error('the default style names no file');
  });

function phrasesOf(chosen: Record<string, unknown>, phrasesNamed: (name: string) => string): Phrases {
  const language = String(chosen['language']);
  const base =
    language === 'en'
      ? ENGLISH()
      : phrasesWith(
          ENGLISH(),
          inOneStep(namedValues(phrasesNamed(language), language, `The file of phrases ${language}`)),
          language,
        );
  return phrasesWith(base, inOneStep(chosen['phrases'] as NamedValues), 'phrases');
}

/** A value of the kind that its key takes. Cases by `type`, in the order of the file of keys. */
function checked(spec: StyleKey, value: unknown): unknown {
  const { key, type, of = [] } = spec;
  const wrong = (wanted: string) =>
    fault(`${key} cannot be ${JSON.stringify(value)?.slice(0, 60)}.`, `Write ${wanted}.`, key);
  switch (type) {
    case 'text':
      if (typeof value !== 'string' || value.trim() === '') throw wrong('a text');
      return value;
    case 'yes-no':
      if (typeof value !== 'boolean') throw wrong('true or false');
      return value;
    case 'choice':
      if (!of.includes(value as string)) throw wrong(`one of: ${of.join(', ')}`);
      return value;
    case 'choices':
      if (!Array.isArray(value) || !value.every((each) => of.includes(each)))
        throw wrong(`a list of these: ${of.join(', ')}`);
      return value;
    case 'texts':
      if (!Array.isArray(value) || !value.every((each) => typeof each === 'string')) throw wrong('a list of texts');
      return value;
    case 'number': {
      const { from = 0, to = Number.MAX_SAFE_INTEGER } = spec;
      if (!Number.isInteger(value) || (value as number) < from || (value as number) > to)
        throw wrong(`a whole number from ${from} to ${to}`);
      return value;
    }
    case 'phrases':
      if (typeof value !== 'object' || value === null || Array.isArray(value)) throw wrong('an object of texts');
      return value;
    case 'seen':
      if (!Array.isArray(value) || !value.every(isSeenTo))
        throw wrong(`a list of objects with lot, reason (${OPEN_REASONS.join(', ')}), by and note`);
      return value;
    default:
      throw new Error(`a key of the style is of no known type: ${type}`);
  }
}

function isSeenTo(value: unknown): boolean {
  if (typeof value !== 'object' || value === null) return false;
  const { lot, reason, by, note, ...rest } = value as Record<string, unknown>;
  return (
    Object.keys(rest).length === 0 &&
    [lot, by, note].every((each) => typeof each === 'string') &&
    OPEN_REASONS.includes(reason as OpenReason)
  );
}

const fault = (message: string, hint: string, where?: string): HeldbyError =>
  new HeldbyError('VALUE', message, hint, where);
