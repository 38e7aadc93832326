import type { Context } from '../context.ts';
import { widthOf } from '../context.ts';
import { failureText } from '../failures.ts';
import { shown } from '../text.ts';
import type { Outcome, Session } from './take-session.ts';
import { doubtsInLines, headingInWords, takenInLines, understood } from './take-words.ts';

/** Asks for one line; undefined when there are no more. */
export type Ask = (prompt: string) => Promise<string | undefined>;

/**
 * Takes lines down in conversation: what holds stands in the prompt, each line is acknowledged, and one in which
 * something looks wrong is kept, dropped, or typed again.
 */
export async function converse(session: Session, context: Context, ask: Ask, notation: string): Promise<void> {
  const { edition } = session;
  const last = session.goOn();
  context.out(
    `${shown(edition.series)} ${shown(edition.label)}, as at ${shown(edition.asAt)}  ${edition.id}\n${
      last === undefined ? 'Nothing is taken down yet.' : `The last line taken: ${last.id}  ${shown(understood(last))}`
    }\nType lines as the page prints them; :help shows what is shorter, :end ends.`,
  );
  let count = 0;
  const nobodys = new Set<string>();
  const told = (outcome: Outcome): void => {
    tell(outcome, session, context);
    if (outcome.kind === 'recorded') count += 1;
    if (outcome.kind === 'recorded' && outcome.answer.person === null) nobodys.add(outcome.answer.id);
    if (outcome.kind === 'undone') count -= 1;
    if (outcome.kind === 'undone') nobodys.delete(outcome.id);
  };
  let waiting: string | undefined;
  for (;;) {
    const line: string | undefined = waiting ?? (await ask(`${headingInWords(session.standing)} > `));
    waiting = undefined;
    if (line === undefined) break;
    const outcome = session.take(line);
    if (outcome.kind === 'command') {
      if (/^(?:end|quit|q)$/i.test(outcome.words)) break;
      context.out(
        outcome.words === 'help' ? notation : `There is no :${shown(outcome.words)}. There are :undo, :help and :end.`,
      );
    } else if (outcome.kind === 'held') {
      const answer = await decide(line, outcome, context, ask);
      if (answer === 'end') break;
      if (answer === 'keep') told(session.take(line, true));
      else if (answer === 'leave out') context.out('Left out.');
      else waiting = answer.instead;
    } else told(outcome);
  }
  context.out(`${count} ${count === 1 ? 'line' : 'lines'} taken down. Go on with: heldby entry take ${edition.id}`);
  if (nobodys.size > 0)
    context.out(`${nobodys.size} of them nobody’s yet: heldby careers puts them together into people.`);
}

/** What becomes of a line in which something looks wrong. */
async function decide(
  line: string,
  { answer }: Outcome & { readonly kind: 'recorded' | 'known' | 'held' },
  context: Context,
  ask: Ask,
): Promise<'keep' | 'leave out' | 'end' | { readonly instead: string }> {
  const whose = answer.person === null ? '' : `, for ${answer.person.name} ${answer.person.id}`;
  context.out(
    [`${shown(understood(answer))}${shown(whose)}`, ...doubtsInLines(answer, context.style, widthOf(context))].join(
      '\n',
    ),
  );
  const another = answer.person !== null || answer.doubts.some(({ about }) => about === 'twice');
  const reply = await ask(
    `Keep it all the same? y, n${another ? ', + another man of the name' : ''}, or the line again: `,
  );
  if (reply === undefined) return 'end';
  if (/^n?(?:o)?$/i.test(reply.trim())) return 'leave out';
  if (reply.trim() === '+') return { instead: `${line.replace(/\s*!\s*$/, '')} +` };
  return /^y(?:es)?$/i.test(reply.trim()) ? 'keep' : { instead: reply };
}

function tell(outcome: Outcome, session: Session, context: Context): void {
  switch (outcome.kind) {
    case 'recorded':
    case 'known':
      context.out(takenInLines(outcome.answer, session.edition.label, context.style, widthOf(context)).join('\n'));
      break;
    case 'refused':
      context.out(context.style.bad(failureText(outcome.error, false).replace(/^heldby: /, '')));
      break;
    case 'undone':
      context.out(`Took back ${outcome.id}`);
      break;
    case 'heading': {
      const doubts = doubtsInLines(outcome, context.style, widthOf(context));
      if (doubts.length > 0) context.out(doubts.join('\n'));
      break;
    }
    default:
      break;
  }
}
