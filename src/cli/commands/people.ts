import type { Command } from 'commander';
import { APPOINTMENT_KINDS, EVENTS, parseId, RELATIONS } from '../../ledger/kinds.ts';
import type { Db } from '../../ledger/open.ts';
import { differingAmong, samePeople } from '../../ledger/people.ts';
import { readRecord } from '../../ledger/reading-records.ts';
import type { Context } from '../context.ts';
import { addRecordCommand } from '../record-command.ts';

const person = { argument: '<person>', field: 'person', about: 'an id, a key, or a name' };

export function register(program: Command, context: Context): void {
  const people = program.command('person').description('people and their names');
  addRecordCommand(people, context, {
    name: 'add',
    kind: 'person',
    summary: 'record a person',
    takes: [{ argument: '<name>', field: 'name', about: '"Julian Peter Ferrand" or "Ferrand, Julian Peter"' }],
    options: [
      { flags: '--born <date>', field: 'born', about: 'day, month or year of birth' },
      { flags: '--died <date>', field: 'died', about: 'day, month or year of death' },
      {
        flags: '--place <place>',
        field: 'places',
        about: 'a place where the person lived; may be given again',
        many: true,
      },
      { flags: '--note <text>', field: 'note', about: 'anything else' },
    ],
    example: ['heldby person add "Julian Peter Ferrand" --born 1812 --place Oakhaven'],
  });
  addRecordCommand(people, context, {
    name: 'name',
    kind: 'name',
    summary: 'record another name that a person bore, and when',
    takes: [person, { argument: '<name>', field: 'name', about: 'the other name' }],
    options: [
      { flags: '--from <date>', field: 'from', about: 'in use from the first day of this' },
      { flags: '--to <date>', field: 'to', about: 'in use to the last day of this' },
    ],
    example: ['heldby person name p1 "Julian Peter Ferrand-Holt" --from 1851'],
  });
  addRecordCommand(people, context, {
    name: 'same',
    kind: 'same',
    summary: 'record that two are one person',
    whyIsField: true,
    takes: [person, { argument: '<other>', field: 'other', about: 'the other record of the same person' }],
    tell: contradicted,
    example: ['heldby person same p1 p7 --why "same date of rank in both lists"'],
  });
  addRecordCommand(people, context, {
    name: 'differ',
    kind: 'differ',
    summary: 'record that two are not one person',
    whyIsField: true,
    takes: [person, { argument: '<other>', field: 'other', about: 'the other person' }],
    tell: contradicted,
    example: ['heldby person differ p1 p7 --why "both listed in 1836"'],
  });

  const kin = program.command('kin').description('kinship');
  addRecordCommand(kin, context, {
    name: 'add',
    kind: 'kin',
    summary: 'record kinship: the relative is the person’s parent, child, sibling, spouse, or other kin',
    takes: [
      person,
      { argument: '<relation>', field: 'relation', about: RELATIONS.join(', ') },
      { argument: '<relative>', field: 'relative', about: 'who that is' },
    ],
    example: ['heldby kin add "Julian Peter Ferrand" parent "Anne Ferrand"   # Anne is his parent'],
  });

  const notice = program.command('notice').description('dated events from gazettes, registers and papers');
  addRecordCommand(notice, context, {
    name: 'add',
    kind: 'notice',
    summary: 'record a dated event',
    takes: [],
    options: [
      { flags: '--person <person>', field: 'person', about: 'whom it concerns', required: true },
      { flags: '--event <event>', field: 'event', about: EVENTS.join(', '), required: true },
      { flags: '--date <date>', field: 'date', about: 'the day of the event', required: true },
      {
        flags: '--as-printed <text>',
        field: 'dateAsPrinted',
        about: 'that day as the page prints it, where it cannot be',
      },
      { flags: '--source <citation>', field: 'source', about: 'where it stands', required: true },
      { flags: '--rank <rank>', field: 'rank', about: 'the rank it names' },
      { flags: '--corps <corps>', field: 'corps', about: 'the corps it names' },
      { flags: '--kind <kind>', field: 'kind', about: APPOINTMENT_KINDS.join(', ') },
      {
        flags: '--service <service>',
        field: 'service',
        about: 'the service of the rank, where the person has none yet',
      },
      { flags: '--vice <person>', field: 'vice', about: 'in whose place' },
      { flags: '--name <name>', field: 'name', about: 'for renamed: the new name' },
      { flags: '--note <text>', field: 'note', about: 'anything else' },
    ],
    example: [
      'heldby notice add --person p1 --event promoted --date "8 Feb. 1839" --rank Captain --source "Gazette, 8 Feb. 1839"',
    ],
  });

  const condition = program.command('condition').description('conditions of service');
  addRecordCommand(condition, context, {
    name: 'add',
    kind: 'condition',
    summary: 'record that a rank is held for at least, or at most, so long',
    takes: [],
    options: [
      { flags: '--rank <rank>', field: 'rank', about: 'the rank', required: true },
      { flags: '--at-least <days>', field: 'atLeastDays', about: 'days in the rank at least' },
      { flags: '--at-most <days>', field: 'atMostDays', about: 'days in the rank at most' },
      { flags: '--service <service>', field: 'service', about: 'the service' },
      { flags: '--source <citation>', field: 'source', about: 'where the rule stands' },
    ],
    example: ['heldby condition add --service army --rank Captain --at-least 730 --source "Regulations, 1811"'],
  });
}

/** That some are recorded both as one person and as two is nothing that could be reckoned with. */
function contradicted(db: Db, id: string): string | undefined {
  const parsed = parseId(id);
  const fields = parsed && readRecord(db, parsed.kind, parsed.row)?.fields;
  const people = samePeople(db)(Number(String(fields?.['person']).slice(1)));
  const [differ] = differingAmong(db, people);
  if (differ === undefined) return undefined;
  const other = differ === id ? 'they are recorded as one' : `${differ} says that they are two`;
  return `Both cannot be true: ${other}. Take one of the records back, with its reason: heldby withdraw ${id} --why TEXT`;
}
