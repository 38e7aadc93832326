import { HeldbyError } from '../errors.ts';
import { FAULT_COLUMN, FileFaults } from './accept-good-faults.ts';
import { delimiterIn } from './csv-bytes.ts';

/** A line that is to be mended: as it stood in the file, and what is wrong with it. */
export type Rejected = { readonly line: number; readonly raw: string; readonly says: string };

/** A file in pieces that can be left out one by one. `head` belongs to no line: the header of a list. */
export type Pieces = {
  readonly head: string;
  readonly lines: readonly { readonly line: number; readonly raw: string }[];
  /** What can be no line of it at all. */
  readonly rejected: readonly Rejected[];
  /** Puts lines together again to a file; the first one stands on line 2 where there is a head. */
  readonly kind: 'list' | 'records';
};

/** Each time round faults may come out that the others hid; more rounds than this there are not. */
const MOST_ROUNDS = 20;

/**
 * Records what can be recorded of a file, leaving out the lines at fault: it is tried whole, and again without them, until
 * nothing is wrong with the rest. Every try is one act, and all of it or nothing, so that in the end there is one.
 * @param attempt records a file given as bytes; what it throws of lines is taken to be by their places in it.
 * @throws HeldbyError what `attempt` throws of the file as a whole.
 */
export function acceptGood<T>(
  pieces: Pieces,
  attempt: (bytes: Buffer, rejected: readonly Rejected[]) => T,
): { readonly result: T | undefined; readonly rejected: readonly Rejected[] } {
  let rejected = [...pieces.rejected];
  let lines = [...pieces.lines];
  const first = pieces.kind === 'list' ? 2 : 1;
  for (let round = 0; round < MOST_ROUNDS; round += 1) {
    if (lines.length === 0) return { result: undefined, rejected: inOrder(rejected) };
    const { bytes, placeOf } = together(pieces, lines, first);
    try {
      return { result: attempt(bytes, inOrder(rejected)), rejected: inOrder(rejected) };
    } catch (error) {
      if (!(error instanceof FileFaults)) throw error;
      const faults = new Map<number, string>();
      for (const { line, says } of error.lines) {
        const at = placeOf(line);
        if (at !== undefined) faults.set(at, faults.has(at) ? `${faults.get(at)} ${says}` : says);
      }
      if (faults.size === 0) throw error;
      rejected = [
        ...rejected,
        ...lines.flatMap((each, at) => (faults.has(at) ? [{ ...each, says: faults.get(at) ?? '' }] : [])),
      ];
      lines = lines.filter((_, at) => !faults.has(at));
    }
  }
  throw new HeldbyError(
    'INPUT_FILE',
    'The file has too many faults of too many kinds.',
    'Mend it, or import it in parts.',
  );
}

const inOrder = (rejected: readonly Rejected[]): Rejected[] => [...rejected].sort((a, b) => a.line - b.line);

/** The lines as one file again, and which of them stands on a line of it. */
function together(
  { head }: Pieces,
  lines: Pieces['lines'],
  first: number,
): { bytes: Buffer; placeOf: (line: number) => number | undefined } {
  const starts: number[] = [];
  let at = first;
  for (const { raw } of lines) {
    starts.push(at);
    at += raw.split('\n').length;
  }
  const text = `${first === 2 ? `${head}\n` : ''}${lines.map(({ raw }) => raw).join('\n')}\n`;
  return {
    bytes: Buffer.from(text, 'utf8'),
    placeOf(line) {
      let [low, high] = [0, starts.length - 1];
      while (low < high) {
        const middle = (low + high + 1) >> 1;
        if ((starts[middle] ?? 0) <= line) low = middle;
        else high = middle - 1;
      }
      return line < first ? undefined : low;
    },
  };
}

/** JSON Lines: every line by itself. */
export const piecesOfRecords = (text: string): Pieces => ({
  kind: 'records',
  head: '',
  rejected: [],
  lines: text
    .replace(/^\ufeff/, '')
    .split(/\r?\n/)
    .flatMap((raw, at) => (raw.trim() === '' ? [] : [{ line: at + 1, raw }])),
});

