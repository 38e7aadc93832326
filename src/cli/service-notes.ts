import { kindNamed, parseId } from '../ledger/kinds.ts';
import { ladderOf, servicesNamed, stylesOffLadder } from '../ledger/ladders.ts';
import type { Db } from '../ledger/open.ts';
import { readRecord } from '../ledger/reading-records.ts';
import { shippedServices } from '../services/ladder.ts';
import { nearestOf } from './nearest.ts';

const SHOWN = 6;

const fieldOf = (db: Db, type: 'series' | 'rank', id: string, name: string): string =>
  String(readRecord(db, kindNamed(type), parseId(id)?.row ?? 0)?.fields[name]);

/** That the service of a list just recorded has no ranks: a slip in its name would show in nothing else. */
export function serviceNote(db: Db, id: string): string | undefined {
  const service = fieldOf(db, 'series', id, 'service');
  if (ladderOf(db, service).ranks.length > 0) return undefined;
  const others = servicesNamed(db, parseId(id)?.row ?? 0);
  if (others.includes(service)) return undefined;
  const near = nearestOf(service, [...others, ...shippedServices()]);
  return `The service ${service} is new and has no ranks of its own: any rank is taken as it is written.${
    near === undefined ? '' : ` If ${near} is meant: heldby amend ${id} service ${near} --why slip`
  }`;
}

/** Which wordings recorded before have no place on the ladder that a rank just recorded began or went on with. */
export function ladderNote(db: Db, id: string): string | undefined {
  const service = fieldOf(db, 'rank', id, 'service');
  const texts = stylesOffLadder(db, service).map(({ text }) => `“${text}”`);
  if (texts.length === 0) return undefined;
  const more = texts.length > SHOWN ? ` and ${texts.length - SHOWN} more` : '';
  return `Recorded before, and no rank of ${service} yet: ${texts.slice(0, SHOWN).join(', ')}${more}. Add them too, or give --abbreviation.`;
}
