import type { Command } from 'commander';
import { HeldbyError } from '../../errors.ts';
import { type ClueAnswer, type CluesAnswer, cluesIn } from '../../inquiry/clues.ts';
import { withKeys } from '../../inquiry/keys.ts';
import { parseId } from '../../ledger/kinds.ts';
import { asking, type CommonOptions, type Context, widthOf } from '../context.ts';
import { forceInWords } from '../force-words.ts';
import { common, example, optionsOf, printJson } from '../options.ts';
import { spanInWords } from '../span-words.ts';
import { shown, wrapped } from '../text.ts';

export function register(program: Command, context: Context): void {
  const command = program
    .command('clues')
    .description('datable wordings in a text or a mark: where they stand, their window, its source and how hard it is')
    .argument(
      '<text-or-mark>',
      'a mark of the ledger (its id, key or text), or any words; a ledger is not needed for words',
    );
  common(command)
    .addHelpText(
      'after',
      example('heldby clues m1', 'heldby clues "R.M.S. Cormorant, via Suez Canal. Not wanted on voyage"'),
    )
    .action(async (words: string) => {
      const options = optionsOf<CommonOptions>(command);
      const answer = await answered(context, options, words);
      if (options.json) printJson(context, answer);
      else {
        context.out(cluesInLines(answer, context).join('\n'));
        if (answer.clues.length > 0)
          for (const caution of answer.cautions)
            context.note(wrapped(`Caution: ${caution}`, widthOf(context)).join('\n'));
      }
    });
}

/** Words are searched without a ledger where there is none; then only the shelf that ships is known. */
async function answered(context: Context, options: CommonOptions, words: string): Promise<CluesAnswer> {
  try {
    return await asking(context, options, (db) => withKeys(db, cluesIn(db, words)));
  } catch (error) {
    const none = error instanceof HeldbyError && error.code === 'NO_LEDGER';
    if (!none || options.ledger !== undefined || parseId(words.trim()) !== undefined) throw error;
    return cluesIn(undefined, words);
  }
}

function cluesInLines(answer: CluesAnswer, context: Context): string[] {
  const { strong, bad } = context.style;
  const width = widthOf(context);
  const { mark, text, clues, firm, contradictory } = answer;
  const lines = wrapped(`“${shown(text)}”${mark === null ? '' : `  ${mark.id}  (${mark.role})`}`, width).map(strong);
  if (clues.length === 0) return [...lines, '', 'No datable wording of the shelf is found in it.'];
  for (const clue of clues) lines.push('', ...clueInLines(clue, context));
  lines.push('');
  if (contradictory)
    lines.push(bad('Their firm days leave none in common: one of them is misread, or is another thing.'));
  else if (firm !== null) lines.push(`together, what is firm: ${spanInWords(firm)}`);
  return lines;
}

function clueInLines(clue: ClueAnswer, context: Context): string[] {
  const { strong, faint, good, doubtful } = context.style;
  const width = widthOf(context);
  const flags = [
    ...(clue.confirmed === null ? [] : [good(`confirmed, ${clue.confirmed}`)]),
    ...(clue.unsure ? [doubtful('on an unsure or restored letter')] : []),
  ];
  const place = `characters ${clue.at.from + 1}–${clue.at.until}`;
  const window = clue.expression === null ? 'without a date of its own' : spanInWords(clue.window);
  const about = [
    `confidence ${clue.confidence}`,
    ...(clue.source === '' ? [] : [clue.source]),
    `dates the ${clue.dates}`,
  ];
  return [
    `“${strong(shown(clue.words))}”  ${faint(place)}${flags.length === 0 ? '' : `  ${flags.join(', ')}`}`,
    ...wrapped(`${clue.fact}: ${shown(clue.text)}`, width - 4).map((line) => `    ${line}`),
    ...wrapped(`${window}; ${forceInWords(clue.force, clue.weight)}`, width - 4).map((line) => `    ${line}`),
    ...wrapped(shown(about.join('; ')), width - 4).map((line) => faint(`    ${line}`)),
    ...(clue.note === '' ? [] : wrapped(shown(clue.note), width - 4).map((line) => faint(`    ${line}`))),
  ];
}