/** A quotation mark that opens on one line closes within so many, or was set by mistake. */
const LONGEST_FIELD_LINES = 50;

/**
 * The records of a list, each as it stands. One that has too many fields or too few, or a quotation mark out of place, is
 * to be mended; what follows it is read on from the next line.
 * @throws HeldbyError INPUT_FILE for a list without a header.
 */
export function piecesOfList(text: string): Pieces {
  const physical = text.replace(/^\ufeff/, '').split(/\r\n|\n|\r/);
  const headAt = physical.findIndex((line) => line.trim() !== '');
  const head = physical[headAt];
  if (head === undefined)
    throw new HeldbyError(
      'INPUT_FILE',
      'The file is empty.',
      'The first line names the columns, such as: edition,as_at,name,rank,corps,dated,page',
      'line 1',
    );
  const delimiter = delimiterIn(head);
  const wanted = fieldsOf(head, delimiter);
  if (typeof wanted === 'string')
    throw new HeldbyError('INPUT_FILE', `The header ${wanted}.`, 'Mend the first line.', `line ${headAt + 1}`);
  const lines: { line: number; raw: string }[] = [];
  const rejected: Rejected[] = [];
  for (let at = headAt + 1; at < physical.length; ) {
    const line = at + 1;
    if ((physical[at] ?? '').trim() === '') {
      at += 1;
      continue;
    }
    let length = 1;
    let fields = fieldsOf(physical[at] ?? '', delimiter);
    while (fields === OPEN && length < LONGEST_FIELD_LINES && at + length < physical.length) {
      length += 1;
      fields = fieldsOf(physical.slice(at, at + length).join('\n'), delimiter);
    }
    if (typeof fields === 'string') {
      rejected.push({ line, raw: physical[at] ?? '', says: `The line ${length > 1 ? OPEN : fields}.` });
      at += 1;
      continue;
    }
    const raw = physical.slice(at, at + length).join('\n');
    if (fields === wanted) lines.push({ line, raw });
    else
      rejected.push({
        line,
        raw,
        says: `The line has ${fields} ${fields === 1 ? 'field' : 'fields'}, the header has ${wanted}.`,
      });
    at += length;
  }
  return { kind: 'list', head, lines, rejected };
}

const OPEN = 'opens a quotation mark that is never closed';

/** How many fields a record has, or what is wrong with its quotation marks. */
function fieldsOf(record: string, delimiter: string): number | string {
  let fields = 0;
  for (let at = 0; ; ) {
    fields += 1;
    if (record[at] === '"') {
      at += 1;
      for (;;) {
        const close = record.indexOf('"', at);
        if (close < 0) return OPEN;
        at = close + 1;
        if (record[at] !== '"') break;
        at += 1;
      }
      if (at < record.length && record[at] !== delimiter) return 'has text behind a closing quotation mark';
    } else {
      const end = record.indexOf(delimiter, at);
      const field = record.slice(at, end < 0 ? record.length : end);
      if (field.includes('"')) return 'has a quotation mark inside a field';
      at = end < 0 ? record.length : end;
    }
    if (at >= record.length) return fields;
    at += 1;
    if (at === record.length) return fields + 1;
  }
}

/** What is to be mended, as it stood; of a list with its header, and what is wrong in a further column. */
export function rejectsText({ kind, head }: Pieces, rejected: readonly Rejected[]): string {
  if (kind === 'records') return `${rejected.map(({ raw }) => raw).join('\n')}\n`;
  const delimiter = delimiterIn(head);
  const cell = (text: string): string => `"${text.replaceAll('"', '""').replaceAll(/\s+/g, ' ')}"`;
  return `${[`${head}${delimiter}${FAULT_COLUMN}`, ...rejected.map(({ raw, line, says }) => `${raw}${delimiter}${cell(`line ${line}: ${says}`)}`)].join('\n')}\n`;
}
