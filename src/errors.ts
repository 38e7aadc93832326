/** Exit statuses that scripts rely on; they are never renumbered. */
export const EXIT = {
  done: 0,
  unforeseen: 1,
  usage: 2,
  notFound: 3,
  rejected: 4,
  ledger: 5,
  unresolved: 6,
  interrupted: 130,
} as const;

export type ExitStatus = (typeof EXIT)[keyof typeof EXIT];

/** Scripts match on codes: add, never rename. */
export type ErrorCode =
  | 'USAGE' // the command line itself is wrong
  | 'DATE' // a date expression that is not understood
  | 'READING' // a transcription whose signs do not close, or say nothing
  | 'RANK' // a rank that its service does not know, or that has several meanings
  | 'VALUE' // any other value that cannot be
  | 'REFERENCE' // no such record
  | 'AMBIGUOUS' // words that fit several records
  | 'CONFLICT' // contradicts what is recorded already
  | 'INPUT_FILE' // a file that cannot be read as what it should be
  | 'NO_LEDGER'
  | 'LEDGER_LOCKED'
  | 'LEDGER_DAMAGED'
  | 'LEDGER_OLDER'
  | 'LEDGER_NEWER'
  | 'CANNOT_WRITE'
  | 'UNRESOLVED'
  | 'INTERNAL';

/**
 * Something the user can put right. `message` says what is wrong, `hint` what to type or look at next.
 * Anything else that is thrown is a defect of ours. Which exit status a code has is decided in `cli/`, because the
 * same bad value is wrong usage in a question and rejected input in a record.
 */
export class HeldbyError extends Error {
  override readonly name = 'HeldbyError';
  readonly code: ErrorCode;
  readonly hint: string;
  /** Where in the input: a file with line and column, a field, a position in a text. */
  readonly where: string | undefined;
  /** More of it for a program to read. */
  readonly details: Readonly<Record<string, unknown>> | undefined;
  constructor(
    code: ErrorCode,
    message: string,
    hint: string,
    where?: string,
    details?: Readonly<Record<string, unknown>>,
  ) {
    super(message);
    this.code = code;
    this.hint = hint;
    this.where = where;
    this.details = details;
  }
}

const OF_THE_PLACE: ReadonlySet<ErrorCode> = new Set([
  'LEDGER_LOCKED',
  'LEDGER_DAMAGED',
  'LEDGER_NEWER',
  'CANNOT_WRITE',
]);

/** Whether a line of a file is at fault, and not the ledger or the disk: what comes next would meet that too. */
export const isFaultOfInput = (error: unknown): error is HeldbyError =>
  error instanceof HeldbyError && !OF_THE_PLACE.has(error.code);
