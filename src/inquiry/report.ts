import { assumptionsOf } from '../ledger/assumed.ts';
import { type EvidenceReader, evidenceReader } from '../ledger/evidence.ts';
import { kindNamed } from '../ledger/kinds.ts';
import { actTime, everyLot, photosOf } from '../ledger/lots.ts';
import { sweeps } from '../ledger/marks.ts';
import type { Db } from '../ledger/open.ts';
import { everybody, nameReader, personName, samePeople } from '../ledger/people.ts';
import { idsNaming, readRecord } from '../ledger/reading-records.ts';
import { foldName } from '../names/pattern.ts';
import { aboutAnswer } from './about.ts';
import type { CandidatesAnswer } from './candidates.ts';
import { type LotQuestions, lotQuestions } from './lot-questions.ts';
import type { MadeAnswer, MakingAnswer } from './made.ts';
import { objectNamed } from './object-marks.ts';
import type { ProvenanceAnswer } from './provenance.ts';
import { redFlags } from './red-flags.ts';
import { citationReader } from './report-citations.ts';
import { saidDate } from './report-dates.ts';
import type { LotAttribution, LotFacts, LotMark, LotPerson, LotReport } from './report-lot.ts';
import { openItems } from './report-open.ts';
import { personReader } from './report-people.ts';
import { tenuresOf } from './tenures.ts';

/** Every object by its reference, numbers in it compared as numbers: 9 before 10, 10 before 10a. */
export const lotsInOrder = (db: Db): string[] =>
  everyLot(db)
    .map(({ id, ref }) => ({ id: `o${id}`, parts: ref.split(/(\d+)/) }))
    .sort((a, b) => compareParts(a.parts, b.parts) || Number(a.id.slice(1)) - Number(b.id.slice(1)))
    .map(({ id }) => id);

function compareParts(a: readonly string[], b: readonly string[]): number {
  for (let i = 0; i < Math.max(a.length, b.length); i += 1) {
    const [x = '', y = ''] = [a[i], b[i]];
    const difference = i % 2 === 1 ? Number(x) - Number(y) : 0;
    if (difference !== 0) return difference;
    if (x !== y) return x < y ? -1 : 1;
  }
  return 0;
}

/** Everybody in the ledger, each once, by their first record. */
export function* everyPerson(db: Db, asOf: number | undefined): Iterable<LotPerson> {
  const { act } = aboutAnswer(db, asOf);
  const read = evidenceReader(db, assumptionsOf(db));
  const tell = personReader(db, read, (actTime(db, act) ?? '').slice(0, 10), (id) => tenuresOf(db, id));
  const together = samePeople(db);
  for (const row of everybody(db)) if (together(row)[0] === row) yield tell(`p${row}`, null);
}

/** Everything that print says of one object. */
export function reportOf(
  db: Db,
  words: string,
  asOf: number | undefined,
  ask: LotQuestions = lotQuestions(db),
): LotReport {
  const about = aboutAnswer(db, asOf);
  const date = (actTime(db, about.act) ?? '').slice(0, 10);
  const facts = factsOf(db, words, date, ask);
  const { object, made, provenance } = facts;
  const chain = provenance?.chains[0];
  const flags = redFlags(
    {
      texts: [
        { where: 'title', text: object.title },
        { where: 'note', text: object.note ?? '' },
        ...made.windows.flatMap(({ id, text, part }) => [
          { where: id, text },
          { where: id, text: part ?? '' },
        ]),
      ],
      made: (made.withMarks ?? made).span,
      holders: (chain?.holders ?? []).map(({ person, from, to, link }) => ({
        person,
        from,
        to,
        again: link === 'same',
      })),
      people: [],
    },
    date,
  );
  const living = Object.values(facts.people)
    .filter((person) => person.mayBeLiving)
    .map(({ id, key, name }) => ({ flag: 'living' as const, person: { id, key, name } }));
  const exported = flags.filter(({ flag }) => flag === 'export');
  const open = openItems(facts, [...flags.filter(({ flag }) => flag !== 'export'), ...living, ...exported]);
  return { ...facts, open, about: { ...about, date } };
}

function factsOf(db: Db, words: string, today: string, ask: LotQuestions): LotFacts {
  const { read } = ask;
  const row = objectNamed(db, words);
  const id = `o${row.id}`;
  const { object, years: _years, withMarks, ...made } = ask.made(id);
  const marks = (withMarks?.marks ?? []).map((mark) => lotMark(db, mark, ask));
  const holders = marks.some(({ candidates }) => candidates !== null) ? withoutObject(ask.provenance(id)) : null;
  const attributions = marks.flatMap((mark) => attributionsOf(db, mark.id));
  const people = peopleOf(db, read, today, marks, holders, attributions, ask);
  const searches = searchesOn(db, read, people);
  const together = samePeople(db);
  const cite = citationReader(
    db,
    read,
    Object.keys(people).flatMap((person) => together(Number(person.slice(1)))),
  );
  const cited = new Set<string>([
    ...made.windows.map((window) => window.id),
    ...searches,
    ...marks.flatMap((mark) => [mark.id, ...mark.clues.map((clue) => clue.id)]),
    ...marks.flatMap(({ candidates }) => candidates?.candidates.flatMap(({ hangsOn }) => hangsOn) ?? []),
    ...Object.values(people).flatMap((person) => [
      person.id,
      ...person.names.map((name) => name.id),
      ...person.tenures.flatMap(({ grounds }) => Object.values(grounds).flat()),
    ]),
    ...(holders?.chains.flatMap((chain) => chain.holders.flatMap(({ kinships }) => kinships)) ?? []),
  ]);
  return {
    object: { ...object, note: noteOf(db, row.id) },
    photos: photosOf(db, id).map((photo) => ({ id: `ph${photo.id}`, file: photo.file })),
    made: { ...made, withMarks: withMarks && withoutYears(withMarks) },
    marks,
    attributions,
    provenance: holders,
    people,
    searches,
    citations: Object.fromEntries([...cited].map((each) => [each, cite(each)])),
    cautions: [
      ...new Set([
        ...made.cautions,
        ...marks.flatMap(({ candidates }) => candidates?.cautions ?? []),
        ...(holders?.cautions ?? []),
      ]),
    ],
  };
}

