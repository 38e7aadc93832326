import type { Context } from '../context.ts';
import { widthOf } from '../context.ts';
import { failureText } from '../failures.ts';
import { shown } from '../text.ts';
import { askFields, type Filled } from './take-fields.ts';
import type { Ask, TakeOffers } from './take-offers.ts';
import type { Outcome, Session } from './take-session.ts';
import { doubtsInLines, headingInWords, takenInLines, understood } from './take-words.ts';

/**
 * Takes lines down in conversation: what holds stands in the prompt, each line is acknowledged, and one in which
 * something looks wrong is kept, dropped, or typed again.
 */
export async function converse(
  session: Session,
  context: Context,
  ask: Ask,
  { notation, offers, fields }: { readonly notation: string; readonly offers: TakeOffers; readonly fields: boolean },
): Promise<void> {
  const { edition } = session;
  const last = session.goOn();
  context.out(
    `${shown(edition.series)} ${shown(edition.label)}, as at ${shown(edition.asAt)}  ${edition.id}\n${
      last === undefined ? 'Nothing is taken down yet.' : `The last line taken: ${last.id}  ${shown(understood(last))}`
    }\n${fields ? IN_FIELDS : IN_LINES}`,
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
  let byField = fields;
  /** What was typed into the fields of an entry that was refused. */
  let again: Filled = {};
  const next = async (): Promise<string | undefined> => {
    if (!byField) return ask(`${headingInWords(session.standing)} > `, offers.line);
    const asked = await askFields(session.standing, again, offers, ask);
    again = asked?.filled ?? {};
    return asked?.line;
  };
  for (;;) {
    const line: string | undefined = waiting ?? (await next());
    waiting = undefined;
    if (line === undefined) break;
    const outcome = session.take(line);
    if (outcome.kind !== 'refused') again = {};
    if (outcome.kind === 'command') {
      if (/^(?:end|quit|q)$/i.test(outcome.words)) break;
      if (/^(?:fields|lines)$/i.test(outcome.words)) {
        byField = /^f/i.test(outcome.words);
        context.out(byField ? IN_FIELDS : IN_LINES);
      } else
        context.out(
          outcome.words === 'help'
            ? notation
            : `There is no :${shown(outcome.words)}. There are :undo, :fields, :lines, :help and :end.`,
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

const IN_LINES =
  'Type lines as the page prints them; TAB completes, :help shows what is shorter, :fields asks field by field, :end ends.';
const IN_FIELDS =
  'Field by field: return takes what stands in [ ], - is none, TAB completes; :lines for whole lines, :end ends.';

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
  if (/^(?:n|no|:undo)?$/i.test(reply.trim())) return 'leave out';
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
