import { createHash } from 'node:crypto';

/** Names that some systems keep for devices, whatever comes behind a point. */
const DEVICES = /^(?:con|prn|aux|nul|com\d|lpt\d|index|conin\$|conout\$)(?:\.|$)/i;
const MOST_SIGNS = 60;
const DIGITS = 8;

/** The file that tells of all lots in one form. No lot has such a name. */
export const indexName = (ending: string): string => `index.${ending}`;

export const isIndex = (name: string): boolean => /^index\.[^.]+$/.test(name);

/**
 * A file name for each reference, without folder and ending. Letters, figures and `-_.` stay; whatever else there is
 * becomes a hyphen. A name that lost anything by that, that a system keeps for itself, or that another reference has
 * already (capitals or not) ends with some digits of the reference's own SHA-256, so that it is the same every time.
 */
export function fileNames(references: readonly string[]): string[] {
  const plain = references.map(plainName);
  const counts = new Map<string, number>();
  for (const name of plain) counts.set(same(name), (counts.get(same(name)) ?? 0) + 1);
  return references.map((reference, place) => {
    const name = plain[place] ?? '';
    const exact = name !== '' && name === reference && (counts.get(same(name)) ?? 0) === 1 && !DEVICES.test(name);
    return exact ? name : `${name === '' ? 'lot' : name}-${digitsOf(reference)}`;
  });
}

const plainName = (reference: string): string =>
  [...reference.normalize('NFC').replaceAll(/[^\p{L}\p{N}_.-]+/gu, '-')]
    .slice(0, MOST_SIGNS)
    .join('')
    .replaceAll(/^[.-]+|[.-]+$/g, '');

/** Two names that are one on a disk that does not tell capitals, or composed letters, apart. */
const same = (name: string): string => name.normalize('NFKC').toLowerCase();

const digitsOf = (reference: string): string =>
  createHash('sha256').update(reference, 'utf8').digest('hex').slice(0, DIGITS);
