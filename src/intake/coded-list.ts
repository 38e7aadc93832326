import { isUtf8 } from 'node:buffer';
import { HeldbyError } from '../errors.ts';
import { ByteDictionary, grown } from './byte-dictionary.ts';
import { type Guess, guessColumns } from './column-guess.ts';
import type { ColumnValues } from './column-values.ts';
import { type ByteSource, type CsvRecord, readCsv } from './csv-bytes.ts';
import { LIST_FIELDS, type ListField } from './list-fields.ts';

/** A list with every cell coded: `codes[f][row]` is a number of `values[f]`, -1 for an empty cell. */
export type CodedList = {
  readonly count: number;
  readonly codes: Readonly<Partial<Record<ListField, Int32Array>>>;
  readonly values: Readonly<Partial<Record<ListField, ColumnValues>>>;
  /** Columns taken for a field by what their headers say, where they are not called by its name. */
  readonly guessed: readonly Guess[];
  /** Headers of the file that stand for no field. */
  readonly ignored: readonly string[];
  /** The header that stands for a field, for messages. */
  readonly header: Readonly<Partial<Record<ListField, string>>>;
  /** Physical line of each row. */
  readonly lines: Int32Array;
};

/** Told now and then while a long list is read: the values so far. */
export type CodingProgress = (values: CodedList['values']) => void;

const ROWS_BETWEEN_TELLING = 1 << 15;

/**
 * Reads a list of entries, coding each column as it comes.
 * @param mapping which header stands for a field, where it is not the field's own name; an empty one: none does.
 * @throws HeldbyError INPUT_FILE with line and column.
 */
export function readCodedList(
  source: ByteSource,
  mapping: ReadonlyMap<ListField, string>,
  onProgress?: CodingProgress,
): CodedList {
  let headers: string[] | undefined;
  let places: { field: ListField; place: number; dictionary: ByteDictionary }[] = [];
  let columns: Int32Array[] = [];
  let lines = new Int32Array(1 << 12);
  let count = 0;
  let unused: number[] = [];
  let guessed: readonly Guess[] = [];

  const onHeader = (record: CsvRecord) => {
    headers = readHeaders(record);
    const named = placesOf(headers, mapping);
    const left = headers.filter((_, place) => !named.some((each) => each.place === place));
    const wanted = LIST_FIELDS.filter((field) => !mapping.has(field) && !named.some((each) => each.field === field));
    guessed = guessColumns(left, wanted);
    places =
      guessed.length === 0
        ? named
        : placesOf(headers, new Map([...mapping, ...guessed.map(({ field, column }) => [field, column] as const)]));
    columns = places.map(() => new Int32Array(1 << 12));
    unused = [...headers.keys()].filter((place) => !places.some((each) => each.place === place));
  };
  readCsv(source, (record) => {
    if (!headers) {
      onHeader(record);
      return;
    }
    const { buffer, starts, ends, hashes, line } = record;
    if (record.fields !== headers.length) {
      const short = record.fields < headers.length;
      throw new HeldbyError(
        'INPUT_FILE',
        `Line ${line} has ${record.fields} ${record.fields === 1 ? 'field' : 'fields'}, the header has ${headers.length}.`,
        `${
          short
            ? `Column ${headers[record.fields]} and what follows it is missing: add the separators, even for empty fields.`
            : 'Put a field that holds a comma in quotation marks.'
        } Every fault of the file at once: --accept-good --rejects FILE --dry-run`,
        `line ${line}, column ${short ? headers[record.fields] : headers.length + 1}`,
      );
    }
    if (count === lines.length) {
      columns = columns.map(grown);
      lines = grown(lines);
    }
    lines[count] = line;
    for (let c = 0; c < places.length; c += 1) {
      const { place, dictionary } = places[c] as (typeof places)[number];
      (columns[c] as Int32Array)[count] = dictionary.code(
        buffer,
        starts[place] as number,
        ends[place] as number,
        hashes[place] as number,
        line,
      );
    }
    for (const place of unused) refuseOtherText(record, place, headers[place] ?? '');
    count += 1;
    if (onProgress && count % ROWS_BETWEEN_TELLING === 0) onProgress(valuesOf(places));
  });
  if (!headers)
    throw new HeldbyError(
      'INPUT_FILE',
      'The file is empty.',
      'The first line names the columns, such as: edition,as_at,name,rank,corps,dated,page',
      'line 1',
    );

  const used = new Set(places.map(({ place }) => place));
  return {
    count,
    codes: Object.fromEntries(places.map(({ field }, c) => [field, (columns[c] as Int32Array).subarray(0, count)])),
    values: valuesOf(places),
    header: Object.fromEntries(places.map(({ field, place }) => [field, headers?.[place]])),
    guessed,
    ignored: headers.filter((_, place) => !used.has(place)),
    lines: lines.subarray(0, count),
  };
}

