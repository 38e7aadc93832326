import type { Command } from 'commander';
import { HeldbyError } from '../../errors.ts';
import { isoDay } from '../../time/calendar.ts';
import { readDate } from '../../time/read-date.ts';
import type { DateOptions } from '../../time/reading-options.ts';
import { lastDay } from '../../time/span.ts';
import type { CommonOptions, Context } from '../context.ts';
import { common, example, optionsOf, printJson } from '../options.ts';
import { shown } from '../text.ts';

type WhenOptions = CommonOptions & {
  readonly calendar?: string;
  readonly country?: string;
  readonly yearBegins?: string;
  readonly reference?: string;
};

export function register(program: Command, context: Context): void {
  const command = program
    .command('when')
    .description('the span of days that a date expression means')
    .argument('<expression>', '1834, 16 May 1834, c. 1834, before 1840, 1834/1838, 1834~ …')
    .option('--calendar <calendar>', 'gregorian or julian, for a written-out day that does not say')
    .option('--country <country>', 'where it was written: its calendar, first day of the year, order of day and month')
    .option('--year-begins <day>', '"1 January" or "25 March", where the source counts its years so')
    .option('--reference <date>', 'the date of the paper, for ult., inst. and prox.');
  common(command)
    .addHelpText('after', example('heldby when "8 Feb. 1839"', 'heldby when "2 Feb. 1708" --country scotland'))
    .action((expression: string) => {
      const options = optionsOf<WhenOptions>(command);
      const reading = readDate(expression, {
        ...(options.calendar === undefined ? {} : { calendar: calendarNamed(options.calendar) }),
        ...(options.country === undefined ? {} : { country: options.country }),
        ...(options.yearBegins === undefined ? {} : { yearBegins: firstOfYear(options.yearBegins) }),
        ...(options.reference === undefined ? {} : { reference: readDate(options.reference).span.from }),
      });
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

function calendarNamed(text: string): 'gregorian' | 'julian' {
  if (text === 'gregorian' || text === 'julian') return text;
  throw new HeldbyError(
    'USAGE',
    `There is no calendar "${text}" here.`,
    'Say --calendar gregorian or --calendar julian.',
  );
}

function firstOfYear(text: string): NonNullable<DateOptions['yearBegins']> {
  if (text === '1 January' || text === '25 March') return text;
  throw new HeldbyError(
    'USAGE',
    `No year is known here that begins on ${text}.`,
    'Say --year-begins "1 January" or --year-begins "25 March".',
  );
}
