import { HeldbyError, isFaultOfInput } from '../errors.ts';
import type { Recording } from '../ledger/recording.ts';
import { addSourceFile, knownSourceFile } from '../ledger/source-files.ts';
import { bringing } from './bring-in.ts';
import { keptDecisions } from './decided.ts';
import type { Decisions, Question } from './decisions.ts';
import type { ForeignLine } from './foreign-lines.ts';
import { inOrder, kindOf, type Line, parseLines, refuseDoubledKeys, throwFaults } from './import-records.ts';
import { type Pictures, withPicture } from './pictures.ts';

/** Whether a text is a bundle: its first line says so. */
export const isBundle = (text: string): boolean => /^\ufeff?\s*\{\s*"type"\s*:\s*"bundle"/.test(text);

/** Which ledger a bundle is from, by its first act; what was once decided about its records is remembered by that. */
export function ledgerOfBundle(text: string): string {
  const [first = ''] = text.replace(/^\ufeff?\s*/, '').split('\n', 1);
  try {
    return String((JSON.parse(first) as { ledger?: unknown }).ledger ?? '');
  } catch {
    throw new HeldbyError('INPUT_FILE', 'Line 1 is no JSON object.', 'Ask for the bundle again: it is damaged.');
  }
}

/** A file of another ledger. */
export type ForeignFile = { readonly name: string; readonly sha256: string; readonly pictures: Pictures };

export type BundleImport = {
  /** How many of each kind were recorded. */
  readonly added: ReadonlyMap<string, number>;
  readonly known: number;
  /** Records here to which the file added something, or that it corrected as it was decided. */
  readonly corrected: number;
  readonly questions: readonly Question[];
  readonly notes: readonly string[];
  /** Whether there was anything to keep, be it only what was decided. */
  readonly isKept: boolean;
};

/**
 * Records of a bundle that are not here yet, in one act.
 * @throws HeldbyError INPUT_FILE with the faults by line; what is to be decided is returned.
 */
export function importBundle(
  into: Recording,
  text: string,
  decisions: Decisions,
  { name, sha256, pictures }: ForeignFile,
): BundleImport {
  const faults: { line: number; error: HeldbyError }[] = [];
  const lines = parseLines(text, faults).filter(({ type }) => type !== 'bundle');
  refuseDoubledKeys(lines, faults);
  const foreign = inOrder(lines).flatMap((line) => foreignLine(line, faults));
  throwFaults(faults);
  const bring = bringing(into.db, foreign, decisions, name);
  bring.begin(into);
  const added = new Map<string, number>();
  const notes: string[] = [];
  let known = 0;
  let corrected = 0;
  for (const line of foreign) {
    try {
      const draft =
        line.kind.kind === 'photo'
          ? withPicture(into.db, line.draft, pictures, (note) => notes.push(note))
          : line.draft;
      const outcome = bring.bring({ ...line, draft });
      if (outcome === 'new') added.set(line.kind.kind, (added.get(line.kind.kind) ?? 0) + 1);
      else if (outcome === 'known') known += 1;
      else corrected += 1;
    } catch (error) {
      if (!isFaultOfInput(error)) throw error;
      faults.push({ line: line.number, error });
    }
  }
  throwFaults(faults);
  const options = keptDecisions(ledgerOfBundle(text), decisions, bring.idOf);
  const isNew = !knownSourceFile(into.db, sha256, options);
  const isKept = added.size > 0 || corrected > 0 || (isNew && decisions.size > 0);
  if (isKept && isNew) addSourceFile(into, { name, sha256, options });
  return { added, known, corrected, questions: [...bring.questions.values()], notes, isKept };
}

function foreignLine(line: Line, faults: { line: number; error: HeldbyError }[]): ForeignLine[] {
  try {
    if (line.key === null)
      throw new HeldbyError('INPUT_FILE', 'A record of a bundle has a key.', 'Ask for the bundle again.', 'key');
    return [{ number: line.number, kind: kindOf(line), key: line.key, draft: line.draft }];
  } catch (error) {
    if (!isFaultOfInput(error)) throw error;
    faults.push({ line: line.number, error });
    return [];
  }
}
