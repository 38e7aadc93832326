import { hasLetter, isSmall } from './characters.ts';
import { compile } from './compiled-pattern.ts';
import { isKnownForename, knownForenames } from './forename-forms.ts';
import { letterCost } from './letter-rows.ts';
import { freeRuns, type MarkWord, takeAs, typedWords, wordsText } from './mark-text.ts';
import data from './mark-words.json' with { type: 'json' };
import { isInitials, isTitle, readName } from './name.ts';
import { patternFrom } from './pattern.ts';

/** The name of a mark in the signs of a transcription; undefined where there is none. */
export type MarkName = {
  readonly surname: string | undefined;
  readonly forenames: string | undefined;
  readonly until: number;
};

/**
 * Takes the name: the first words behind the rank, else the first free ones. It ends at "of" and "at", at "& Co.", behind a
 * possessive, and behind Esq. and the honours that follow it. Initials alone are forenames and the first letter of a surname.
 * @param rankUntil where the rank ends, 0 without one.
 */
export function takeName(words: readonly MarkWord[], rankUntil: number): MarkName {
  takeLead(words);
  const all = freeRuns(words).filter((run) => run.some((word) => word.text.includes('[') || hasLetter(word.text)));
  // A line of which nothing is left names nobody where another one does.
  const read = all.filter((run) => run.some(({ text }) => text !== '[---]'));
  const runs = read.some((run) => run.some(({ key }) => key.length > 1)) ? read : all;
  const run = runs.find(([first]) => (first?.from ?? 0) >= rankUntil) ?? runs[0];
  if (run === undefined) return { surname: undefined, forenames: undefined, until: rankUntil };
  const [head] = runs;
  if (head !== undefined && head !== run && isBeforeLoneRank(head, words) && !isLead(head))
    return partsOf(cut(head), wordsText(cut(head)));
  // "Ferrand, Capt. J. P.": lists have the rank between the two.
  if (head !== undefined && head !== run && isParted(head, words) && isSurnameAlone(head) && areForenames(run))
    return partsOf([...head, ...run], `${wordsText(head).replace(/\.$/, '')}, ${wordsText(run)}`);
  const next = runs[runs.indexOf(run) + 1];
  const end = cut(run);
  if (next === undefined || end.length < run.length || !goesOn(run, next)) return partsOf(end, wordsText(end));
  const both = [...run, ...cut(next)];
  // Forenames on a line of their own are followed by the surname, and any comma would turn them round.
  return partsOf(both, areForenames(run) ? `${wordsText(run)} ${wordsText(cut(next))}` : wordsText(both));
}

/** "The property of" and the like. */
function takeLead(words: readonly MarkWord[]): void {
  for (const run of freeRuns(words)) {
    const keys = run.map((word) => word.key);
    const lead = data.lead
      .map((phrase) => phrase.split(' '))
      .filter((phrase) => phrase.length < run.length && phrase.every((word, at) => keys[at] === word))
      .sort((a, b) => b.length - a.length)[0];
    if (lead !== undefined) takeAs('rest', run.slice(0, lead.length));
  }
}

export const POSSESSIVE = /[^\s.'’]['’]s$/i;
const ESQUIRE = /^esq/;

/** "J. & M. Holt", "J. & M. H.", "J. & M. & R. Holt": several of one surname, of whom the first is read. */
function firstOfTwo(run: readonly MarkWord[]): readonly MarkWord[] {
  const sign = run.findIndex(({ text }) => ['&', 'and'].includes(text));
  const [before, behind] = [run.slice(0, sign), run.slice(sign + 1)];
  const areTwo = sign > 0 && behind.length > 1 && areForenames([...before, ...behind.slice(0, 1)]);
  return areTwo && !before.some(({ text }) => isTitle(text)) ? firstOfTwo([...before, ...behind.slice(1)]) : run;
}

