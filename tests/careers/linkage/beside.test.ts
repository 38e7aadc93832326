import { expect, test } from 'vitest';
import { linkEntries } from '../../../src/careers/linkage/link-entries.ts';
import { generatedService, USUAL_FAULTS } from './generated-service.ts';
import { areOne, entryOf } from './listed.ts';

const service = generatedService(4000, 17, { ...USUAL_FAULTS, surnames: 500 });
const byPerson = new Map<number, (typeof service.entries)[0][]>();
for (const [at, entry] of service.entries.entries()) {
  const person = service.truth[at] ?? -1;
  byPerson.set(person, [...(byPerson.get(person) ?? []), entry]);
}
/** Every tenth man has a brevet as well, in the lists of two years in which he stands. */
const brevets = [...byPerson].flatMap(([person, lines]) => {
  const listed = [...lines].sort((a, b) => a.edition - b.edition);
  return person % 10 !== 0 || listed.length < 4
    ? []
    : listed
        .slice(1, 3)
        .map((line) => ({ ...line, id: `b-${line.id}`, kind: 'brevet' as const, corps: undefined, dated: undefined }));
});

test('a brevet is given to its holder, and to nobody where none is of that name', () => {
  const stranger = entryOf({ id: 'alone', year: 0, name: 'Xanwell, Crispin', kind: 'brevet', rank: 'Major' }, 40);
  const found = linkEntries({ ...service, entries: [...service.entries, ...brevets, stranger] });
  const right = brevets.filter(({ id }) => areOne(found, id, id.slice(2))).length;
  expect(brevets.length).toBeGreaterThan(30);
  expect(right / brevets.length).toBeGreaterThan(0.95);
  expect(found.people.find(({ entries }) => entries.includes('alone'))?.entries).toEqual(['alone']);
  const person = found.people.findIndex(({ entries }) => entries.includes(brevets[0]?.id ?? ''));
  expect(found.joins(person).some(({ later }) => later.startsWith('b-'))).toBe(true);
});

test('a man may stand twice in one edition, once by brevet', () => {
  const found = linkEntries({ ...service, entries: [...service.entries, ...brevets] });
  const holder = found.people.find(({ entries }) => entries.includes(brevets[0]?.id ?? ''));
  expect(holder?.entries).toContain(brevets[0]?.id.slice(2));
});
