import type { PersonName } from '../ledger/people.ts';
import type { About } from './about.ts';
import type { CandidatesAnswer } from './candidates.ts';
import type { Days, MadeAnswer, MakingAnswer, MarkWindowAnswer } from './made.ts';
import type { ProvenanceAnswer } from './provenance.ts';
import type { Citation } from './report-citations.ts';
import type { SaidDate } from './report-dates.ts';
import type { OpenItem } from './report-reasons.ts';
import type { TenureAnswer } from './tenures.ts';

export type { PersonName };

/** A mark with everything that print says of it. */
export type LotMark = Days & {
  readonly id: string;
  readonly key: string | null;
  readonly text: string;
  readonly role: string;
  readonly technique: string | null;
  readonly where: string | null;
  /** The date that the mark itself bears. */
  readonly stated: SaidDate | null;
  readonly windowIs: 'stated' | 'reckoned';
  /** The mark that lies beneath it. */
  readonly over: string | null;
  readonly beforeMaking: boolean;
  readonly readings: readonly { readonly id: string; readonly text: string; readonly by: string | null }[];
  /** Datable wordings of it that the researcher confirmed. */
  readonly clues: readonly (MarkWindowAnswer['clues'][number] & { readonly why: string | null })[];
  readonly photos: readonly { readonly id: string; readonly file: string }[];
  /** Null where the mark names no holder. */
  readonly candidates: CandidatesAnswer | null;
};

/** Somebody of whom print speaks. */
export type LotPerson = PersonName & {
  readonly born: SaidDate | null;
  readonly died: SaidDate | null;
  readonly places: readonly string[];
  /** The names they bore, the recorded one first, with the days of use. */
  readonly names: readonly (Days & { readonly id: string; readonly name: string })[];
  readonly tenures: readonly TenureAnswer[];
  /** Records left out because they contradict others: what each says, and one that speaks against it. */
  readonly leftOut: readonly { readonly claim: string; readonly against: string }[];
  /** May be living on the day of the ledger, so that nothing of them should be printed unasked. */
  readonly mayBeLiving: boolean;
};

export type LotAttribution = {
  readonly id: string;
  readonly mark: string;
  readonly person: PersonName;
  readonly grade: string | null;
  readonly why: string | null;
};

export type LotFacts = {
  readonly object: MadeAnswer['object'] & { readonly note: string | null };
  readonly photos: readonly { readonly id: string; readonly file: string }[];
  readonly made: Omit<MadeAnswer, 'object' | 'years' | 'withMarks'> & {
    readonly withMarks: (Omit<MakingAnswer, 'years'> & Pick<NonNullable<MadeAnswer['withMarks']>, 'marks'>) | null;
  };
  readonly marks: readonly LotMark[];
  /** The researcher's own conclusions. */
  readonly attributions: readonly LotAttribution[];
  /** Null where no mark names a holder. */
  readonly provenance: Omit<ProvenanceAnswer, 'object'> | null;
  readonly people: Readonly<Record<string, LotPerson>>;
  /** Searches in the lists that bear on the people named. */
  readonly searches: readonly string[];
  /** What a footnote says of each record that the report rests on, by its id. */
  readonly citations: Readonly<Record<string, Citation>>;
  readonly cautions: readonly string[];
};

/** Everything that print says of one object; words for it are chosen by the house style. */
export type LotReport = LotFacts & {
  readonly open: readonly OpenItem[];
  /** `date`: the day of the ledger's act, not of the clock. */
  readonly about: About & { readonly date: string };
};
