import { HeldbyError } from '../errors.ts';
import { readCsv } from './csv-bytes.ts';

/** A row of a file of decisions, as it stands there. */
export type DecisionRow = {
  readonly line: number;
  readonly one: string;
  readonly other: string;
  readonly decision: string;
  readonly why: string;
};

const NEEDED = ['one', 'other', 'decision'] as const;

/**
 * The rows of a CSV file with the columns `one`, `other`, `decision` and, if there is one, `why`; other columns and rows
 * without a decision are passed over.
 * @throws HeldbyError INPUT_FILE
 */
export function decisionRows(bytes: Buffer): DecisionRow[] {
  let given = 0;
  let columns: Map<string, number> | undefined;
  const rows: DecisionRow[] = [];
  readCsv(
    (into) => {
      const length = Math.min(into.length, bytes.length - given);
      bytes.copy(into, 0, given, given + length);
      given += length;
      return length;
    },
    ({ buffer, fields, starts, ends, line }) => {
      const cell = (at: number | undefined): string =>
        at === undefined || at >= fields ? '' : buffer.toString('utf8', starts[at], ends[at]).trim();
      if (columns === undefined) {
        columns = new Map(Array.from({ length: fields }, (_, at) => [cell(at).toLowerCase(), at]));
        for (const name of NEEDED)
          if (!columns.has(name))
            throw new HeldbyError(
              'INPUT_FILE',
              `The file has no column ${name}.`,
              'Its columns are one, other, decision and why: heldby careers --csv writes such a file.',
              `line ${line}`,
            );
        return;
      }
      const [one, other, decision, why] = [...NEEDED, 'why'].map((name) => cell(columns?.get(name))) as [
        string,
        string,
        string,
        string,
      ];
      if (decision !== '') rows.push({ line, one, other, decision: decision.toLowerCase(), why });
    },
  );
  return rows;
}
