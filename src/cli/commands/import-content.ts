import { createHash } from 'node:crypto';
import { resolve } from 'node:path';
import { HeldbyError } from '../../errors.ts';
import { type Pieces, piecesOfList, piecesOfRecords } from '../../intake/accept-good.ts';
import { decoded, encodingInWords, encodingNamed, guessEncoding, likelyInWords } from '../../intake/encodings.ts';
import { type Content, formatOf, readAll } from '../../intake/import-file.ts';
import { withoutTitles } from '../../intake/title-lines.ts';
import { type SheetAsList, sheetAsList } from '../../intake/xlsx.ts';

export type ContentOptions = {
  readonly format: string | undefined;
  readonly encoding: string | undefined;
  readonly sheet: string | undefined;
  readonly acceptGood: boolean;
};

/** A file that cannot be recorded as it stands, as text; and its lines one by one where some may be left out. */
export type Prepared = {
  readonly content: Content;
  readonly pieces: Pieces | undefined;
  readonly notes: readonly string[];
};

/**
 * Reads a file into text where it is a spreadsheet, is not in UTF-8, has titles above its headers, or only its good lines are to be recorded.
 * @throws HeldbyError INPUT_FILE, USAGE
 */
export async function preparedContent(file: string, workingFolder: string, options: ContentOptions): Promise<Prepared> {
  const ending = (options.format ?? /\.([a-z]+)$/i.exec(file)?.[1] ?? '').toLowerCase();
  const isSheet = ending === 'xlsx' || ending === 'xls';
  if (!isSheet && options.sheet !== undefined)
    throw new HeldbyError(
      'USAGE',
      `${file} is no spreadsheet, so it has no sheet "${options.sheet}".`,
      'Leave out --sheet.',
    );
  const isList = !isSheet && formatOf(file, options.format) !== 'jsonl';
  const bytes = readAll(file === '-' ? 0 : resolve(workingFolder, file), file);
  const sha256 = createHash('sha256').update(bytes).digest('hex');
  const read = isSheet ? await sheetText(bytes, options) : encodedText(bytes, options.encoding);
  const { text, titles } = isList ? withoutTitles(read.text) : { text: read.text, titles: [] };
  const { how } = read;
  const notes = [...read.notes, ...titles.map(titleInWords)];
  const isRecords = !isSheet && !isList;
  return {
    content: { bytes: Buffer.from(text, 'utf8'), sha256, how: `${isRecords ? 'jsonl' : 'csv'}${how}` },
    pieces: options.acceptGood ? (isRecords ? piecesOfRecords(text) : piecesOfList(text)) : undefined,
    notes,
  };
}

const titleInWords = (title: string): string => `Left out above the headers: “${title}”.`;

type Text = { readonly text: string; readonly how: string; readonly notes: readonly string[] };

async function sheetText(bytes: Buffer, options: ContentOptions): Promise<Text> {
  if (options.encoding !== undefined)
    throw new HeldbyError('USAGE', 'A spreadsheet says itself how it is encoded.', 'Leave out --encoding.');
  const { bytes: list, sheet, others, titles, days } = await sheetAsList(bytes, options.sheet);
  const notes = [
    ...(others.length === 0 ? [] : [`Read the sheet "${sheet}"; --sheet NAME reads another: ${others.join(', ')}.`]),
    ...titles.map(titleInWords),
    ...daysInWords(days),
  ];
  return { text: list.toString('utf8'), how: ` sheet ${sheet}`, notes };
}

const MOST_DAYS_TOLD = 5;

/** Numbers that were read as days, as the other cells of their column are. */
function daysInWords(days: SheetAsList['days']): string[] {
  const told = days.slice(0, MOST_DAYS_TOLD).map(({ line, number, day }) => `${number} in line ${line} as ${day}`);
  const more = days.length > told.length ? ` and ${days.length - told.length} more` : '';
  const columns = [...new Set(days.map(({ column }) => column))].join(', ');
  return days.length === 0
    ? []
    : [`Column ${columns}: its other cells are days, so bare numbers were read as such: ${told.join(', ')}${more}.`];
}

/** Nothing is taken for an encoding that was not named: what it looks like is said where it is refused. */
function encodedText(bytes: Buffer, name: string | undefined): Text {
  const encoding = name === undefined ? 'utf-8' : encodingNamed(name);
  const text = decoded(bytes, encoding);
  if (encoding === 'utf-8') return { text, how: '', notes: [] };
  return { text, how: ` ${encoding}`, notes: [`Read as ${encodingInWords(encoding)}.`] };
}

/** A refusal of what is not UTF-8, with what it looks like instead. */
export function withLikelyEncoding(error: unknown, file: string, workingFolder: string): unknown {
  if (
    !(error instanceof HeldbyError) ||
    error.code !== 'INPUT_FILE' ||
    !/not UTF-8/.test(error.message) ||
    file === '-'
  )
    return error;
  const bytes = readAll(resolve(workingFolder, file), file);
  if (guessEncoding(bytes) === 'utf-8') return error;
  // A list has as many faults of this one kind as it has names with such letters.
  const message = error.message.includes('\n') ? 'The file is not UTF-8 text.' : error.message;
  return new HeldbyError(error.code, message, likelyInWords(bytes), error.where);
}
