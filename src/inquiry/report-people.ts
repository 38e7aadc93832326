import type { EvidenceReader } from '../ledger/evidence.ts';
import type { Db } from '../ledger/open.ts';
import { nameReader, personName, placesOf, samePeople } from '../ledger/people.ts';
import { spanInAnswer } from './days.ts';
import { mayBeLiving } from './red-flags.ts';
import { saidDate } from './report-dates.ts';
import type { LotPerson } from './report-lot.ts';
import type { TenuresAnswer } from './tenures.ts';

/**
 * What print says of somebody, by their id.
 * @param today the day of the ledger, by which somebody may be living.
 * @returns a function of the id and of the last day on which they can have put on a mark, where one is theirs.
 */
export function personReader(
  db: Db,
  read: EvidenceReader,
  today: string,
  tenuresOf: (person: string) => TenuresAnswer,
): (id: string, marked: string | null) => LotPerson {
  const together = samePeople(db);
  const names = nameReader(db, read.date);
  return (id, marked) => {
    const records = together(Number(id.slice(1)));
    // What every record of which is set aside is not to be printed.
    const answer = tenuresOf(id);
    const tenures = answer.tenures.filter(({ unsupported }) => !unsupported);
    const evidence = read.careerOf(records);
    const born = saidDate(evidence.born?.date.text);
    const died = saidDate(
      evidence.died?.date.text ?? evidence.notices.find(({ event }) => event === 'died')?.date.text,
    );
    const known = [marked, ...tenures.flatMap(({ start, end }) => [start.latest, end.earliest])].filter(
      (day): day is string => day !== null,
    );
    const lastKnown = known.reduce<string | null>((last, day) => (last === null || day > last ? day : last), null);
    return {
      ...personName(db, Number(id.slice(1))),
      born,
      died,
      places: placesOf(db, records),
      names: names.namesOf(records).map(({ id: nameId, surname, forenames, inUse }) => ({
        id: nameId,
        name: forenames === '' ? surname : `${forenames} ${surname}`,
        ...spanInAnswer(inUse),
      })),
      tenures,
      leftOut: leftOutOf(answer),
      mayBeLiving: mayBeLiving({ born, died, lastKnown }, today),
    };
  };
}

/** The first of the claims that contradict each one left out. */
function leftOutOf({ conflicts }: TenuresAnswer): LotPerson['leftOut'] {
  const against = new Map<string, string>();
  for (const { members, setAside } of conflicts)
    for (const { id, claim } of setAside) {
      const other = members.find((member) => member.id !== id);
      if (other !== undefined && !against.has(claim)) against.set(claim, other.claim);
    }
  return [...against].map(([claim, other]) => ({ claim, against: other }));
}
