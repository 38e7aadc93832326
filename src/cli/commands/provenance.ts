import type { Command } from 'commander';
import { HeldbyError } from '../../errors.ts';
import { aboutAnswer } from '../../inquiry/about.ts';
import {
  type ChainAnswer,
  MOST_CHAINS,
  type ProvenanceAnswer,
  provenanceOf,
  USUAL_CHAINS,
} from '../../inquiry/provenance.ts';
import { axisFor, bar, yearLine } from '../bars.ts';
import { actNumber, asking, type CommonOptions, type Context, widthOf } from '../context.ts';
import { common, example, optionsOf, printAnswer } from '../options.ts';
import { dayInWords, daysOfAnswer, spanInWords } from '../span-words.ts';
import { fitted, padded, percent, shown, wrapped } from '../text.ts';

export function register(program: Command, context: Context): void {
  const command = program
    .command('provenance')
    .description('which succession of holders explains all marks of an object, and when it was made by all of them')
    .argument('<object>', 'its reference, an id, a key, or words that pick it out')
    .option('--chains <number>', `how many successions to give (${USUAL_CHAINS} unless you say another)`);
  common(command)
    .addHelpText('after', example('heldby provenance 214', 'heldby provenance 214 --chains 10 --json'))
    .action((words: string) => {
      const options = optionsOf<CommonOptions & { readonly chains?: string }>(command);
      return asking(context, options, (db) => {
        const answer = provenanceOf(
          db,
          words,
          options.chains === undefined ? USUAL_CHAINS : chainsWanted(options.chains),
        );
        if (options.json) {
          const asOf = options.asOf === undefined ? undefined : actNumber(options.asOf);
          printAnswer(context, db, { ...answer, about: aboutAnswer(db, asOf) });
        } else {
          context.out(provenanceInLines(answer, context).join('\n'));
          for (const caution of answer.cautions)
            context.note(wrapped(`Caution: ${caution}`, widthOf(context)).join('\n'));
        }
      });
    });
}

/** As `--chains` says it. */
export function chainsWanted(text: string): number {
  const wanted = /^\d{1,4}$/.test(text) ? Number(text) : 0;
  if (wanted < 1 || wanted > MOST_CHAINS)
    throw new HeldbyError(
      'USAGE',
      `"${text}" is no number of successions.`,
      `Give a whole number up to ${MOST_CHAINS}, such as --chains 10.`,
    );
  return wanted;
}

function provenanceInLines(answer: ProvenanceAnswer, context: Context): string[] {
  const { strong, faint, doubtful, good } = context.style;
  const width = widthOf(context);
  const { object, made, chains, holders, leftOut } = answer;
  const lines = [
    strong(shown(`${object.ref}  ${object.title}  ${object.id}`)),
    ...wrapped(`made ${made.phrase}, by its features and all its marks`, width),
    ...wrapped(`95 %: ${spanInWords(made.span)}`, width - 2).map((line) => faint(`  ${line}`)),
  ];
  if (chains.length === 0) lines.push('', doubtful('No mark of it names anybody who can have held it.'));
  for (const [place, chain] of chains.entries()) {
    const share = percent(chain.share);
    lines.push('', `${strong(`Succession ${place + 1}`)}  ${chain.share >= 0.6 ? good(share) : share}`);
    lines.push(...chainInLines(chain, width, faint, doubtful));
  }
  if (holders.length > 0) lines.push('', strong('Holders, over all successions'));
  for (const { person, share, provisional, robust, wording } of holders) {
    const who = person === null ? 'somebody unrecorded' : `${shown(person.name)}  ${person.id}`;
    lines.push(`  ${percent(share)}  ${who}${provisional ? doubtful('  (provisional)') : ''}`);
    const stands = robust === true ? '; would stand without any one record' : '';
    if (wording !== null)
      lines.push(...wrapped(shown(`${wording}${stands}`), width - 11).map((line) => `           ${line}`));
  }
  for (const uncertain of answer.uncertainRoles) lines.push('', ...roleInLines(uncertain, width, strong));
  if (leftOut.candidates > 0)
    lines.push(
      ...wrapped(
        `${leftOut.candidates} less likely candidates were not taken one by one: together ${percent(leftOut.share).trim()} of all successions, at most ${percent(leftOut.atMost).trim()}.`,
        width - 2,
      ).map((line) => faint(`  ${line}`)),
    );
  lines.push('', strong('For print'), ...wrapped(shown(answer.text), width - 2).map((line) => `  ${line}`));
  if (chains.length > 0)
    lines.push(
      '',
      ...wrapped(
        `What to look up next: heldby lookups ${object.ref}; why one of them: heldby candidates MARK`,
        width,
      ).map(faint),
    );
  return lines;
}

/** What would be said if a mark had each of its roles for certain. */
function roleInLines(
  { mark, noHolder, roles }: ProvenanceAnswer['uncertainRoles'][number],
  width: number,
  strong: (text: string) => string,
): string[] {
  const told = roles.map(({ role, weight, made, holder, chainShare, holders }) => {
    const share = holders.find(({ person }) => person !== null && person.id === holder?.id)?.share;
    const who =
      holder === null || share === undefined
        ? 'names nobody recorded'
        : `${shown(holder.name)} ${percent(share).trim()}`;
    const chain = chainShare === null ? '' : `, likeliest succession ${percent(chainShare).trim()}`;
    return `${role} (${percent(weight).trim()}): ${who}${chain}, made ${made}`;
  });
  const none = noHolder > 0 ? `; it names no holder in ${percent(noHolder).trim()} of all successions` : '';
  return [
    ...wrapped(`How much hangs on what ${mark} is${none}; if for certain`, width).map(strong),
    ...told.flatMap((text) => wrapped(text, width - 2).map((line) => `  ${line}`)),
  ];
}

const LABEL_PART = 0.35;
const MOST_LABEL = 34;

/** A bar for each holding, gaps named between them, over one axis of years. */
function chainInLines(
  chain: ChainAnswer,
  width: number,
  faint: (text: string) => string,
  doubtful: (text: string) => string,
): string[] {
  const labelWidth = Math.min(MOST_LABEL, Math.floor(width * LABEL_PART));
  const axis = axisFor(
    chain.holders.flatMap((holder) => [daysOfAnswer(holder).from, daysOfAnswer(holder).until]),
    width - labelWidth - 4,
  );
  const lines: string[] = [];
  for (const { person, mark, link, kinships, nobodyFits, ...days } of chain.holders) {
    const gap = chain.gaps.find(({ before }) => before === mark);
    if (gap !== undefined) lines.push(doubtful(`  nobody known ${spanInWords(gap)}`));
    const name = `${mark} ${person === null ? (nobodyFits ? 'nobody fits' : 'unrecorded') : `${person.name} ${person.id}`}`;
    const label = padded(fitted(shown(name), labelWidth), labelWidth);
    lines.push(`  ${label}  ${axis === undefined ? '' : bar(axis, daysOfAnswer(days), undefined).trimEnd()}`);
    const joined = link === null || link === 'other' ? '' : `; ${joinedWords(link, kinships)}`;
    lines.push(faint(`  ${' '.repeat(labelWidth)}  ${dayInWords(days.from)} – ${dayInWords(days.to)}${joined}`));
  }
  if (axis !== undefined) lines.push(faint(`  ${' '.repeat(labelWidth)}  ${yearLine(axis)}`));
  return lines;
}

const joinedWords = (link: string, kinships: readonly string[]): string => {
  if (link === 'same') return 'the same person';
  return link === 'kin' ? `kin [${kinships.join(' ')}]` : 'of the same surname';
};
