import type { CandidateAnswer } from './candidates.ts';
import type { ActSummary } from './changes.ts';
import type { Days } from './made.ts';
import type { Citation } from './report-citations.ts';
import type { LotMark, LotReport, PersonName } from './report-lot.ts';
import type { OpenItem } from './report-reasons.ts';

/** A point in which two reports of one lot differ. Where two values stand, the first is the earlier. */
export type LotChange =
  | { readonly change: 'added' | 'gone' }
  | { readonly change: 'title' | 'note'; readonly before: string | null; readonly after: string | null }
  | { readonly change: 'made'; readonly before: MadeFigures; readonly after: MadeFigures }
  | {
      readonly change: 'feature-added' | 'feature-gone' | 'feature-changed';
      readonly id: string;
      readonly text: string;
    }
  | { readonly change: 'mark-added' | 'mark-gone' | 'mark-changed'; readonly id: string; readonly text: string }
  | {
      readonly change: 'leader';
      readonly mark: string;
      readonly text: string;
      readonly before: LeaderFigures | null;
      readonly after: LeaderFigures | null;
      /** The act that gave the lead to another person. */
      readonly since?: ActSummary | null;
    }
  | { readonly change: 'rival-added' | 'rival-gone'; readonly text: string; readonly person: PersonName }
  | { readonly change: 'holders'; readonly before: readonly HolderFigures[]; readonly after: readonly HolderFigures[] }
  | { readonly change: 'own-added' | 'own-gone'; readonly text: string; readonly person: PersonName }
  | { readonly change: 'citation'; readonly before: Citation; readonly after: Citation }
  | { readonly change: 'search-added' | 'search-gone'; readonly search: Citation }
  | { readonly change: 'caution-added' | 'caution-gone'; readonly caution: string }
  | { readonly change: 'open-added' | 'open-gone'; readonly item: OpenItem }
  | {
      readonly change: 'assumption';
      readonly name: string;
      readonly before: string | null;
      readonly after: string | null;
    };

type MadeFigures = { readonly span: Days; readonly phrase: string; readonly printed: Days };
export type LeaderFigures = { readonly person: PersonName; readonly share: number; readonly wording: string };
type HolderFigures = { readonly person: PersonName | null; readonly wording: string | null };

/** What differs between two reports of one lot; null where there was, or is, no such lot. */
export function lotChanges(before: LotReport | null, after: LotReport | null): LotChange[] {
  if (before === null || after === null)
    return before === after ? [] : [{ change: before === null ? 'added' : 'gone' }];
  return [
    ...textChange('title', before.object.title, after.object.title),
    ...textChange('note', before.object.note, after.object.note),
    ...partsChanged('feature', before.made.windows, after.made.windows),
    ...partsChanged('mark', before.marks.map(markFacts), after.marks.map(markFacts)),
    ...madeChange(before, after),
    ...after.marks.flatMap((mark) =>
      leaderChange(
        before.marks.find(({ id }) => id === mark.id),
        mark,
      ),
    ),
    ...ownChanges(before, after),
    ...holdersChange(before, after),
    ...citationChanges(before, after),
    ...listChanges(before.cautions, after.cautions, (caution) => caution).map(
      ({ isNew, value }): LotChange => ({ change: isNew ? 'caution-added' : 'caution-gone', caution: value }),
    ),
    ...listChanges(before.open, after.open, ({ reason, about }) => JSON.stringify([reason, about])).map(
      ({ isNew, value }): LotChange => ({ change: isNew ? 'open-added' : 'open-gone', item: value }),
    ),
    ...assumptionChanges(before, after),
  ];
}

function textChange(change: 'title' | 'note', before: string | null, after: string | null): LotChange[] {
  return before === after ? [] : [{ change, before, after }];
}

type Part = { readonly id: string; readonly text: string };

function partsChanged(
  of: 'feature' | 'mark',
  before: readonly (Part & object)[],
  after: readonly (Part & object)[],
): LotChange[] {
  const then = new Map(before.map((part) => [part.id, part]));
  const now = new Map(after.map((part) => [part.id, part]));
  const told = (change: 'added' | 'gone' | 'changed', { id, text }: Part): LotChange => ({
    change: `${of}-${change}`,
    id,
    text,
  });
  return [
    ...before.filter(({ id }) => !now.has(id)).map((part) => told('gone', part)),
    ...after.flatMap((part) => {
      const old = then.get(part.id);
      if (old === undefined) return [told('added', part)];
      return JSON.stringify(old) === JSON.stringify(part) ? [] : [told('changed', part)];
    }),
  ];
}

/** What a mark is recorded to be, without what is reckoned of it. */
const markFacts = ({ id, text, role, technique, where, stated, over, readings, clues, photos }: LotMark) => ({
  id,
  text,
  role,
  technique,
  where,
  stated,
  over,
  readings,
  clues,
  photos,
});