/** What of a run can be the name. */
function cut(written: readonly MarkWord[]): readonly MarkWord[] {
  const run = firstOfTwo(written);
  const firm = run.findIndex(({ text }, at) => at > 0 && text === '&');
  const whence = run.findIndex(({ key }, at) => at > 0 && data.place.includes(key) && !isPeer(run[at - 1]));
  const owner = run.findIndex(({ text }) => POSSESSIVE.test(text));
  const esquire = run.findIndex(({ key }, at) => at > 0 && ESQUIRE.test(key));
  const behindHonours =
    esquire < 0 ? -1 : run.findIndex((word, at) => at > esquire && !isBeside(word, run.slice(0, at)));
  const isSurname = ({ text, key }: MarkWord): boolean => key.length > 1 && !isInitials(text) && !isKnownForename(key);
  const another = run.findIndex(
    ({ text, key }, at) =>
      at > 0 &&
      (data.duty.includes(key) ||
        (data['ends name anyhow'].includes(key) && run.slice(0, at).some(isSurname)) ||
        (isSmall(text.charAt(0)) && data['ends name'].includes(key))),
  );
  const behindSurname = run.findIndex(
    ({ key }, at) =>
      data.work.includes(key) ||
      (key === 'me' && data.work.includes(run[at + 1]?.key ?? '')) ||
      (data.firm.includes(key) && run.slice(0, at).some(isSurname)),
  );
  const thing = run.findIndex(
    ({ key }, at) => ['his', 'her'].includes(key) && data.things.includes(run[at + 1]?.key ?? ''),
  );
  const ends = [behindSurname, thing, firm, whence, another, owner < 0 ? -1 : owner + 1, behindHonours].filter(
    (at) => at > 0,
  );
  return run.slice(0, Math.min(run.length, ...ends));
}

const isPeer = (word: MarkWord | undefined): boolean =>
  word !== undefined && readName(`${word.text} of Ferrand`).titles.some((title) => title.endsWith(' of'));

/** Whether a word behind a name is an honour or a suffix of it. */
function isBeside(word: MarkWord, before: readonly MarkWord[]): boolean {
  const text = word.text.replace(/[:;]$/, '');
  const name = readName(`${wordsText(before)} ${text}`);
  return name.titles.includes(text) || name.suffix === text;
}

const areForenames = (words: readonly MarkWord[]): boolean =>
  words.every(({ text, key }) => isInitials(text) || isKnownForename(key));

/** `Ferrand`, `Mac Ivor`, `de la Tour`. */
function isSurnameAlone(words: readonly MarkWord[]): boolean {
  if (words.length === 1) return !areForenames(words);
  const { forenames, titles, suffix } = readName(wordsText(words));
  return forenames.length === 0 && titles.length === 0 && suffix === undefined;
}

/** "Mr. Ferrand, Writer, Bengal": the rank between two commas belongs to the name before it. */
function isBeforeLoneRank(run: readonly MarkWord[], words: readonly MarkWord[]): boolean {
  const ranks = words.filter(({ part }) => part === 'rank');
  const [first] = ranks;
  const segment = words.filter((word) => word.segment === first?.segment);
  const last = run.at(-1);
  return (
    last !== undefined &&
    first !== undefined &&
    segment.length === ranks.length &&
    words.indexOf(last) + 1 === words.indexOf(first)
  );
}

const isLead = (run: readonly MarkWord[]): boolean => data.lead.includes(run.map(({ key }) => key).join(' '));

/** Whether a comma, the end of a line or a point stands between these words and a rank behind them. */
function isParted(run: readonly MarkWord[], words: readonly MarkWord[]): boolean {
  const last = run.at(-1);
  const next = last && words[words.indexOf(last) + 1];
  return next?.part === 'rank' && (next.segment !== last?.segment || (last?.text.endsWith('.') ?? false));
}

/** Whether the name goes on in the next segment: "Julian Peter / Ferrand", "Ferrand, Julian Peter", "J. Ferrand, K.C.B." */
function goesOn(run: readonly MarkWord[], next: readonly MarkWord[]): boolean {
  if (areForenames(run) && !areForenames(next)) return next.length <= 2 && next[0]?.onNewLine === true;
  if (isSurnameAlone(run) && areForenames(next)) return true;
  return next.every((word) => isBeside(word, run));
}

