import type { ChalkInstance } from 'chalk';

/** Signs of weight for a terminal; each returns the text as it is where there is no colour. */
export type Style = {
  readonly strong: Paint;
  readonly faint: Paint;
  readonly good: Paint;
  readonly doubtful: Paint;
  readonly bad: Paint;
  readonly coloured: boolean;
};
type Paint = (text: string) => string;

const plain: Paint = (text) => text;
export const PLAIN: Style = { strong: plain, faint: plain, good: plain, doubtful: plain, bad: plain, coloured: false };

/**
 * Whether to colour: FORCE_COLOR, then NO_COLOR, then a dumb terminal, then whether it is a terminal at all. The colour
 * library does not look at NO_COLOR itself.
 */
export function wantsColour(environment: Readonly<Record<string, string | undefined>>, isTerminal: boolean): boolean {
  const forced = environment['FORCE_COLOR'];
  if (forced !== undefined) return forced !== '0' && forced !== 'false';
  if (environment['NO_COLOR']) return false;
  return isTerminal && environment['TERM'] !== 'dumb';
}

/** The library is read only where something will be coloured. */
export async function styleFor(
  environment: Readonly<Record<string, string | undefined>>,
  isTerminal: boolean,
): Promise<Style> {
  if (!wantsColour(environment, isTerminal)) return PLAIN;
  const { Chalk } = await import('chalk');
  return painted(new Chalk({ level: 1 }));
}

const painted = (chalk: ChalkInstance): Style => ({
  strong: (text) => chalk.bold(text),
  faint: (text) => chalk.dim(text),
  good: (text) => chalk.green(text),
  doubtful: (text) => chalk.yellow(text),
  bad: (text) => chalk.red(text),
  coloured: true,
});
