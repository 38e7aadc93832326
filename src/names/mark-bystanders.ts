import { findRankInText } from '../services/find-rank.ts';
import { type Ladder, shippedLadder, shippedServices } from '../services/ladder.ts';
import { ranksStyled } from '../services/read-rank.ts';
import { isSmall } from './characters.ts';
import { isKnownForename } from './forename-forms.ts';
import { freeRuns, type MarkWord, takeAs, wordsText } from './mark-text.ts';
import data from './mark-words.json' with { type: 'json' };
import { isInitials, isTitle } from './name.ts';

/** Words of a mark that look like a part of the name and are none. Each function marks the words it takes. */

const startsWith = (keys: readonly string[], phrase: string): boolean =>
  phrase.split(' ').every((word, at) => keys[at] === word);

/** "From Col. Holt to Lieut. Ferrand": who gave a thing away no longer holds it. */
export function takeGiver(words: readonly MarkWord[]): void {
  const keys = words.map(({ key }) => key);
  if (!data.giver.some((phrase) => startsWith(keys, phrase))) return;
  const to = words.findIndex(({ text }, at) => at > 1 && text === 'to');
  if (to > 0 && to < words.length - 1) takeAs('rest', words.slice(0, to + 1));
}

/**
 * What is said beside a name and is no part of one:
 * 1. `vacat`, a place left free, and `Officers’ Mess`; 2. another rank of several words (`Lieutenant de vaisseau`); 3. a general who is none
 * (`Surveyor General`); 4. whose wife, son or servant somebody is (`Mary Holt, wife of Capt. Holt`).
 */
export function takeBeside(words: readonly MarkWord[], ladders: readonly Ladder[]): void {
  takeAs(
    'rest',
    words.filter(({ text, key }) => data.blank.includes(key) && isSmall(text.charAt(0))),
  );
  const keys = words.map(({ key }) => key);
  for (const [at, { key }] of words.entries()) {
    const behind = keys.slice(at);
    const foreign = data['other ranks of several words'].find((phrase) => startsWith(behind, phrase));
    if (foreign !== undefined) takeAs('rest', words.slice(at, at + foreign.split(' ').length));
    if (GENERAL.has(key) && data['offices before general'].includes(keys[at - 1] ?? '')) takeOffice(words, at, ladders);
    if (/s['’]$/.test(words[at]?.text ?? '') && data.things.includes(keys[at + 1] ?? ''))
      takeAs('rest', words.slice(at, at + 2));
    if (at > 0 && data.kin.includes(key) && keys[at + 1] === 'of') {
      const before = words.slice(0, at);
      if (before.some((word) => word.key.length > 1 && !isTitle(word.text))) takeAs('rest', words.slice(at));
      return;
    }
  }
}

const GENERAL = new Set(['general', 'genl', 'gen']);

/** The office with the words before it, unless a ladder knows it as a rank. */
function takeOffice(words: readonly MarkWord[], at: number, ladders: readonly Ladder[]): void {
  const run = words.filter((word, place) => place <= at && word.segment === words[at]?.segment);
  if (run.some((_, start) => run.length - start > 1 && ranksStyled(wordsText(run.slice(start)), ladders).length > 0))
    return;
  let start = run.length - 2;
  while (start > 0 && BEFORE_OFFICE.has(run[start - 1]?.key ?? '')) start--;
  takeAs('rest', run.slice(start));
}

const BEFORE_OFFICE = new Set(['deputy', 'dep', 'depy', 'assistant', 'asst', 'assist', 'quarter', 'qr', 'pay', 'post']);

/** Behind the rank: `Surgeon to the Forces`; behind the name, `half pay`, `retired`, an appointment (`Capt. Holt Adj.`). */
export function takeBehindRank(words: readonly MarkWord[], ladders: readonly Ladder[]): void {
  const hasRank = words.some(({ part }) => part === 'rank');
  for (const [at, { part, key, text, segment }] of words.entries()) {
    const [next, third] = [words[at + 1], words[at + 2]];
    if (part === 'rank' && next?.segment === segment && next.text === 'to' && third?.key === 'the')
      takeAs(
        'rest',
        words.filter((word, place) => place > at && word.segment === segment),
      );
    if (part !== undefined || at === 0) continue;
    if (key === 'half' && next?.key === 'pay')
      takeAs('rest', words.slice(words[at - 1]?.text === 'on' ? at - 1 : at, at + 2));
    const before = words[at - 1];
    const isAbbreviation = text.endsWith('.') && key.length > 2 && ranksStyled(text, ladders).length > 0;
    if (hasRank && before?.part === undefined && before?.segment === segment && before.key.length > 1 && isAbbreviation)
      takeAs('rest', words.slice(at, at + 1));
    const isLast = next?.segment !== segment;
    if (isLast && (key === 'halfpay' || (key === 'hp' && isSmall(text.charAt(0))) || text === 'retired'))
      takeAs('rest', words.slice(at, at + 1));
  }
}

/**
 * A rank below the ladders (`Serjt. Major`, `Private`) or of another tongue (`Hauptmann`), where no ladder at hand has it.
 * It is no forename, and what it is equal to is not guessed.
 */
export function takeListedRank(words: readonly MarkWord[], ladders: readonly Ladder[]): void {
  for (const run of freeRuns(words)) {
    const isArticle = (at: number): boolean =>
      ARTICLES.has(run[at]?.text ?? '') || ARTICLES.has(run[at + 1]?.text ?? '');
    const start = run.findIndex(({ text }, at) => !isTitle(text) && !isArticle(at)); // "M. le Capitaine"
    const behind = run.slice(Math.max(start, 0));
    const rank = behind.slice(0, listedLength(behind));
    if (rank.length === 0 || (ladders.length > 0 && ranksStyled(wordsText(rank), ladders).length > 0)) continue;
    if (findRankInText(wordsText(run), ladders)?.start === 0) continue; // "Master Commandant"
    takeAs('title', run.slice(0, start));
    takeAs('rest', rank);
  }
}

const ARTICLES = new Set(['le', 'der']);

/** Words before and behind such a rank that belong to it: "Colour Serjt.", "Serjt. Major". */
function listedLength(run: readonly MarkWord[]): number {
  let at = 0;
  while (at < 2 && data['before other ranks'].includes(run[at]?.key ?? '')) at++;
  if (!data['other ranks'].includes(run[at]?.key ?? '')) return 0;
  return data['behind other ranks'].includes(run[at + 1]?.key ?? '') ? at + 2 : at + 1;
}

const MOST_WORDS = 4;

/** The rank of a service of which nothing is recorded: before the name (`Canon Holt`), or alone behind it (`…, Governor`). */
export function takeForeignRank(words: readonly MarkWord[]): void {
  const runs = freeRuns(words);
  for (const run of runs) {
    const start = run.findIndex(({ text }) => !isTitle(text));
    const behind = run.slice(Math.max(start, 0), MOST_WORDS + Math.max(start, 0));
    const [first] = behind;
    if (first === undefined || first.key.length < 3 || isInitials(first.text) || isKnownForename(first.key)) continue;
    const ladders = shippedServices().flatMap((service) => shippedLadder(service) ?? []);
    const text = wordsText(behind);
    // A rank is found before a name only: behind the name of the mark it may stand alone.
    const found = findRankInText(run === runs[0] ? text : `${text} Holt`, ladders);
    if (found?.start !== 0) continue;
    takeAs('title', run.slice(0, start));
    takeAs(
      'rest',
      behind.filter((_, at) => wordsText(behind.slice(0, at + 1)).length <= found.end + 1),
    );
  }
}