function withoutYears({
  years: _years,
  ...making
}: NonNullable<MadeAnswer['withMarks']>): Omit<MakingAnswer, 'years'> &
  Pick<NonNullable<MadeAnswer['withMarks']>, 'marks'> {
  return making;
}

function withoutObject({ object: _object, ...holders }: ProvenanceAnswer): Omit<ProvenanceAnswer, 'object'> {
  return holders;
}

const noteOf = (db: Db, object: number): string | null => textField(db, 'object', object, 'note');

function textField(db: Db, kind: 'object' | 'mark', row: number, name: string): string | null {
  const value = readRecord(db, kindNamed(kind), row)?.fields[name];
  return value === undefined ? null : String(value);
}

function lotMark(db: Db, mark: NonNullable<MadeAnswer['withMarks']>['marks'][number], ask: LotQuestions): LotMark {
  const row = Number(mark.id.slice(1));
  const { namesHolder, ...told } = mark;
  const field = (name: string) => textField(db, 'mark', row, name);
  const readings = idsNaming(db, kindNamed('reading'), 'mark_id', row).map((id) => {
    const fields = readRecord(db, kindNamed('reading'), id)?.fields ?? {};
    return { id: `r${id}`, text: String(fields['text']), by: fields['by'] === undefined ? null : String(fields['by']) };
  });
  const clues = mark.clues.map((clue) => {
    const why = readRecord(db, kindNamed('clue'), Number(clue.id.replace(/\D+/, '')))?.fields['why'];
    return { ...clue, why: why === undefined ? null : String(why) };
  });
  const candidates: CandidatesAnswer | null = namesHolder ? ask.candidates(mark.id) : null;
  return {
    ...told,
    technique: field('technique'),
    where: field('where'),
    stated: saidDate(field('made')),
    over: field('over'),
    readings,
    clues,
    photos: photosOf(db, mark.id).map(({ id, file }) => ({ id: `ph${id}`, file })),
    candidates,
  };
}

function attributionsOf(db: Db, mark: string): LotAttribution[] {
  return idsNaming(db, kindNamed('attribution'), 'mark_id', Number(mark.slice(1))).map((row) => {
    const fields = readRecord(db, kindNamed('attribution'), row)?.fields ?? {};
    return {
      id: `a${row}`,
      mark,
      person: personName(db, Number(String(fields['person']).slice(1))),
      grade: fields['grade'] === undefined ? null : String(fields['grade']),
      why: fields['why'] === undefined ? null : String(fields['why']),
    };
  });
}

/** Everybody of whom the report speaks: candidates, who else was considered, holders, and the researcher's own. */
function peopleOf(
  db: Db,
  read: EvidenceReader,
  today: string,
  marks: readonly LotMark[],
  holders: LotFacts['provenance'],
  attributions: readonly LotAttribution[],
  ask: LotQuestions,
): Record<string, LotPerson> {
  const lastDays = new Map<string, string | null>();
  const note = (id: string, day: string | null): void => {
    const known = lastDays.get(id);
    lastDays.set(id, known !== undefined && known !== null && (day === null || day < known) ? known : day);
  };
  for (const { candidates } of marks) {
    for (const each of candidates?.candidates ?? []) note(each.person.id, each.markedBetween.to);
    for (const each of candidates?.ruledOut ?? []) note(each.person.id, null);
    for (const each of candidates?.beyond ?? []) note(each.person.id, null);
  }
  for (const { person, to } of holders?.chains[0]?.holders ?? []) if (person) note(person.id, to);
  for (const { person } of attributions) note(person.id, null);
  const tell = personReader(db, read, today, ask.tenures);
  return Object.fromEntries([...lastDays].map(([id, marked]) => [id, tell(id, marked)]));
}

/** Searches for one of these people, and sweeps of their surnames; ids in the order of recording. */
function searchesOn(db: Db, read: EvidenceReader, people: Readonly<Record<string, LotPerson>>): string[] {
  const together = samePeople(db);
  const names = nameReader(db, read.date);
  const rows = Object.keys(people).flatMap((id) => together(Number(id.slice(1))));
  const surnames = new Set(names.namesOf(rows).map(({ surname }) => foldName(surname)));
  const nil = rows.flatMap((row) => idsNaming(db, kindNamed('search'), 'person_id', row).map((id) => `q${id}`));
  const swept = sweeps(db, read.edition).flatMap(({ id, surname }) => (surnames.has(foldName(surname)) ? [id] : []));
  return [...new Set([...nil, ...swept])].sort((a, b) => Number(a.slice(1)) - Number(b.slice(1)));
}
