import { HeldbyError } from '../errors.ts';
import { assumptionsOf, changedAssumptions } from '../ledger/assumed.ts';
import { bearerOfEntry } from '../ledger/bearers.ts';
import { differencesOf } from '../ledger/differences.ts';
import type { Field, Kind } from '../ledger/kind.ts';
import { KINDS, kindNamed, parseId } from '../ledger/kinds.ts';
import { idsOf } from '../ledger/naming.ts';
import type { Db } from '../ledger/open.ts';
import type { Draft, Recording } from '../ledger/recording.ts';
import { addRecord, amendRecord, currentRow, draftCells } from '../ledger/records.ts';
import { idOfKey } from '../ledger/refs.ts';
import { entriesIn, entryReading, twinsOf } from '../ledger/twins.ts';
import { changeOf, sinceCorrected, withFreeReference } from './corrections-brought.ts';
import { byKey, nearest } from './counterpart.ts';
import { ANSWERS, type Decision, type Decisions, type Question } from './decisions.ts';
import { named, saysOtherwise } from './difference-words.ts';
import { type Cells, evidenceByPerson, type ForeignLine, NO_EVIDENCE } from './foreign-lines.ts';
import { whoIsIt } from './same-person.ts';

export type Outcome = 'new' | 'known' | 'corrected';

export type Bringing = ReturnType<typeof bringing>;

/**
 * Brings records of another ledger into this one: what is here already is recognised, and not recorded twice; where the
 * two say different things, that is a question. Until it is decided, what is here is taken to stand.
 */
