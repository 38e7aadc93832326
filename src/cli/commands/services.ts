import type { Command } from 'commander';
import type { Context } from '../context.ts';
import { addRecordCommand } from '../record-command.ts';

export function register(program: Command, context: Context): void {
  const service = program.command('service').description('services of your own');
  addRecordCommand(service, context, {
    name: 'add',
    kind: 'service',
    summary: 'record a service; without ranks of its own it takes any rank as it is written',
    takes: [{ argument: '<name>', field: 'name', about: 'the service' }],
    example: ['heldby service add lighthouses'],
  });
  const rank = program.command('rank').description('ranks of your own');
  addRecordCommand(rank, context, {
    name: 'add',
    kind: 'rank',
    summary: 'record a rank of a service, with its place on the ladder',
    takes: [
      { argument: '<service>', field: 'service', about: 'the service' },
      { argument: '<title>', field: 'title', about: 'the rank as a report prints it' },
    ],
    options: [
      { flags: '--order <number>', field: 'order', about: 'its place; larger is senior' },
      {
        flags: '--abbreviation <text>',
        field: 'abbreviations',
        about: 'as lists print it; may be given again',
        many: true,
      },
      {
        flags: '--courtesy <kept>',
        field: 'courtesy',
        about: 'whether the style is kept after leaving: yes, sometimes, no',
      },
    ],
    tell: async (db, id) => (await import('../service-notes.ts')).ladderNote(db, id),
    example: ['heldby rank add lighthouses "Principal Keeper" --order 20 --abbreviation "Princ. Kpr."'],
  });
  const corps = program.command('corps').description('corps and their titles');
  addRecordCommand(corps, context, {
    name: 'add',
    kind: 'corps',
    summary: 'record a title of a corps; a corps renumbered or renamed is the same post',
    takes: [{ argument: '<name>', field: 'name', about: 'the title as printed' }],
    options: [
      { flags: '--same-as <corps>', field: 'sameAs', about: 'the corps of which this is another title' },
      { flags: '--from <date>', field: 'from', about: 'in use from' },
      { flags: '--to <date>', field: 'to', about: 'in use to' },
    ],
    example: [
      'heldby corps add "4th Fencibles"',
      'heldby corps add "2nd Fencibles" --same-as "4th Fencibles" --from 1831',
    ],
  });
}