function partsOf(words: readonly MarkWord[], text: string): MarkName {
  const until = words.at(-1)?.until ?? 0;
  const letters = words.filter(({ text }) => isInitials(text));
  if (letters.length === words.length && letters.map(({ key }) => key).join('').length > 1)
    return monogram(words, until);
  const name = readName(text.replace(POSSESSIVE, (end) => end.charAt(0)));
  const surname = lastStretch(words, name.surname.split(' '));
  if (words.every((word) => isTitle(word.text)) && words.at(-1)?.text.endsWith('.')) {
    takeAs('title', words); // "Bp. of Oakhaven"
    return { surname: undefined, forenames: undefined, until };
  }
  const rest = words.filter((word) => !surname.includes(word));
  const titles = rest.filter(({ text }) =>
    name.titles.some((title) => title.split(' ').includes(text.replace(/[:;]$/, ''))),
  );
  const suffix = rest.filter(({ text }) => text === name.suffix || name.suffix?.split(' ').includes(text));
  const forenames = rest.filter((word) => !titles.includes(word) && !suffix.includes(word));
  takeAs('surname', surname);
  takeAs('title', titles);
  takeAs('suffix', suffix);
  takeAs('forenames', forenames);
  const unlike = forenames.filter(isUnlikeForename);
  takeAs('rest', unlike);
  // a run says nothing of forenames
  const known = forenames.filter((word) => word.typed !== '[---]' && !unlike.includes(word));
  return {
    surname: surname.some(({ key }) => key !== '') ? firstLetterOnly(withoutEnd(typedWords(surname))) : undefined,
    forenames: known.length > 0 ? typedWords(known) : undefined,
    until,
  };
}

/** "O'D.", "McT.": a prefix and the first letter of what follows it. */
const firstLetterOnly = (surname: string): string =>
  surname.replace(/^((?:O['’]|D['’]|M['’]|Mc|Mac|Fitz) ?[A-Z])\.?$/, '$1[---]');

/** Without a possessive s, and without the point at the end of a line. */
const withoutEnd = (typed: string): string =>
  typed.replace(POSSESSIVE, (end) => end.charAt(0)).replace(/(?<=[^\s\d.'’-]{3})\.$/, '');

/** Whether a damaged word can be no forename that is known, and so is a title, or a rank, that cannot be read. */
function isUnlikeForename({ typed, key }: MarkWord): boolean {
  const pattern = patternFrom(typed);
  const seen = pattern.some((unit) => unit.kind === 'letter');
  if (key.length < 2 || !seen || pattern.every((unit) => unit.kind === 'letter' || unit.kind === 'separator'))
    return false;
  return !knownForenames().some((name) => letterCost(compile(pattern), name, 0) === 0);
}

/** The last words that read like these. */
function lastStretch(words: readonly MarkWord[], wanted: readonly string[]): readonly MarkWord[] {
  const isSame = (word: MarkWord | undefined, text: string | undefined): boolean =>
    word !== undefined &&
    text !== undefined &&
    (word.text === text || word.text.replace(POSSESSIVE, (end) => end.charAt(0)) === text);
  for (let start = words.length - wanted.length; start >= 0; start--)
    if (wanted.every((text, at) => isSame(words[start + at], text))) return words.slice(start, start + wanted.length);
  return words.filter((word) => wanted.some((text) => isSame(word, text)));
}

/** "J.P.F.": forenames, and a surname of which the first letter is read. */
function monogram(words: readonly MarkWord[], until: number): MarkName {
  const letters = words
    .map(({ typed }) => typed)
    .join('')
    .replace(/[.\s]/g, '');
  const chars = letters.match(/_?[^_]/g) ?? [];
  takeAs('surname', words.slice(-1));
  takeAs('forenames', words.slice(0, -1));
  return {
    surname: `${chars.at(-1) ?? ''}[---]`,
    forenames: chars
      .slice(0, -1)
      .map((char) => `${char}.`)
      .join(' '),
    until,
  };
}
