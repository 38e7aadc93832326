import type { Share } from '../attribution/candidates.ts';
import { gradeOf, isConclusion } from '../attribution/wording.ts';
import { HeldbyError } from '../errors.ts';
import { kindNamed } from '../ledger/kinds.ts';
import { objectById } from '../ledger/marks.ts';
import { personName, samePeople } from '../ledger/people.ts';
import { resolveRef } from '../ledger/refs.ts';
import { alignment } from '../names/alignment.ts';
import type { MarkParts } from '../names/mark-parts.ts';
import { limitBits, patternFrom } from '../names/pattern.ts';
import type { CandidateAnswer } from './candidates.ts';
import { spanInAnswer } from './days.ts';
import { provisionalInWords, standsGrounds, standsInWords, wordingGrounds } from './grounds-conclusions.ts';
import { contradictionGrounds } from './grounds-contradictions.ts';
import { type MarkSubject, markGrounds } from './grounds-mark-subject.ts';
import { featureGrounds, horizonGround } from './grounds-objects.ts';
import { postInWords, type Reckoned, type SolvedPerson, solvedPerson, tenureGround } from './grounds-tenures.ts';
import { type Ground, type GroundsReader, ground, note, percent, spanInWords, weightText } from './grounds-tree.ts';
import { ofRoles, unrecordedFigure } from './grounds-unrecorded.ts';

/** When a mark was put on. */
export function windowFigure(subject: MarkSubject): Reckoned {
  const { mark, words, between, days, object, reader, read, db, id, called } = subject;
  const { marking, clues } = days;
  const value = spanInAnswer(marking.window);
  if (between !== undefined)
    return {
      value,
      says: `${called} was put on ${spanInWords(value)}, as the question has it`,
      grounds: [note('whatever else is known of its days was left out: --between')],
    };
  const stated = mark === undefined || mark.made_id === null ? undefined : read.date(mark.made_id);
  const own: Ground[] = [
    ...(stated === undefined || id === null ? [] : [reader.claim(id, `the mark is dated ${stated.text}`)]),
    ...clues.map((clue) => reader.record(clue.id)),
    ...(id === null
      ? []
      : contradictionGrounds(db, id, (each) => each === id || clues.some((clue) => clue.id === each), reader)),
  ];
  if (marking.windowIs === 'stated')
    return { value, says: `“${words.text}” was put on ${spanInWords(value)}, by its own date`, grounds: own };
  return {
    value,
    says: `“${words.text}” was put on ${spanInWords(value)}: the shortest span that holds 95 % of the days reckoned`,
    grounds: [
      ...own,
      ...delayGrounds(subject),
      mark === undefined || object === undefined
        ? ground('note', 'nothing is known of the making of what bears it', null, [reader.assumption('horizon')])
        : ground('figure', 'the making of the object', `o${mark.object_id}`, [
            ...featureGrounds(object, reader),
            horizonGround(objectById(db, mark.object_id), object, reader),
          ]),
    ],
  };
}

function delayGrounds({ roles, reader }: MarkSubject): Ground[] {
  const names = roles.flatMap(({ role }) => {
    if (role === 'maker' || role === 'retailer') return ['delay.trade'];
    return role === 'owner' ? ['delay.owner.soon', 'delay.owner.late', 'delay.owner.soon.share'] : ['delay.later'];
  });
  return [...new Set(names)].map((name) => reader.assumption(name));
}

export const CANDIDATE_FIGURES = {
  share: 'the share of a candidate',
  standing: 'by what right a candidate bore the rank',
  bits: 'the disagreement between the mark and a candidate, part by part',
  possibleOverlap: 'days of the mark on which a candidate can have been in post',
  certainOverlap: 'days of the mark on which a candidate certainly was',
  relations: 'how the tenure can lie to the days of the mark',
  markedBetween: 'when the mark was put on, if by this candidate',
  readAs: 'the reading of the mark that agrees with a candidate best',
  hangsOn: 'records without which the conclusion on a candidate does not stand',
  robust: 'whether it stands without any one record',
  provisional: 'whether it rests on a choice among contradicting records',
  wording: 'how firmly it may be put',
} as const;
export type CandidateFigure = keyof typeof CANDIDATE_FIGURES;

