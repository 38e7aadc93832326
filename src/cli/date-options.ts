import type { Command } from 'commander';

/** The options by which a command is told how dates are written; `dateOptionsOf` reads them. */
export const dateOptions = (command: Command): Command =>
  command
    .option('--calendar <calendar>', 'gregorian or julian, for a written-out day that does not say')
    .option('--country <country>', 'where it was written: its calendar, first day of the year, order of day and month')
    .option('--year-begins <day>', '"1 January" or "25 March", where the source counts its years so')
    .option('--reference <date>', 'the date of the paper, for ult., inst. and prox.');