function madeChange(before: LotReport, after: LotReport): LotChange[] {
  const figures = ({ made }: LotReport): MadeFigures => {
    const { span, phrase, printed } = made.withMarks ?? made;
    return { span, phrase, printed };
  };
  const [then, now] = [figures(before), figures(after)];
  return then.phrase === now.phrase ? [] : [{ change: 'made', before: then, after: now }];
}

/** A wording without that on which it hangs, which is an open point of its own. */
const degreeIn = (wording: string | null | undefined): string => (wording ?? '').split(',')[0] ?? '';

/** Shares that differ by less print as the same number. */
const SAME_SHARE = 0.01;

function leaderChange(before: LotMark | undefined, after: LotMark): LotChange[] {
  if (before === undefined) return [];
  const then = leaderOf(before);
  const now = leaderOf(after);
  const same =
    then?.person.id === now?.person.id &&
    degreeIn(then?.wording) === degreeIn(now?.wording) &&
    Math.abs((then?.share ?? 0) - (now?.share ?? 0)) < SAME_SHARE;
  const changes: LotChange[] = same
    ? []
    : [{ change: 'leader', mark: after.id, text: after.text, before: then, after: now }];
  const rivals = ({ candidates }: LotMark): PersonName[] => candidates?.candidates.map(({ person }) => person) ?? [];
  return [
    ...changes,
    ...listChanges(rivals(before), rivals(after), ({ id }) => id).map(
      ({ isNew, value }): LotChange => ({
        change: isNew ? 'rival-added' : 'rival-gone',
        text: after.text,
        person: value,
      }),
    ),
  ];
}

const leaderOf = ({ candidates }: LotMark): LeaderFigures | null => {
  const leader: CandidateAnswer | undefined = candidates?.candidates[0];
  return leader === undefined ? null : { person: leader.person, share: leader.share, wording: leader.wording };
};

function ownChanges(before: LotReport, after: LotReport): LotChange[] {
  const key = ({ mark, person, grade, why }: LotReport['attributions'][number]): string =>
    JSON.stringify([mark, person.id, grade, why]);
  return listChanges(before.attributions, after.attributions, key).map(({ isNew, value }) => ({
    change: isNew ? 'own-added' : 'own-gone',
    text: (isNew ? after : before).marks.find(({ id }) => id === value.mark)?.text ?? value.mark,
    person: value.person,
  }));
}

function holdersChange(before: LotReport, after: LotReport): LotChange[] {
  const figures = ({ provenance }: LotReport): HolderFigures[] =>
    (provenance?.chains[0]?.holders ?? []).map(({ person }) => ({
      person,
      wording: provenance?.holders.find((each) => each.person?.id === person?.id)?.wording ?? null,
    }));
  const [then, now] = [figures(before), figures(after)];
  const told = (list: readonly HolderFigures[]): string =>
    JSON.stringify(list.map(({ person, wording }) => [person?.id, degreeIn(wording)]));
  return told(then) === told(now) ? [] : [{ change: 'holders', before: then, after: now }];
}

/** A record that both reports rest on and that says something else now; and searches that one of them knows. */
function citationChanges(before: LotReport, after: LotReport): LotChange[] {
  const changed = Object.values(after.citations).flatMap((now): LotChange[] => {
    const then = before.citations[now.id];
    if (then === undefined || now.kind === 'feature' || now.kind === 'mark') return [];
    return JSON.stringify(then) === JSON.stringify(now) ? [] : [{ change: 'citation', before: then, after: now }];
  });
  const searches = listChanges(before.searches, after.searches, (id) => id).flatMap(({ isNew, value }): LotChange[] => {
    const search = (isNew ? after : before).citations[value];
    return search === undefined ? [] : [{ change: isNew ? 'search-added' : 'search-gone', search }];
  });
  return [...changed, ...searches];
}

function assumptionChanges(before: LotReport, after: LotReport): LotChange[] {
  const names = new Set([...Object.keys(before.about.assumptions), ...Object.keys(after.about.assumptions)]);
  return [...names].flatMap((name): LotChange[] => {
    const [then, now] = [before.about.assumptions[name] ?? null, after.about.assumptions[name] ?? null];
    return then === now ? [] : [{ change: 'assumption', name, before: then, after: now }];
  });
}

/** What only one of two lists holds, by a key: first what is gone, then what is new. */
function listChanges<T>(
  before: readonly T[],
  after: readonly T[],
  keyOf: (value: T) => string,
): { readonly isNew: boolean; readonly value: T }[] {
  const then = new Set(before.map(keyOf));
  const now = new Set(after.map(keyOf));
  return [
    ...before.filter((value) => !now.has(keyOf(value))).map((value) => ({ isNew: false, value })),
    ...after.filter((value) => !then.has(keyOf(value))).map((value) => ({ isNew: true, value })),
  ];
}