const BY_RIGHT: Readonly<Record<Share['standing'], string>> = {
  'in-post': 'in post',
  brevet: 'by brevet',
  implied: 'in a post that is not recorded, but follows from the ranks around it',
  courtesy: 'by courtesy, after leaving the post',
};

/** Whose figure is asked for; the leader where nobody is named. */
function candidateAsked(subject: MarkSubject, words: string | undefined): Share {
  const { shares, db, called, id } = subject;
  if (words === undefined) {
    const [leader] = shares.ranked;
    if (leader !== undefined) return leader;
    throw new HeldbyError(
      'REFERENCE',
      `Nobody recorded fits ${called}.`,
      `See: heldby candidates ${id ?? '--text WORDS'}`,
    );
  }
  const found = resolveRef(db, kindNamed('person'), words);
  const person = `p${samePeople(db)(found)[0] ?? found}`;
  const share = shares.ranked.find((each) => each.person === person);
  if (share === undefined)
    throw new HeldbyError(
      'REFERENCE',
      `${personName(db, found).name} is no candidate for ${called}.`,
      `See who is: heldby candidates ${id ?? '--text WORDS'}`,
    );
  return share;
}

/** A figure of one candidate for a mark. */
export function candidateFigure(subject: MarkSubject, figure: CandidateFigure, words: string | undefined): Reckoned {
  const share = candidateAsked(subject, words);
  const { id, shares, reader } = subject;
  const position = shares.ranked.indexOf(share) + 1;
  const tried = figure === 'hangsOn' || figure === 'robust' || figure === 'wording' ? position : 0;
  const answer = subject.candidates({ tried, wanted: position });
  const candidate = answer.candidates[position - 1] as CandidateAnswer;
  const name = candidate.person.name;
  const concluded = isConclusion(gradeOf(candidate.share, candidate.provisional, subject.assumptions));
  const window = (): Ground => asGround(windowFigure(subject), id);
  const posts = (): Ground[] => postGrounds(subject, share);
  switch (figure) {
    case 'share':
      return {
        value: candidate.share,
        says: `${name} has a share of ${percent(candidate.share)}: a weight of ${weightText(share.weight)} of ${weightText(shares.total)} in all${ofRoles(subject)}`,
        grounds: [
          ...roleGrounds(subject),
          ...agreementGrounds(subject, share),
          window(),
          ...posts(),
          ...rivalGrounds(subject, share),
          asGround(unrecordedFigure(subject, 'unrecorded'), null),
        ],
      };
    case 'standing':
      return {
        value: candidate.standing,
        says: `${name} bore the rank ${BY_RIGHT[share.standing]}`,
        grounds: posts(),
      };
    case 'bits':
      return {
        value: candidate.bits,
        says: `${name} disagrees by ${total(candidate.bits)} bits: a factor of ${weightText(2 ** -total(candidate.bits))}`,
        grounds: agreementGrounds(subject, share),
      };
    case 'possibleOverlap':
    case 'certainOverlap': {
      const overlap = candidate[figure];
      const how = figure === 'possibleOverlap' ? 'can have been' : 'certainly was';
      return {
        value: overlap,
        says:
          overlap === null
            ? `on no day of the mark ${name} ${how} in post`
            : `${name} ${how} in post on ${overlap.days} days of the mark, ${spanInWords(overlap)}`,
        grounds: [window(), ...posts()],
      };
    }
    case 'relations':
      return {
        value: candidate.relations,
        says: `of the tenure of ${name} and the days of the mark can hold: ${candidate.relations.join(', ') || 'nothing'}`,
        grounds: [window(), ...posts()],
      };
    case 'markedBetween':
      return {
        value: candidate.markedBetween,
        says: `if ${name} put the mark on, it was ${spanInWords(candidate.markedBetween)} (95 %)`,
        grounds: [window(), ...agreementGrounds(subject, share), ...posts()],
      };
    case 'readAs':
      return {
        value: candidate.readAs,
        says: `${name} agrees best with “${readingOf(subject, share).text}”`,
        grounds: agreementGrounds(subject, share),
      };
    case 'hangsOn':
    case 'robust':
      return {
        value: candidate[figure],
        says: standsInWords(name, candidate.hangsOn),
        grounds: standsGrounds(candidate.hangsOn, reader),
      };
    case 'provisional':
      return {
        value: candidate.provisional,
        says: provisionalInWords(name, candidate.provisional),
        grounds: posts(),
      };
    case 'wording':
      return {
        value: candidate.wording,
        says: `${name}: ${candidate.wording}`,
        grounds: wordingGrounds({ ...candidate, hangsOn: concluded ? candidate.hangsOn : [] }, reader),
      };
  }
}

