import type { Command } from 'commander';
import { HeldbyError } from '../../errors.ts';
import type { StatusAnswer } from '../../inquiry/status.ts';
import { actNumber, asking, type CommonOptions, type Context, widthOf } from '../context.ts';
import { printAnswer } from '../options.ts';
import { shown, table, wrapped } from '../text.ts';

/** `heldby` alone: where the ledger stands, and what could be done next. */
export function register(program: Command, context: Context, commands: readonly string[] = []): void {
  program.action(async () => {
    const options = program.opts<CommonOptions>();
    const { statusOf } = await import('../../inquiry/status.ts');
    try {
      await asking(context, options, (db) => {
        const answer = statusOf(db, commands, options.asOf === undefined ? undefined : actNumber(options.asOf));
        if (options.json) printAnswer(context, db, { ledger: db.name, ...answer });
        else context.out(inLines(answer, db.name, context).join('\n'));
      });
    } catch (error) {
      const nowhere =
        error instanceof HeldbyError &&
        error.code === 'NO_LEDGER' &&
        options.ledger === undefined &&
        !context.environment['HELDBY_LEDGER'];
      if (!nowhere) throw error;
      // Nothing was asked for, and there is nothing to tell of: the words themselves lack something.
      throw new HeldbyError(
        'USAGE',
        'There is no ledger here or in a folder above.',
        'Begin with: heldby init  (then heldby --help, or heldby help dates)',
      );
    }
  });
}

function inLines({ counts, unplaced, lastAct, next }: StatusAnswer, file: string, context: Context): string[] {
  const { strong, faint } = context.style;
  const width = widthOf(context);
  const said = counts.map(({ count, plural, kind }) => `${count} ${count === 1 ? (SINGULAR[kind] ?? kind) : plural}`);
  const lines = wrapped(
    `${shown(file)}: ${said.join(', ') || 'nothing is recorded yet'}${unplaced !== null && unplaced > 0 ? `; ${unplaced} of the entries nobody’s yet` : ''}.`,
    width,
  );
  if (lastAct !== null)
    lines.push(
      ...wrapped(
        `Last: act ${lastAct.id}, ${lastAct.at.slice(0, 16).replace('T', ' ')}, ${shown(lastAct.who)}: ${shown(lastAct.command.length > width ? `${lastAct.command.slice(0, width)}…` : lastAct.command)}`,
        width,
      ).map(faint),
    );
  if (next.length > 0) {
    lines.push('', strong('What could be done next'));
    const narrow = next.some(({ command, why }) => command.length + why.length + 4 > width);
    lines.push(
      ...(narrow
        ? next.flatMap(({ command, why }) => [
            `  ${shown(command)}`,
            ...wrapped(shown(why), width - 6).map((line) => faint(`      ${line}`)),
          ])
        : table(next.map(({ command, why }) => [shown(command), faint(shown(why))])).map((line) => `  ${line}`)),
    );
  }
  lines.push(
    '',
    ...wrapped('heldby --help: every command. heldby help dates | readings | evidence | shares | formats', width).map(
      faint,
    ),
  );
  return lines;
}

const SINGULAR: Readonly<Record<string, string>> = {
  setAside: 'record set aside',
  same: 'finding that two are one',
  differ: 'finding that two are not one',
  fact: 'fact of the shelf',
  condition: 'condition of service',
  photo: 'photograph',
};
