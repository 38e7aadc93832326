import { HeldbyError } from '../errors.ts';
import { isKnownForename } from '../names/forename-forms.ts';
import words from '../names/mark-words.json' with { type: 'json' };
import { isInitials, isTitle, readName } from '../names/name.ts';
import { corpsKey } from '../services/corps-key.ts';
import { findRankInText } from '../services/find-rank.ts';
import { fold } from '../services/fold.ts';
import type { Ladder } from '../services/ladder.ts';
import { lettersApart } from '../services/letters-apart.ts';
import { readRank } from '../services/read-rank.ts';
import { monthWords } from '../time/month-words.ts';
import type { Span } from '../time/span.ts';
import { capitalised } from './compact-line-capitals.ts';

/** What a line is read against. */
export type Known = {
  readonly ladder: Ladder;
  readonly asAt: Span;
  /** Wordings of corps that the ledger has, by their key. */
  readonly corps: ReadonlyMap<string, string>;
};

/**
 * A rank and nothing else, as it is to be recorded: the plural of a heading becomes the one that its lines hold.
 * Undefined where it is none, or so short that it is sooner an initial.
 * @throws HeldbyError RANK for one that has several meanings.
 */
export function rankAlone(part: string, { ladder, asAt }: Known): string | undefined {
  const letters = part.replaceAll(/[^\p{L}]/gu, '');
  if (letters.length < 2 || isInitials(part) || ladder.ranks.length === 0) return undefined;
  for (const text of [part, ...singulars(part)]) {
    const reading = readRank(text, ladder, { column: true, span: asAt });
    if (reading.kind === 'found') return withCapitals(text);
    if (reading.kind === 'ambiguous' && reading.decides === 'several')
      throw new HeldbyError(
        'RANK',
        `“${text}” names more than one rank.`,
        'An entry states one: type a line for each.',
        text,
      );
    if (reading.kind === 'ambiguous')
      throw new HeldbyError(
        'RANK',
        `“${text}” can mean ${reading.ranks.map(({ title }) => title).join(' or ')}.`,
        'Write the rank meant in full.',
        text,
      );
  }
  return undefined;
}

/** A rank as it is typed behind `^`: the most words that are one, so that a name may follow, else all of them. */
export function rankMarked(typed: string, { ladder, asAt }: Known): { rank: string; rest: string } {
  const words = typed.split(/\s+/);
  for (let length = words.length - 1; length > 0; length -= 1) {
    const rank = words.slice(0, length).join(' ');
    const isWhole =
      readRank(words.slice(0, length + 1).join(' '), ladder, { column: true, span: asAt }).kind === 'found';
    if (!isWhole && readRank(rank, ladder, { column: true, span: asAt }).kind === 'found')
      return { rank, rest: words.slice(length).join(' ') };
  }
  return { rank: typed, rest: '' };
}

/** `Captains`, `LIEUTS.`, `Lieuts.-Colonel`: without the s of one of its words. */
function singulars(part: string): string[] {
  const plain = part.replace(/:\s*$/, '');
  return [...plain.matchAll(/s(?=\.?(?:[\s-]|$))/gi)].map(
    ({ index }) => `${plain.slice(0, index)}${plain.slice(index + 1)}`,
  );
}

