import type { Command } from 'commander';
import { HeldbyError } from '../../errors.ts';
import { APPOINTMENT_KINDS, kindNamed } from '../../ledger/kinds.ts';
import { printedNameOf } from '../../ledger/people.ts';
import { addRecord } from '../../ledger/records.ts';
import { resolveRef } from '../../ledger/refs.ts';
import type { Context } from '../context.ts';
import { addRecordCommand } from '../record-command.ts';
import { addTakeCommand } from './take.ts';

export function register(program: Command, context: Context): void {
  const series = program.command('series').description('periodical lists');
  addRecordCommand(series, context, {
    name: 'add',
    kind: 'series',
    summary: 'record a periodical list',
    takes: [{ argument: '<name>', field: 'name', about: 'what the list is called' }],
    options: [
      {
        flags: '--service <service>',
        field: 'service',
        about: 'army, navy, marines, company, militia, civil, clergy or a name of your own',
        required: true,
      },
      { flags: '--lag <days>', field: 'lagDays', about: 'how many days the list can lag behind events' },
      {
        flags: '--country <country>',
        field: 'country',
        about: 'where it was printed: its dates are in the calendar of that place, its years begin there as usual',
      },
      {
        flags: '--year-begins <day>',
        field: 'yearBegins',
        about: '"1 January" or "25 March", where the list counts its years so',
      },
    ],
    tell: async (db, id) => (await import('../service-notes.ts')).serviceNote(db, id),
    example: [
      'heldby series add "Annual List of the Coast Survey" --service army --lag 60',
      'heldby series add "Old List of the Coast Survey" --service army --country england',
    ],
  });

  const edition = program.command('edition').description('issues of a list');
  addRecordCommand(edition, context, {
    name: 'add',
    kind: 'edition',
    summary: 'record one issue of a list',
    takes: [
      { argument: '<series>', field: 'series', about: 'the list: its id, key or name' },
      { argument: '<label>', field: 'label', about: 'what this issue is called, such as 1834' },
    ],
    options: [
      {
        flags: '--as-at <date>',
        field: 'asAt',
        about: 'the day as at which the list stands ("corrected to")',
        required: true,
      },
      {
        flags: '--as-printed <text>',
        field: 'asAtAsPrinted',
        about: 'that day as the page prints it, where it cannot be',
      },
      { flags: '--source <citation>', field: 'source', about: 'how to cite it' },
      { flags: '--copy <text>', field: 'copy', about: 'which copy was seen' },
      { flags: '--shelfmark <text>', field: 'shelfmark', about: 'where that copy is kept' },
    ],
    example: ['heldby edition add "Coast Survey" 1834 --as-at "1 Jan. 1834"'],
  });

  const entry = program.command('entry').description('lines of an issue');
  addRecordCommand(entry, context, {
    name: 'add',
    kind: 'entry',
    summary: 'record one line of an issue: who is listed, in which rank',
    takes: [
      {
        argument: '<edition>',
        field: 'edition',
        about: 'the issue: its id, key, or words such as "Coast Survey 1834"',
      },
    ],
    options: [
      {
        flags: '--person <person>',
        field: 'person',
        about: 'who it is: an id, key or name; left out, the entry waits to be placed',
      },
      { flags: '--rank <rank>', field: 'rank', about: 'the rank as printed', required: true },
      { flags: '--corps <corps>', field: 'corps', about: 'the corps as printed' },
      { flags: '--dated <date>', field: 'dated', about: 'the date of rank that stands beside the name' },
      {
        flags: '--as-printed <text>',
        field: 'datedAsPrinted',
        about: 'that date as the page prints it, where it cannot be',
      },
      { flags: '--page <page>', field: 'page', about: 'the page' },
      { flags: '--name <name>', field: 'name', about: 'the name as printed, where it differs' },
      { flags: '--kind <kind>', field: 'kind', about: APPOINTMENT_KINDS.join(', ') },
      { flags: '--note <text>', field: 'note', about: 'anything else on the line' },
    ],
    more: (command) => command.option('--new', 'make the person, if the ledger has none of that name'),
    shape: (draft, options, into) => {
      const person = draft['person'] as string | undefined;
      if (person === undefined) {
        if (draft['name'] === undefined)
          throw new HeldbyError(
            'VALUE',
            'The entry has neither a person nor a name.',
            'Give --person P, or --name "AS PRINTED".',
            'person',
          );
        return draft;
      }
      let id: string;
      try {
        id = `p${resolveRef(into.db, kindNamed('person'), person)}`;
      } catch (error) {
        const unknown = error instanceof HeldbyError && error.code === 'REFERENCE';
        if (!unknown) throw error;
        if (options['new'] !== true)
          throw new HeldbyError(
            'REFERENCE',
            `There is no person "${person}".`,
            'Add --new to make this person, or see who there is: heldby list people',
          );
        id = addRecord(into, kindNamed('person'), { name: person });
      }
      into.act.flush();
      const recorded = printedNameOf(into.db, Number(id.slice(1)));
      return { ...draft, person: id, name: draft['name'] ?? recorded };
    },
    tell: async (db, id) => (await import('../rank-notes.ts')).rankNote(db, id),
    example: [
      'heldby entry add 1834 --person "Julian Peter Ferrand" --new --rank Lieut. --corps "2nd Fencibles" --dated "16 May 1833" --page 213',
    ],
  });

  addTakeCommand(entry, context);

  const search = program.command('search').description('what was looked for');
  addRecordCommand(search, context, {
    name: 'add',
    kind: 'search',
    summary: 'record that somebody is not in an issue, or that every bearer of a surname was taken down',
    takes: [{ argument: '<edition>', field: 'edition', about: 'the issue that was looked through' }],
    options: [
      { flags: '--person <person>', field: 'person', about: 'who was looked for' },
      { flags: '--surname <surname>', field: 'surname', about: 'the surname whose bearers were taken down' },
      { flags: '--found <number>', field: 'found', about: 'how many bearers there are' },
      { flags: '--note <text>', field: 'note', about: 'what else is to be said' },
    ],
    more: (command) =>
      command
        .option('--not-found', 'the person is not listed')
        .option('--all-taken', 'every bearer of the surname was taken down'),
    shape: (draft, options) => {
      const nil = options['notFound'] === true;
      if (nil === (options['allTaken'] === true))
        throw new HeldbyError(
          'USAGE',
          'Say what came of the search.',
          'Either --person P --not-found, or --surname S --all-taken.',
        );
      return { ...draft, outcome: nil ? 'not found' : 'all taken' };
    },
    example: [
      'heldby search add 1848 --person Ferrand --not-found',
      'heldby search add 1836 --surname Ferrand --all-taken --found 1',
    ],
  });
}
