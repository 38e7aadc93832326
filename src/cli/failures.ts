import { type ErrorCode, EXIT, type ExitStatus, HeldbyError } from '../errors.ts';
import { shown } from './text.ts';

/** Whether a command asks or records decides what a bad value is: wrong usage, or rejected input. */
export type Purpose = 'asking' | 'recording';

export function exitStatusOf(code: ErrorCode, purpose: Purpose): ExitStatus {
  switch (code) {
    case 'USAGE':
      return EXIT.usage;
    case 'DATE':
    case 'READING':
    case 'RANK':
    case 'VALUE':
      return purpose === 'asking' ? EXIT.usage : EXIT.rejected;
    case 'INPUT_FILE':
    case 'CONFLICT':
      return EXIT.rejected;
    case 'REFERENCE':
    case 'AMBIGUOUS':
    case 'NO_LEDGER':
      return EXIT.notFound;
    case 'LEDGER_LOCKED':
    case 'LEDGER_DAMAGED':
    case 'LEDGER_OLDER':
    case 'LEDGER_NEWER':
    case 'CANNOT_WRITE':
      return EXIT.ledger;
    case 'UNRESOLVED':
      return EXIT.unresolved;
    case 'INTERNAL':
      return EXIT.unforeseen;
  }
}

/** What is wrong, and what to do: two lines, or one JSON document. */
export function failureText(error: HeldbyError, json: boolean): string {
  const [message, hint] = [briefly(error.message), briefly(error.hint)];
  if (json) {
    const { code, where, details } = error;
    return JSON.stringify({ error: { code, message, hint, where: where ?? null, ...details } });
  }
  const place =
    error.where !== undefined &&
    !error.where.startsWith('character') &&
    !error.message.toLowerCase().includes(error.where.toLowerCase())
      ? `${error.where}: `
      : '';
  return `heldby: ${place}${message}\n${hint}`.split('\n').map(shown).join('\n');
}

const LONGEST_QUOTED = 160;

/** Words quoted from a file or a command line can be whole books: the beginning says which. */
const briefly = (text: string): string =>
  text.replaceAll(/"[^"]*"|“[^”]*”/g, (quoted) =>
    quoted.length <= LONGEST_QUOTED ? quoted : `${quoted.slice(0, LONGEST_QUOTED - 2)}…${quoted.slice(-1)}`,
  );

/** Anything that is not ours is a defect: said so, with its trace only where somebody asks for it. */
export function asFailure(error: unknown, debug: boolean): HeldbyError {
  if (error instanceof HeldbyError) return error;
  const text = error instanceof Error ? error.message : String(error);
  const trace = debug && error instanceof Error && error.stack ? `\n${error.stack}` : '';
  return new HeldbyError(
    'INTERNAL',
    `This is a defect of heldby: ${text}${trace}`,
    'Nothing was recorded. Please report it with the command you gave (HELDBY_DEBUG=1 shows where it happened).',
  );
}