/** Also in a column that is not used: the whole file is likely to be encoded so. */
function refuseOtherText({ buffer, starts, ends, line }: CsvRecord, place: number, header: string): void {
  if (isUtf8(buffer.subarray(starts[place], ends[place]))) return;
  throw new HeldbyError(
    'INPUT_FILE',
    `Line ${line}, column ${header}: this is not UTF-8 text.`,
    'Save the file from the spreadsheet as "CSV UTF-8" and import that; nothing was recorded.',
    `line ${line}, column ${header}`,
  );
}

const valuesOf = (places: readonly { field: ListField; dictionary: ByteDictionary }[]): CodedList['values'] =>
  Object.fromEntries(places.map(({ field, dictionary }) => [field, dictionary.values()]));

function readHeaders(record: CsvRecord): string[] {
  const headers: string[] = [];
  for (let f = 0; f < record.fields; f += 1) {
    const header = record.buffer.toString('utf8', record.starts[f], record.ends[f]).trim();
    if (header.includes('\ufffd')) {
      throw new HeldbyError(
        'INPUT_FILE',
        `The header of column ${f + 1} is not UTF-8 text.`,
        'Save the file from the spreadsheet as "CSV UTF-8" and import that; nothing was recorded.',
        `line ${record.line}, column ${f + 1}`,
      );
    }
    headers.push(header);
  }
  const twice = headers.find((header, place) => header !== '' && headers.indexOf(header) !== place);
  if (twice !== undefined) {
    throw new HeldbyError(
      'INPUT_FILE',
      `Two columns are both called "${twice}".`,
      'Give one of them another name.',
      `line ${record.line}, column ${twice}`,
    );
  }
  return headers;
}

const plain = (header: string): string => header.toLowerCase().replaceAll(/[\s-]+/g, '_');

function placesOf(
  headers: readonly string[],
  mapping: ReadonlyMap<ListField, string>,
): { field: ListField; place: number; dictionary: ByteDictionary }[] {
  const places = [];
  const taken = new Set(mapping.values());
  for (const field of LIST_FIELDS) {
    const wanted = mapping.get(field);
    let place: number;
    if (wanted === '') place = -1;
    else if (wanted === undefined) {
      const named = headers.filter((header) => plain(header) === field && !taken.has(header));
      if (named.length > 1) {
        throw new HeldbyError(
          'INPUT_FILE',
          `The columns ${named.map((header) => `"${header}"`).join(' and ')} both stand for ${field}.`,
          `Say which one it is: --map ${field}=COLUMN`,
          `line 1, column ${named[1]}`,
        );
      }
      place = named[0] === undefined ? -1 : headers.indexOf(named[0]);
    } else {
      place = headers.indexOf(wanted);
      if (place < 0)
        throw new HeldbyError(
          'INPUT_FILE',
          `The file has no column "${wanted}".`,
          `Its columns: ${headers.join(', ')}.`,
          'line 1',
        );
    }
    if (place >= 0) places.push({ field, place, dictionary: new ByteDictionary(headers[place] ?? field) });
  }
  return places;
}
