import type { Command } from 'commander';
import { isoDay } from '../../time/calendar.ts';
import { dateOptionsOf, type GivenDateOptions } from '../../time/given-options.ts';
import { readDate } from '../../time/read-date.ts';
import { lastDay } from '../../time/span.ts';
import type { CommonOptions, Context } from '../context.ts';
import { dateOptions } from '../date-options.ts';
import { common, example, optionsOf, printJson } from '../options.ts';
import { shown } from '../text.ts';

export function register(program: Command, context: Context): void {
  const command = program
    .command('when')
    .description('the span of days that a date expression means')
    .argument('<expression>', '1834, 16 May 1834, c. 1834, before 1840, 1834/1838, 1834~ …');
  common(dateOptions(command))
    .addHelpText('after', example('heldby when "8 Feb. 1839"', 'heldby when "2 Feb. 1708" --country scotland'))
    .action((expression: string) => {
      const options = optionsOf<CommonOptions & GivenDateOptions>(command);
      const reading = readDate(expression, dateOptionsOf(options));
      const day = (value: number) => (Number.isFinite(value) ? isoDay(value as typeof reading.span.from) : null);
      const answer = {
        text: reading.text,
        edtf: reading.edtf,
        earliest: day(reading.span.from),
        latest: day(lastDay(reading.span)),
        uncertain: reading.uncertain,
        approximate: reading.approximate,
        calendar: reading.calendar,
        words: reading.words,
      };
      if (options.json) printJson(context, answer);
      else {
        const flags = [...(answer.approximate ? ['approximate'] : []), ...(answer.uncertain ? ['uncertain'] : [])];
        context.out(
          [
            context.style.strong(shown(reading.words)),
            `first day  ${answer.earliest ?? 'open'}`,
            `last day   ${answer.latest ?? 'open'}`,
            `EDTF       ${answer.edtf}`,
            `calendar   ${answer.calendar}${flags.length > 0 ? `, ${flags.join(', ')}` : ''}`,
          ].join('\n'),
        );
      }
    });
}
