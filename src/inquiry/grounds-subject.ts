import { HeldbyError } from '../errors.ts';
import { parseId } from '../ledger/kinds.ts';
import type { Db } from '../ledger/open.ts';
import { resolveAny } from '../ledger/refs.ts';
import type { Span } from '../time/span.ts';
import { assumptionList } from './assumptions.ts';
import { isEstimated } from './estimates.ts';
import type { Subject } from './grounds-figures.ts';
import type { VolumeCost } from './lookup-subject.ts';

const WHOLE_LEDGER = ['careers', 'conflicts', 'status'] as const;
type WholeLedger = (typeof WHOLE_LEDGER)[number];

/** What words ask about: by an id, a key, what it is called, or the whole ledger. @throws HeldbyError REFERENCE */
export function subjectNamed(db: Db, words: string): Subject {
  const tenure = /^p([1-9]\d*)\.([1-9]\d*)$/.exec(words.trim());
  if (tenure) return { is: 'tenure', person: Number(tenure[1]), place: Number(tenure[2]) };
  if (assumptionList(db).some(({ name }) => name === words.trim()) || isEstimated(words.trim()))
    return { is: 'assumption', name: words.trim() };
  if (WHOLE_LEDGER.includes(words.trim() as WholeLedger)) return { is: words.trim() as WholeLedger };
  const id = resolveAny(db, words);
  const { kind, row } = parseId(id) as NonNullable<ReturnType<typeof parseId>>;
  switch (kind.kind) {
    case 'person':
      return { is: 'person', person: row };
    case 'entry':
      return { is: 'entry', entry: id };
    case 'mark':
      return { is: 'mark', mark: row };
    case 'object':
      return { is: 'object', object: row };
    default:
      return { is: 'record', id };
  }
}

/** Options of the commands that print the figures. */
export type Given = {
  readonly between: Span | undefined;
  readonly cost: VolumeCost | undefined;
  readonly chains: number | undefined;
};

/** What an option of a command that prints figures is said of. @throws HeldbyError USAGE where it is said of another. */
export function refuseMisplaced({ is }: Subject, { between, cost, chains }: Given): void {
  const refuse = (of: string, instead: string): never => {
    throw new HeldbyError('USAGE', `${of} only.`, instead);
  };
  const isMark = is === 'mark' || is === 'words';
  if (between !== undefined && !isMark)
    refuse(
      'Days can be given for a mark',
      'Leave out --between, or ask of a mark: heldby grounds m1 --between 1834 1838',
    );
  if (cost !== undefined && is !== 'mark' && is !== 'object')
    refuse(
      'Look-ups are of a mark or an object',
      'Leave out --cost, or ask of one: heldby grounds m1 plan 3 --cost 10',
    );
  if (chains !== undefined && is !== 'object')
    refuse('Successions are of an object', 'Leave out --chains, or ask of one: heldby grounds 214 holder --chains 10');
}