/** Typed in small letters only: the first of each word is a capital. */
const withCapitals = (text: string): string =>
  /\p{Lu}/u.test(text) ? text : text.replaceAll(/(?<![\p{L}\p{N}'’])\p{L}/gu, (letter) => letter.toUpperCase());

const KINDS_OF_CORPS: ReadonlySet<string> = new Set(words.corps);
/** Words that go before the kind of a corps, such as Royal, and tell it from a name. */
const BEFORE_KIND: ReadonlySet<string> = new Set(words['before corps']);
const ORDINAL = /^(?:\d+\/)?\d+(?:st|nd|rd|th|d)\.?$/i;
const CONTINUED = /[\s,(\-–—]*\b(?:continued|contd?|cont'd)\b[.)\]]*\s*$/i;
/** So many words of a corps may say neither its kind nor what goes before that. */
const MOST_TELLING_WORDS = 2;

const namesKind = (word: string): boolean =>
  corpsKey(word)
    .split(' ')
    .some((each) => KINDS_OF_CORPS.has(each));

/** `12th ult.`, `3rd May`: a number that counts days, not corps. */
const isBitOfDate = (text: string): boolean => {
  const word = /^\d+(?:st|nd|rd|th|d)?\s+(\p{L}+)\.?$/u.exec(text)?.[1]?.toLowerCase();
  return word !== undefined && (COUNTED.test(word) || monthWords().has(word));
};
const COUNTED = /^(?:ult|inst|prox)(?:imo|ant)?$/;

/**
 * A corps and nothing else: 1. one that the ledger has; 2. an ordinal with words behind it, up to one that names a kind
 * of corps if there is any; 3. a few words of which a later one names a kind of corps.
 */
export function corpsAlone(part: string, { corps, ladder }: Known): string | undefined {
  const text = part.replace(CONTINUED, '').trim();
  const key = corpsKey(text);
  if (key === '') return undefined;
  if (corps.has(key)) return asKnown(text, key, corps);
  const each = text.split(/\s+/);
  if (
    each.length < 2 ||
    /,/.test(text) ||
    isBitOfDate(text) ||
    each.some(isInitials) ||
    each.slice(1).some((word) => ORDINAL.test(word))
  )
    return undefined;
  if (ladder.ranks.length > 0 && findRankInText(`${text} `, [ladder]) !== undefined) return undefined;
  const lastKind = each.findLastIndex(namesKind);
  const telling = each.filter(
    (word, at) => at > 0 && !namesKind(word) && !BEFORE_KIND.has(fold(word).replaceAll(/[^a-z]/g, '')),
  );
  const endsWell = lastKind < 0 || lastKind === each.length - 1 || /^(?:of|or|\()/i.test(each[lastKind + 1] ?? '');
  const isNumbered = ORDINAL.test(each[0] ?? '') && /\p{L}/u.test(each.slice(1).join(''));
  return endsWell && telling.length <= MOST_TELLING_WORDS && (isNumbered || lastKind > 0) ? text : undefined;
}

/** The wording that the ledger has, where nothing but capitals and spelling was saved in typing. */
const asKnown = (typed: string, key: string, corps: Known['corps']): string =>
  /\p{Lu}/u.test(typed) ? typed : (corps.get(key) ?? typed);

/**
 * A corps as it is typed behind `@`: words, or beginnings of the words of one that the ledger has.
 * @throws HeldbyError AMBIGUOUS where they begin several.
 */
export function corpsMarked(typed: string, { corps }: Known): string {
  const text = typed.replace(CONTINUED, '').trim();
  const key = corpsKey(text);
  if (key === '')
    throw new HeldbyError('VALUE', 'Behind @ there is no corps.', 'Write @2nd Fencibles, or @- for none.', typed);
  if (corps.has(key)) return asKnown(text, key, corps);
  const begun = key.replaceAll(/(\d)(?=\p{L})/gu, '$1 ').split(' ');
  const fitting = [...corps].filter(([known]) => {
    const there = known.split(' ');
    return (
      begun.length <= there.length &&
      begun.every((word, at) => there[at]?.startsWith(word) && !isOtherNumber(word, there[at]))
    );
  });
  const [only, ...others] = fitting;
  if (only !== undefined && others.length === 0) return only[1];
  if (only !== undefined && !/\s/.test(text))
    throw new HeldbyError(
      'AMBIGUOUS',
      `“${text}” begins ${fitting.length} corps: ${fitting
        .slice(0, 4)
        .map(([, name]) => name)
        .join(', ')}.`,
      'Write more of it.',
      text,
    );
  return text;
}

/** `2` does not begin `21`. */
const isOtherNumber = (typed: string, known: string | undefined): boolean => /^\d+$/.test(typed) && typed !== known;

export type Taken = {
  readonly name: string;
  readonly rank: string | undefined;
  readonly rankIsBehind: boolean;
  readonly corps: string | undefined;
};

/** `hasRank`: a rank stands in the line already, or over it. `isBehindSurname`: the surname stands before a comma. */
export type Around = { readonly hasRank: boolean; readonly isBehindSurname: boolean };

/**
 * A rank and a corps that stand in one piece with a name: 1. a corps before or behind the name that the ledger has, or
 * that an ordinal begins; 2. a rank before the name; 3. one behind it, where it is abbreviated or no other rank is known.
 */
export function takeFromName(piece: string, known: Known, around: Around): Taken {
  const corps = takeCorps(piece, known);
  const rest = corps?.rest ?? piece;
  const before = known.ladder.ranks.length === 0 ? undefined : findRankInText(`${rest} `, [known.ladder]);
  if (before?.start === 0) {
    const end = endOfBeside(rest, before.end, known);
    const typed = rest.slice(0, end).trim();
    const rank = rankAlone(typed, known) ?? withCapitals(typed);
    return { name: rest.slice(end).trim(), rank, rankIsBehind: false, corps: corps?.corps };
  }
  const behind = rankBehind(rest, known, around);
  return { name: behind?.name ?? rest, rank: behind?.rank, rankIsBehind: true, corps: corps?.corps };
}

/** Behind `Lieut. and Adjt.`, where an appointment follows that is held beside the rank. */
function endOfBeside(text: string, end: number, { ladder }: Known): number {
  const link = /^\s*(?:and|&)\s+/i.exec(text.slice(end))?.[0].length;
  if (link === undefined) return end;
  const beside = findRankInText(`${text.slice(end + link)} `, [ladder]);
  return beside?.start === 0 ? end + link + beside.end : end;
}

const MOST_RANK_WORDS = 4;

function rankBehind(piece: string, known: Known, around: Around): { name: string; rank: string } | undefined {
  const each = piece.split(' ');
  for (let length = Math.min(MOST_RANK_WORDS, each.length - 1); length > 0; length -= 1) {
    const name = each.slice(0, -length).join(' ');
    const text = each.slice(-length).join(' ');
    const rank = around.isBehindSurname || hasSurname(name) ? rankAlone(text, known) : undefined;
    const isName = around.hasRank && /^\p{Lu}\p{Ll}+$/u.test(text) && readsInFull(text, known);
    if (rank !== undefined && !isName) return { name, rank };
  }
  return undefined;
}

const readsInFull = (text: string, { ladder }: Known): boolean =>
  ladder.ranks.some(({ rank }) => fold(rank.title) === fold(text));

function takeCorps(piece: string, { corps }: Known): { rest: string; corps: string } | undefined {
  const each = piece.split(' ');
  for (let length = each.length - 1; length > 0; length -= 1) {
    const behind = each.slice(-length).join(' ');
    const name = each.slice(0, -length).join(' ');
    const isNumbered = ORDINAL.test(each[each.length - length] ?? '') && length > 1 && !isBitOfDate(behind);
    if ((corps.has(corpsKey(behind)) || isNumbered) && hasSurname(name)) return { rest: name, corps: behind };
  }
  for (let length = each.length - 1; length > 0; length -= 1) {
    const before = each.slice(0, length).join(' ');
    const isNumbered = ORDINAL.test(each[0] ?? '') && length > 1 && namesKind(each[length - 1] ?? '');
    const isKnown = corps.has(corpsKey(before)) && (length > 1 || /\d/.test(before));
    if (isKnown || isNumbered) return { rest: each.slice(length).join(' '), corps: before };
  }
  return undefined;
}

/** Whether there is a word that a surname can be. */
export const hasSurname = (name: string): boolean => {
  const { surname } = readName(capitalised(name));
  return surname.replaceAll(/[^\p{L}]/gu, '').length > 1 && !isTitle(surname) && !isInitials(surname);
};

/**
 * A name as it is to be recorded. What is typed in small letters gets its capitals, initials typed together their points.
 * @throws HeldbyError VALUE for one that holds what is no name.
 */
export function nameTyped(pieces: readonly string[]): string {
  const joined = pieces.join(', ');
  const name = capitalised(joined);
  const plain = withoutBrackets(name);
  refuseBitOfDate(plain);
  const stray =
    strayPiece(pieces) ??
    withoutBrackets(joined)
      .split(/[\s,]+/)
      .find((word) => /\d/.test(word) && !ORDINAL.test(word));
  const month = /^\d{1,2}(\p{L}+)['’]?\d{2,4}$/u.exec(stray ?? '')?.[1];
  if (stray !== undefined && month !== undefined)
    throw new HeldbyError(
      'DATE',
      `“${stray}” is no date: there is no month “${month}”.`,
      'Write the month as a word, or as ja fe mr ap my jn jl au se oc no de.',
      stray,
    );
  if (stray !== undefined) throw notUnderstood(stray);
  const last = plain.split(/\s+/).at(-1) ?? '';
  if (plain.split(/\s+/).length > 2 && !plain.includes(',') && last.length > 4 && namesKind(last))
    throw new HeldbyError(
      'VALUE',
      `“${joined}” ends like a corps.`,
      'Write @ before a corps that is new here, or <…> round a name that is all name.',
      last,
    );
  if (!hasSurname(name))
    throw new HeldbyError(
      'VALUE',
      `“${joined}” has no surname.`,
      'Write forenames and surname, or surname, forenames.',
      joined,
    );
  return name;
}

const withoutBrackets = (name: string): string => name.replaceAll(/\([^()]*\)/g, ' ');

/**
 * What is left of a date that is not understood: a day without its year, a month misspelt, a day counted from another.
 * @throws HeldbyError DATE
 */
function refuseBitOfDate(plain: string): void {
  const [bit, word = ''] = /\d{1,2}(?:st|nd|rd|th|d)?\s+(\p{L}{3,9})\.?/u.exec(plain) ?? [];
  if (bit !== undefined && monthWords().has(word.toLowerCase()))
    throw new HeldbyError('DATE', `“${bit}” is no whole date.`, 'Write the year too; two figures will do.', bit);
  if (COUNTED.test(word.toLowerCase()))
    throw new HeldbyError('DATE', `“${bit}” is no whole date.`, 'Write day, month and year.', bit);
  if (bit !== undefined) {
    const month = [...monthWords().keys()].find(
      (each) => each.length > 2 && lettersApart(word.toLowerCase(), each) < 2,
    );
    throw new HeldbyError(
      'DATE',
      `“${bit}” is no date: there is no month “${word}”.`,
      month === undefined
        ? 'Write the month as a word; @ before a corps that is new here.'
        : `Did you mean ${bit.replace(word, month.charAt(0).toUpperCase() + month.slice(1))}?`,
      bit,
    );
  }
}

/** Between commas, what is neither surname, forenames, honour nor suffix. */
function strayPiece(pieces: readonly string[]): string | undefined {
  const [first = '', ...others] = pieces;
  const [forenames, ...beyond] = others.filter((piece) => !isBeside(piece));
  if (beyond[0] !== undefined) return beyond[0];
  if (forenames === undefined) return undefined;
  const opening = first.split(/\s+/);
  const isWhole = opening.length > 1 && (isInitials(opening[0] ?? '') || isKnownForename(fold(opening[0] ?? '')));
  const isCorpsLike = forenames.split(/\s+/).some((word) => BEFORE_KIND.has(fold(word)) && word.length > 3);
  return isWhole || isCorpsLike ? forenames : undefined;
}

const notUnderstood = (words: string) =>
  new HeldbyError(
    'VALUE',
    `“${words}” is not understood.`,
    'Write @ before a corps, ^ before a rank, p before a page, and // before a note.',
    words,
  );

/** An honour, title or suffix that stands by itself between commas. */
function isBeside(piece: string): boolean {
  const { forenames, surname } = readName(`Forename Surname, ${piece}`);
  return surname === 'Surname' && forenames.join() === 'Forename';
}