/** Where the role of the mark is uncertain: which roles it can have. */
function roleGrounds({ roles: weights, id, reader }: MarkSubject): Ground[] {
  if (weights.length === 1) return [];
  const roles = weights.map(({ role, weight }) => `${role} ${percent(weight)}`).join(', ');
  return [ground('note', `the role of the mark is uncertain: ${roles}`, id, markGrounds({ id, reader }))];
}

const readingOf = ({ question: { readings } }: Pick<MarkSubject, 'question'>, { reading }: Share) =>
  readings.find(({ id }) => id === reading) ?? readings[0];

/** How the words of the mark, as they are best read for a candidate, agree with the name, rank, corps and place. */
function agreementGrounds({ question, assumptions, reader, days }: MarkSubject, share: Share): Ground[] {
  const { readings } = question;
  const { bits } = share;
  const reading = readingOf({ question }, share);
  const { parts } = reading;
  const grounds: Ground[] = [];
  if (readings.length > 1)
    grounds.push(
      ground('note', `read as “${reading.text}”, one of ${readings.length} readings that count alike`, reading.id, [
        reader.record(reading.id),
      ]),
    );
  grounds.push(...surnameGrounds({ question, assumptions, reader, days }, share.person, parts, bits.surname));
  const other: readonly (readonly [part: 'forenames' | 'rank' | 'corps' | 'place', said: string | undefined])[] = [
    ['forenames', parts.forenames],
    ['rank', parts.rank?.text],
    ['corps', parts.corps],
    ['place', parts.place],
  ];
  for (const [part, said] of other) {
    if (said === undefined) continue;
    const assumed = reasonsOfPart(part, bits[part], share.standing, reader);
    grounds.push(ground('note', `${part}: “${said}”, ${bits[part]} bits`, null, assumed));
  }
  return grounds;
}

/** How a surname that was read agrees with a name of a person, letter by letter: the one that costs so many bits. */
export function surnameGrounds(
  { question, assumptions, reader, days }: Pick<MarkSubject, 'question' | 'assumptions' | 'reader' | 'days'>,
  person: string,
  parts: MarkParts,
  bits: number | undefined,
): Ground[] {
  if (parts.surname === undefined) return [];
  const pattern = patternFrom(parts.surname);
  const options = { elementBits: assumptions.values['agree.element'], limitBits: limitBits(pattern, assumptions) };
  const window = days.marking.window;
  const aligned = (question.known.get(person)?.names ?? []).flatMap((name) => {
    const found = alignment(pattern, name.surname, options);
    const inUse = name.inUse.from < window.until && window.from < name.inUse.until;
    return found === undefined ? [] : [{ name, found, inUse }];
  });
  const least = bits ?? Math.min(...aligned.map(({ found }) => found.bits));
  const fitting = aligned.filter(({ found }) => found.bits === least);
  const best = fitting.find(({ inUse }) => inUse) ?? fitting[0];
  if (best === undefined) return [];
  const steps = best.found.steps
    .filter((step) => step.bits > 0)
    .map((step) => note(`${step.reading || '–'} read for ${step.name || '–'}: ${step.bits} bits, ${step.reason}`));
  const { name, found } = best;
  return [
    ground('note', `surname: “${parts.surname}” for ${name.surname}, ${found.bits} bits`, name.id, [
      ...steps,
      reader.record(name.id),
    ]),
  ];
}

