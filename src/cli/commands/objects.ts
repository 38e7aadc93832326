import type { Command } from 'commander';
import { MARK_ROLES } from '../../dating/mark-roles.ts';
import { HeldbyError } from '../../errors.ts';
import { overridesOf, partsOfWords, readingsOfMark } from '../../inquiry/mark-question.ts';
import { kindNamed } from '../../ledger/kinds.ts';
import { markById } from '../../ledger/marks.ts';
import { readRecord } from '../../ledger/reading-records.ts';
import { refuseLooseSigns } from '../../names/loose-signs.ts';
import { readTranscription } from '../../names/reading.ts';
import type { Context } from '../context.ts';
import { partsInWords } from '../mark-words.ts';
import { addRecordCommand } from '../record-command.ts';

export function register(program: Command, context: Context): void {
  const object = program.command('object').description('the things examined');
  addRecordCommand(object, context, {
    name: 'add',
    kind: 'object',
    summary: 'record an object',
    takes: [{ argument: '<ref>', field: 'ref', about: 'its lot, stock or accession number' }],
    options: [
      { flags: '--title <text>', field: 'title', about: 'what it is', required: true },
      { flags: '--note <text>', field: 'note', about: 'anything else' },
      { flags: '--horizon <date>', field: 'horizon', about: 'the years to reckon with, such as 1700/1900' },
    ],
    example: ['heldby object add 214 --title "Brass-bound writing slope"'],
  });

  const mark = program.command('mark').description('what is written on an object or fixed to it');
  addRecordCommand(mark, context, {
    name: 'add',
    kind: 'mark',
    summary: 'record a mark and its first reading',
    takes: [
      { argument: '<object>', field: 'object', about: 'the object' },
      {
        argument: '<text>',
        field: 'text',
        about: 'as read: [.] one letter lost, [---] any number, [abc] restored, _a an unsure letter',
      },
    ],
    options: [
      {
        flags: '--role <role>',
        field: 'role',
        about: `${MARK_ROLES.join(', ')}; or several with weights: "owner 0.7, depository 0.3"`,
        required: true,
      },
      {
        flags: '--technique <text>',
        field: 'technique',
        about: 'painted, ink, engraved, stamped, branded, stencilled, chalked, printed label …',
      },
      { flags: '--where <text>', field: 'where', about: 'where on the object' },
      { flags: '--made <date>', field: 'made', about: 'the date that the mark itself bears' },
      { flags: '--over <mark>', field: 'over', about: 'the mark that lies beneath it' },
      { flags: '--surname <text>', field: 'surname', about: 'the surname in it, where heldby reads another' },
      { flags: '--forenames <text>', field: 'forenames', about: 'the forenames in it' },
      { flags: '--rank <text>', field: 'rank', about: 'the rank in it' },
      { flags: '--corps <text>', field: 'corps', about: 'the corps in it' },
      { flags: '--place <text>', field: 'place', about: 'the place in it' },
    ],
    shape: (draft) => {
      refuseLooseSigns(String(draft['text']));
      readTranscription(String(draft['text']));
      return draft;
    },
    tell: (db, id) => {
      const recorded = markById(db, Number(id.slice(1)));
      return recorded && partsInWords(partsOfWords(db, recorded.text, overridesOf(recorded)));
    },
    example: ['heldby mark add 214 "Lieut. J. Ferr[..]d" --role owner --technique ink --where "underside of the flap"'],
  });

  const reading = program.command('reading').description('other transcriptions of a mark');
  addRecordCommand(reading, context, {
    name: 'add',
    kind: 'reading',
    summary: 'record another reading of a mark; every reading of it counts alike',
    takes: [
      { argument: '<mark>', field: 'mark', about: 'the mark' },
      { argument: '<text>', field: 'text', about: 'as read' },
    ],
    options: [{ flags: '--by <who>', field: 'by', about: 'who read it so' }],
    shape: (draft) => {
      refuseLooseSigns(String(draft['text']));
      readTranscription(String(draft['text']));
      return draft;
    },
    tell: (db, id) => {
      const recorded = readRecord(db, kindNamed('reading'), Number(id.slice(1)))?.fields;
      const mark = recorded && markById(db, Number(String(recorded['mark']).slice(1)));
      const own = mark && readingsOfMark(db, mark).find((each) => each.id === id);
      return own && partsInWords(own.parts);
    },
    example: ['heldby reading add m1 "Lieut. J. Ferrond" --by "second reader, raking light"'],
  });

  addRecordCommand(program, context, {
    name: 'attribute',
    kind: 'attribution',
    summary: 'record your own conclusion on a mark',
    whyIsField: true,
    takes: [
      { argument: '<mark>', field: 'mark', about: 'the mark' },
      { argument: '<person>', field: 'person', about: 'who made it, in your opinion' },
    ],
    options: [{ flags: '--grade <grade>', field: 'grade', about: 'how sure you are, in your words' }],
    shape: (draft) => {
      if (draft['why'] === undefined)
        throw new HeldbyError('VALUE', 'A conclusion needs its reason.', 'Give --why TEXT.', 'why');
      return draft;
    },
    example: [
      'heldby attribute m1 "Julian Peter Ferrand" --grade probably --why "the only lieutenant of the name in those years"',
    ],
  });
}
