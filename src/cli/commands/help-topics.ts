import type { Command } from 'commander';
import { HeldbyError } from '../../errors.ts';
import type { Context } from '../context.ts';
import { fitHelp, helpWidthOf } from '../fit-help.ts';
import { nearestOf } from '../nearest.ts';
import { TOPICS } from './help-texts.ts';

/** `help`: the commands, one of them, or a topic that concerns several. */
export function register(program: Command, context: Context, commands: readonly string[] = []): void {
  const topics = Object.entries(TOPICS).map(([name, { about }]) => `  ${name.padEnd(10)} ${about}`);
  program.helpCommand(false);
  program
    .command('help')
    .description(`what a command does, or a topic: ${Object.keys(TOPICS).join(', ')}`)
    .argument('[words...]', 'a command or a topic; without one, everything')
    .option('--man', 'everything as a manual page, for man -l - or a folder of them')
    .addHelpText(
      'after',
      `\nTopics:\n${topics.join('\n')}\n\nExample:\n  heldby help dates\n  heldby help entry take\n  heldby help --man | man -l -`,
    )
    .action(async (words: string[], { man }: { readonly man?: true }) => {
      const [first, ...rest] = words;
      const topic = TOPICS[first ?? ''];
      if (man === true) {
        if (first !== undefined)
          throw new HeldbyError('USAGE', 'The manual page is about everything.', 'Give heldby help --man alone.');
        context.out((await import('../man-page.ts')).manPage(program, TOPICS));
      } else if (first === undefined)
        context.out(`${program.helpInformation()}\nTopics (heldby help TOPIC):\n${topics.join('\n')}`);
      else if (topic !== undefined) context.out(fitHelp(topic.text, helpWidthOf(context)));
      else tellCommand(program, first, rest, [...commands, ...Object.keys(TOPICS)]);
    });
}

function tellCommand(program: Command, first: string, rest: readonly string[], known: readonly string[]): void {
  let command: Command = program;
  for (const word of [first, ...rest]) {
    const next = command.commands.find((each) => each.name() === word);
    if (next === undefined) {
      const names = command === program ? known : command.commands.map((each) => each.name());
      const near = nearestOf(word, names);
      throw new HeldbyError(
        'USAGE',
        `There is no ${command === program ? 'command or topic' : `${command.name()} command`} "${word}".`,
        near === undefined ? `One of: ${names.join(', ')}.` : `Did you mean ${near}?`,
      );
    }
    command = next;
  }
  command.outputHelp();
}
