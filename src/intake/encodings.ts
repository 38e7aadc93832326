import { isUtf8 } from 'node:buffer';
import { HeldbyError } from '../errors.ts';

/** Ways of writing text in bytes, beside UTF-8, that lists from spreadsheets and old programs come in. */
export const ENCODINGS = ['utf-8', 'windows-1252', 'latin1', 'macintosh', 'utf-16le', 'utf-16be'] as const;
export type Encoding = (typeof ENCODINGS)[number];

/** In text of one byte a letter every second byte is 0 once it is in UTF-16; a sample tells. */
const SAMPLE_BYTES = 1 << 16;
const ZEROS_OF_UTF_16 = 0.2;

/**
 * How bytes are most likely written: 1. by the mark that may lead them; 2. UTF-16, where every second byte is often 0;
 * 3. UTF-8, where they are that; 4. Windows-1252, of which Latin-1 is a part: any other bytes are letters in it.
 */
export function guessEncoding(bytes: Buffer): Encoding {
  const marked = markedOrder(bytes);
  if (marked !== undefined) return marked;
  const sample = bytes.subarray(0, SAMPLE_BYTES);
  let [even, odd] = [0, 0];
  for (let at = 0; at < sample.length; at += 1) {
    if (sample[at] !== 0) continue;
    if (at % 2 === 0) even += 1;
    else odd += 1;
  }
  const many = (zeros: number): boolean => zeros > (sample.length / 2) * ZEROS_OF_UTF_16;
  if (many(odd) && !many(even)) return 'utf-16le';
  if (many(even) && !many(odd)) return 'utf-16be';
  return isUtf8(bytes) ? 'utf-8' : 'windows-1252';
}

function markedOrder([first, second]: Buffer): Encoding | undefined {
  if (first === 0xff && second === 0xfe) return 'utf-16le';
  return first === 0xfe && second === 0xff ? 'utf-16be' : undefined;
}

/** @throws HeldbyError USAGE for a name that is none of them. */
export function encodingNamed(name: string): Encoding {
  const plain = name.toLowerCase().replaceAll(/[\s_]/g, '-');
  const found = ENCODINGS.find((each) => each === plain || each.replaceAll('-', '') === plain.replaceAll('-', ''));
  const other: Readonly<Record<string, Encoding>> = {
    'iso-8859-1': 'latin1',
    cp1252: 'windows-1252',
    ansi: 'windows-1252',
    'utf-16': 'utf-16le',
  };
  const encoding = found ?? other[plain];
  if (encoding === undefined)
    throw new HeldbyError('USAGE', `There is no encoding "${name}" here.`, `One of: ${ENCODINGS.join(', ')}.`);
  return encoding;
}

/**
 * What stands for the bytes 80 to 9F (hexadecimal) in Windows-1252, where Latin-1 has nothing to print.
 * @see Encoding Standard (WHATWG), index windows-1252.
 */
const WINDOWS_SIGNS = '€\u0081‚ƒ„…†‡ˆ‰Š‹Œ\u008dŽ\u008f\u0090‘’“”•–—˜™š›œ\u009džŸ';

/**
 * The text of bytes, without the mark that may lead it.
 * @throws HeldbyError INPUT_FILE where bytes cannot be so written.
 */
export function decoded(bytes: Buffer, given: Encoding): string {
  // Of the two orders of UTF-16 the mark that leads the bytes knows better than whoever named it.
  const encoding = given.startsWith('utf-16') ? (markedOrder(bytes) ?? given) : given;
  // `latin1` to Node is the first 256 signs of Unicode, and its decoder takes Windows-1252 for the same.
  if (encoding === 'latin1') return bytes.toString('latin1');
  if (encoding === 'windows-1252')
    return bytes
      .toString('latin1')
      .replaceAll(/[\x80-\x9f]/g, (sign) => WINDOWS_SIGNS[sign.charCodeAt(0) - 0x80] ?? sign);
  try {
    return new TextDecoder(encoding, { fatal: true }).decode(bytes);
  } catch {
    const line = encoding === 'utf-8' ? firstBadLine(bytes) : undefined;
    throw new HeldbyError(
      'INPUT_FILE',
      `${line === undefined ? 'The file' : `Line ${line}`} is not ${encodingInWords(encoding)} text.`,
      likelyInWords(bytes),
      line === undefined ? undefined : `line ${line}`,
    );
  }
}

const SAMPLE_SIGNS = 60;

/** What bytes that are not UTF-8 look like, with a line by which to see whether that is so, and what to do. */
export function likelyInWords(bytes: Buffer): string {
  const likely = guessEncoding(bytes);
  if (likely === 'utf-8') return 'It is UTF-8: leave out --encoding.';
  const line = decoded(bytes, likely)
    .split(/[\r\n]+/)
    .find((each) => /[^\p{ASCII}]/u.test(each));
  const sample = line === undefined ? undefined : sampleOf(line, line.search(/[^\p{ASCII}]/u));
  return `Nothing was recorded. It looks like ${encodingInWords(likely)}${sample === undefined ? '' : `, and would read “${sample}”`}. If so, import it with --encoding ${likely}; else save it as UTF-8 (of a spreadsheet, as "CSV UTF-8").`;
}

function firstBadLine(bytes: Buffer): number {
  for (let line = 1, from = 0; ; line += 1) {
    const end = bytes.indexOf(10, from);
    if (!isUtf8(bytes.subarray(from, end < 0 ? bytes.length : end))) return line;
    if (end < 0) return line;
    from = end + 1;
  }
}

/** How the encodings are called in a sentence. */
export const encodingInWords = (encoding: Encoding): string =>
  ({
    'utf-8': 'UTF-8',
    'windows-1252': 'Windows-1252',
    latin1: 'Latin-1',
    macintosh: 'Mac Roman',
    'utf-16le': 'UTF-16',
    'utf-16be': 'UTF-16',
  })[encoding];

/** What stands about a sign, from the beginning of a word: nothing is to look garbled but what is. */
function sampleOf(line: string, sign: number): string {
  let at = Math.max(0, sign - SAMPLE_SIGNS / 2);
  while (at > 0 && at < sign && /[\p{L}\p{N}]/u.test(line.charAt(at - 1))) at += 1;
  return line.slice(at, at + SAMPLE_SIGNS).trim();
}
