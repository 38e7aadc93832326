import { parse as parseToml } from 'smol-toml';
import { HeldbyError } from '../errors.ts';

/** What a file of a house says by its names: TOML where it is called so, else JSON. */
export type NamedValues = Readonly<Record<string, unknown>>;

/**
 * Reads a style file or a file of phrases.
 * @param what it is, in a message: "The style".
 * @throws HeldbyError VALUE, with the line where there is one.
 */
export function namedValues(text: string, file: string, what: string): NamedValues {
  const form = file.toLowerCase().endsWith('.toml') ? 'TOML' : 'JSON';
  const without = text.replace(/^\ufeff/, '');
  let value: unknown;
  try {
    value = form === 'TOML' ? parseToml(without) : JSON.parse(without);
  } catch (error) {
    const [reason = ''] = error instanceof Error ? error.message.split('\n') : [];
    const line = error instanceof Error && 'line' in error ? `, line ${error.line}` : '';
    throw new HeldbyError(
      'VALUE',
      `${what} is no ${form} (${reason.replace(/^Invalid TOML document: /, '')}${line}).`,
      form === 'TOML'
        ? 'Write lines such as circa = "ca.".'
        : 'Write one JSON object, or name a file that ends in .toml.',
      file,
    );
  }
  if (typeof value !== 'object' || value === null || Array.isArray(value))
    throw new HeldbyError('VALUE', `${what} is no JSON object.`, 'Write {"circa": "ca."}.', file);
  return value as NamedValues;
}

/** Names in steps, as TOML has them, in one: `{section: {marks: …}}` is `{"section.marks": …}`. */
export function inOneStep(values: NamedValues, before = ''): NamedValues {
  return Object.fromEntries(
    Object.entries(values).flatMap(([name, value]) =>
      typeof value === 'object' && value !== null && !Array.isArray(value)
        ? Object.entries(inOneStep(value as NamedValues, `${before}${name}.`))
        : [[`${before}${name}`, value]],
    ),
  );
}