function reasonsOfPart(
  part: 'forenames' | 'rank' | 'corps' | 'place',
  bits: number,
  standing: Share['standing'],
  reader: GroundsReader,
): Ground[] {
  if (bits === 0) return [];
  if (part === 'rank') return standing === 'in-post' ? [] : [reader.assumption(`agree.rank.${standing}`)];
  if (part === 'forenames')
    return [
      'agree.forenames.later',
      'agree.forenames.contradict',
      'unknown.initial',
      'unknown.first',
      'unknown.later',
    ].map((name) => reader.assumption(name));
  return [`agree.${part}.unknown`, `agree.${part}.differs`].map((name) => reader.assumption(name));
}

/** The tenures in which a candidate can have borne the rank, each with its bounds. */
function postGrounds(subject: MarkSubject, share: Share): Ground[] {
  const { reader } = subject;
  const solved = solvedPerson(subject.db, subject.read, Number(share.person.slice(1)), subject.assumptions);
  return [
    ...share.input.posts.map((post) => postGround(solved, post.id, post.standing, reader)),
    reader.forRank('tenure.mean', share.rank),
  ];
}

function postGround(solved: SolvedPerson, id: string | undefined, standing: string, reader: GroundsReader): Ground {
  const place = /\.(\d+)(-below)?$/.exec(id ?? '');
  const tenure = place === null ? undefined : solved.career.tenures[Number(place[1]) - 1];
  if (tenure !== undefined && place?.[2] === undefined) return tenureGround(solved, tenure, reader);
  if (tenure !== undefined)
    return ground(
      'rule',
      `implied: nobody begins as ${postInWords(tenure)}, so the rank below it was held before`,
      id ?? null,
      [reader.assumption('minimum.age'), tenureGround(solved, tenure, reader)],
    );
  const posts = solved.career.tenures.filter(({ implied }) => !implied);
  const last = posts[posts.length - 1];
  if (standing === 'courtesy')
    return ground('rule', 'the style is kept as a courtesy from the end of the last post to death', null, [
      reader.assumption('courtesy.mean'),
      ...(last === undefined ? [] : [tenureGround(solved, last, reader)]),
    ]);
  return ground('rule', 'the mark names no rank: the adult life of the person, as far as known', null, [
    reader.assumption('minimum.age'),
    reader.assumption('person.before'),
    reader.assumption('person.after'),
    ...posts.map((tenure) => tenureGround(solved, tenure, reader)),
  ]);
}

const MOST_RIVALS = 10;

function rivalGrounds({ shares, db, namesHolder }: MarkSubject, share: Share): Ground[] {
  const others = shares.ranked.filter((each) => each !== share);
  if (others.length === 0) return [note('nobody else recorded fits')];
  const named = others
    .slice(0, MOST_RIVALS)
    .map((each) => ({ each, name: personName(db, Number(each.person.slice(1))).name }));
  const rest = others.slice(MOST_RIVALS);
  return [
    ground('note', `${others.length === 1 ? '1 other candidate' : `${others.length} other candidates`}`, null, [
      ...named.map(({ each, name }) =>
        ground(
          'figure',
          `${name}: ${percent(each.share * namesHolder)}, a weight of ${weightText(each.weight)}`,
          each.person,
          [],
          each.share * namesHolder,
        ),
      ),
      ...(rest.length === 0
        ? []
        : [
            note(
              `and ${rest.length} more, together ${percent(rest.reduce((sum, each) => sum + each.share * namesHolder, 0))}`,
            ),
          ]),
    ]),
  ];
}

export const asGround = ({ says, grounds, value }: Reckoned, id: string | null): Ground =>
  ground('figure', says, id, grounds, value);

const total = (bits: CandidateAnswer['bits']): number =>
  bits.surname + bits.forenames + bits.rank + bits.corps + bits.place;