export function bringing(db: Db, lines: readonly ForeignLine[], decisions: Decisions, from: string) {
  let into: Recording;
  const own = new Map<string, string>();
  /** Records here that a record of the file stands for: two alike there are two here. */
  const taken = new Set<string>();
  const questions = new Map<string, Question>();
  const evidence = evidenceByPerson(lines);
  const isUsed = idsOf(db, 'object').length > 0;

  const local = (kinds: readonly Kind[], words: string): string => {
    const [only, another] = kinds.flatMap(({ kind }) => own.get(`${kind} ${words}`) ?? []);
    return (another === undefined ? only : undefined) ?? own.get(words) ?? words;
  };

  /** A draft that names records here in place of those of the file. */
  const localDraft = (kind: Kind, draft: Draft): Draft => {
    const said: Record<string, unknown> = { ...draft };
    for (const field of kind.fields) {
      const words = said[field.name];
      if (typeof words !== 'string') continue;
      if (field.type === 'ref') said[field.name] = local([kindNamed(field.to)], words);
      else if (field.type === 'any-ref')
        said[field.name] = local(field.to === 'all' ? KINDS : field.to.map(kindNamed), words);
    }
    return said;
  };

  const settle = (line: ForeignLine, id: string): void => {
    own.set(`${line.kind.kind} ${line.key}`, id);
    taken.add(id);
  };

  const ask = (line: ForeignLine, question: Omit<Question, 'record' | 'line'>): Decision => {
    const record = `${line.kind.kind} ${line.key}`;
    const decided = decisions.get(record);
    if (decided !== undefined && question.answers.includes(decided.answer)) return decided;
    questions.set(record, { record, line: line.number, ...question });
    return { answer: 'mine', here: undefined, why: undefined };
  };

  const add = (line: ForeignLine, draft: Draft): Outcome => {
    const before = parseId(decisions.get(`${line.kind.kind} ${line.key}`)?.made ?? '');
    if (before !== undefined && currentRow(db, before.kind, before.row) !== undefined) {
      settle(line, `${before.kind.prefix}${before.row}`);
      return 'known';
    }
    const isFree = idOfKey(db, line.kind, line.key) === undefined;
    settle(line, addRecord(into, line.kind, draft, isFree ? line.key : null));
    return 'new';
  };

  /** The file's record is one that is here: what it says more is added, what it says otherwise is asked. */
  const compare = (line: ForeignLine, id: number, draft: Draft, cells: Cells, canBeOther: boolean): Outcome => {
    const { kind } = line;
    const here = `${kind.prefix}${id}`;
    const current = currentRow(db, kind, id) as Cells;
    const found = differencesOf(db, kind, current, cells);
    const { otherwise } = sinceCorrected(into, kind, id, draft, found);
    let changed: readonly Field[] = found.more;
    let why = `said in ${from}`;
    if (otherwise.length > 0) {
      const answers = canBeOther ? ANSWERS : ANSWERS.filter((each) => each !== 'other');
      const decided = ask(line, { here, says: saysOtherwise(into, line, here, otherwise), answers });
      if (decided.answer === 'other') return add(line, withFreeReference(into, kind, draft));
      if (decided.answer === 'theirs') changed = [...changed, ...otherwise];
      if (decided.why !== undefined) why = decided.why;
    }
    settle(line, here);
    if (changed.length === 0) return 'known';
    amendRecord(into, kind, id, changeOf(changed, draft, current), why);
    return 'corrected';
  };

  const entry = (line: ForeignLine, draft: Draft, cells: Cells): Outcome => {
    const person = cells['person_id'];
    if (typeof person === 'number') {
      const alike = entriesIn(db, person, Number(cells['edition_id']))
        .filter(
          ({ id, cells: c }) => !taken.has(`e${id}`) && (c['appointment'] ?? null) === (cells['appointment'] ?? null),
        )
        .map(({ id, cells: c }) => ({ id, differs: differencesOf(db, line.kind, c, cells).otherwise.length }))
        .sort((a, b) => a.differs - b.differs || a.id - b.id);
      const [nearest] = alike;
      if (nearest !== undefined) return compare(line, nearest.id, draft, { ...cells, person_id: null }, true);
    }
    const printed = entryReading(db, cells);
    if (printed === undefined || taken.has(`e${printed.id}`)) return add(line, draft);
    if (typeof person !== 'number') {
      settle(line, `e${printed.id}`);
      return 'known';
    }
    if (printed.person !== null) {
      if (cells['page'] === null) return add(line, draft);
      const says = `stands for p${printed.person} here, and for ${draft['person']} in the file`;
      const { answer, why } = ask(line, { here: `e${printed.id}`, says, answers: ANSWERS });
      if (answer === 'other') return add(line, draft);
      settle(line, `e${printed.id}`);
      if (answer === 'mine') return 'known';
      addRecord(into, kindNamed('link'), link(printed.id, person, why ?? `said in ${from}`));
      return 'corrected';
    }
    settle(line, `e${printed.id}`);
    addRecord(into, kindNamed('link'), link(printed.id, person, `said in ${from}`));
    return 'corrected';
  };

  const linkLine = (line: ForeignLine, draft: Draft, cells: Cells): Outcome => {
    const id = Number(cells['entry_id']);
    const bearer = bearerOfEntry(db, id) ?? null;
    if (bearer === (cells['person_id'] ?? null)) return 'known';
    if (bearer === null || taken.has(`link of e${id}`) || !wasHere(`e${id}`)) {
      taken.add(`link of e${id}`);
      return add(line, draft);
    }
    const { answer } = ask(line, {
      here: `e${id}`,
      says: `stands for p${bearer} here, and for ${draft['person'] ?? 'nobody'} in the file`,
      answers: ['mine', 'theirs'],
    });
    if (answer === 'mine') return 'known';
    taken.add(`link of e${id}`);
    return add(line, draft);
  };

  const made = new Set<string>();
  const wasHere = (id: string): boolean => !made.has(id);

  const assumption = (line: ForeignLine, draft: Draft, cells: Cells): Outcome => {
    const name = String(cells['name']);
    const changed = changedAssumptions(db).findLast((each) => each.name === name);
    const value = changed?.value ?? (assumptionsOf(db).values as Readonly<Record<string, number>>)[name];
    if (Number(value) === Number(cells['value'])) return 'known';
    if ((changed === undefined && !isUsed) || taken.has(`assumption ${name}`)) {
      taken.add(`assumption ${name}`);
      return add(line, draft);
    }
    const { answer } = ask(line, {
      here: `assumption ${name}`,
      says: `(${name}) is ${value ?? 'not set'} here, and ${cells['value']} in the file; it bears on every answer`,
      answers: ['mine', 'theirs'],
    });
    if (answer === 'mine') return 'known';
    taken.add(`assumption ${name}`);
    return add(line, draft);
  };

  const person = (line: ForeignLine, draft: Draft, cells: Cells): Outcome => {
    const found = whoIsIt(into, line.key, cells, evidence.get(line.key) ?? NO_EVIDENCE, (kind, other) => {
      const said = localDraft(kind, other);
      return { draft: said, isKnown: refersHere(kind, other, said) };
    });
    const free = found.filter(({ id }) => !taken.has(`p${id}`));
    const [best] = free;
    if (best === undefined) return add(line, draft);
    if (best.certain) return compare(line, best.id, draft, cells, true);
    const record = `person ${line.key}`;
    const decided = decisions.get(record);
    const chosen = decided?.here === undefined ? best : free.find(({ id }) => `p${id}` === decided.here);
    if (decided !== undefined && chosen === undefined)
      throw new HeldbyError(
        'VALUE',
        `${record} cannot be ${decided.here}.`,
        `It may be ${free.map(({ id }) => `p${id}`).join(' or ')}, or somebody else: other.`,
        record,
      );
    const others = free.slice(1).map(({ id }) => `p${id}`);
    const says = `may be ${named(into.db, kindNamed('person'), best.id)}, or a namesake: nothing is recorded of both${others.length > 0 ? `; or ${others.join(' or ')}` : ''}`;
    const { answer } = ask(line, { here: `p${best.id}`, says, answers: ANSWERS });
    if (answer === 'other') return add(line, draft);
    return compare(line, (chosen ?? best).id, draft, cells, true);
  };

  /** Whether everything but the person that a draft of the file refers to is known here by now. */
  const refersHere = (kind: Kind, draft: Draft, said: Draft): boolean =>
    kind.fields.every(
      (field) =>
        field.type !== 'ref' ||
        field.name === 'person' ||
        typeof draft[field.name] !== 'string' ||
        own.has(`${field.to} ${draft[field.name]}`) ||
        said[field.name] === undefined,
    );

  const anything = (line: ForeignLine, draft: Draft, cells: Cells): Outcome => {
    const { kind, key } = line;
    const isFree = (id: number): boolean => !taken.has(`${kind.prefix}${id}`);
    const twin =
      nearest(into, kind, cells, twinsOf(db, kind, cells).filter(isFree)) ?? byKey(into, kind, key, cells, isFree);
    if (twin === undefined) return add(line, draft);
    return compare(line, twin, draft, cells, CAN_BE_OTHER.has(kind.kind));
  };

  return {
    questions,
    /** The act in which records are brought in from now on. */
    begin(recording: Recording): void {
      into = recording;
    },
    /** The id here of a record of the file, or the words themselves. */
    local,
    idOf: (record: string): string | undefined => own.get(record),
    settle,
    localDraft,
    /** Brings one record in. @throws HeldbyError */
    bring(line: ForeignLine): Outcome {
      const draft = localDraft(line.kind, line.draft);
      const cells = draftCells(into, line.kind, draft);
      const before = own.get(`${line.kind.kind} ${line.key}`);
      if (before !== undefined) return 'known';
      const outcome = ((): Outcome => {
        switch (line.kind.kind) {
          case 'person':
            return person(line, draft, cells);
          case 'entry':
            return entry(line, draft, cells);
          case 'link':
            return linkLine(line, draft, cells);
          case 'assumption':
            return assumption(line, draft, cells);
          default:
            return anything(line, draft, cells);
        }
      })();
      const id = own.get(`${line.kind.kind} ${line.key}`);
      if (outcome === 'new' && id !== undefined) made.add(id);
      return outcome;
    },
    ask,
  };
}

/** Kinds of which two that are alike can both be there. */
const CAN_BE_OTHER: ReadonlySet<string> = new Set([
  'object',
  'feature',
  'mark',
  'notice',
  'clue',
  'attribution',
  'photo',
]);

const link = (entry: number, person: number, why: string): Draft => ({ entry: `e${entry}`, person: `p${person}`, why });
